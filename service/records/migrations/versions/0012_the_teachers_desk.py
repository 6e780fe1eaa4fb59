"""Keep extensions, who handed in, classes put away, aliases asked for and browsers known; let a notice have no class."""

import sqlalchemy as sa
from alembic import op

revision = "0012"
down_revision = "0011"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "extensions",
        sa.Column("assignment_id", sa.Integer(), nullable=False),
        sa.Column("student_id", sa.Integer(), nullable=False),
        sa.Column("due", sa.DateTime(), nullable=False),
        sa.Column("why", sa.String(length=300), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("made_at", sa.DateTime(), nullable=False),
        sa.ForeignKeyConstraint(["assignment_id"], ["assignments.id"]),
        sa.ForeignKeyConstraint(["student_id"], ["people.id"]),
        sa.ForeignKeyConstraint(["by_id"], ["people.id"]),
        sa.PrimaryKeyConstraint("assignment_id", "student_id"),
    )
    op.create_index("ix_extensions_student_id", "extensions", ["student_id"])
    op.create_table(
        "browsers",
        sa.Column("token_hash", sa.String(length=64), nullable=False),
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("failed_tries", sa.Integer(), nullable=False),
        sa.Column("locked_until", sa.DateTime(), nullable=True),
        sa.Column("seen_at", sa.DateTime(), nullable=False),
        sa.ForeignKeyConstraint(["person_id"], ["people.id"]),
        sa.PrimaryKeyConstraint("token_hash", "person_id"),
    )
    op.create_index("ix_browsers_person_id", "browsers", ["person_id"])
    op.add_column("classes", sa.Column("archived_at", sa.DateTime(), nullable=True))
    op.add_column("people", sa.Column("alias_asked", sa.String(length=40), nullable=True))
    with op.batch_alter_table("submissions", table_kwargs={"sqlite_autoincrement": True}) as table:
        table.add_column(sa.Column("by_id", sa.Integer(), nullable=True))
        table.create_foreign_key("submissions_by_id_fkey", "people", ["by_id"], ["id"])
    with op.batch_alter_table("notices") as table:
        table.alter_column("class_id", existing_type=sa.Integer(), nullable=True)


def downgrade() -> None:
    op.execute("DELETE FROM notices WHERE class_id IS NULL")
    with op.batch_alter_table("notices") as table:
        table.alter_column("class_id", existing_type=sa.Integer(), nullable=False)
    with op.batch_alter_table("submissions", table_kwargs={"sqlite_autoincrement": True}) as table:
        table.drop_constraint("submissions_by_id_fkey", type_="foreignkey")
        table.drop_column("by_id")
    op.drop_column("people", "alias_asked")
    op.drop_column("classes", "archived_at")
    op.drop_table("browsers")
    op.drop_table("extensions")
