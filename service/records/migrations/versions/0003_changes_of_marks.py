"""Keep every change of a mark, and whether a student may see it."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None

KEPT = ("corrections", "comments", "places")

ON_SQLITE = """
CREATE TRIGGER changes_{what} BEFORE {what} ON changes
BEGIN SELECT RAISE(ABORT, 'changes of marks are kept as they are'); END
"""
ON_POSTGRESQL = (
    """
CREATE FUNCTION changes_are_kept() RETURNS trigger AS $$
BEGIN RAISE EXCEPTION 'changes of marks are kept as they are'; END
$$ LANGUAGE plpgsql
""",
    "CREATE TRIGGER changes_kept BEFORE UPDATE OR DELETE ON changes FOR EACH ROW EXECUTE FUNCTION changes_are_kept()",
)


def upgrade() -> None:
    with op.batch_alter_table("assignments") as table:
        table.add_column(sa.Column("release_by_hand", sa.Boolean(), nullable=False, server_default=sa.false()))
    with op.batch_alter_table("submissions") as table:
        for name in KEPT:
            table.add_column(sa.Column(name, sa.JSON(), nullable=False, server_default=sa.text("'{}'")))
        table.add_column(sa.Column("held", sa.Boolean(), nullable=False, server_default=sa.false()))
        table.add_column(sa.Column("given_at", sa.DateTime(), nullable=True))
    op.execute("UPDATE submissions SET given_at = marked_at")
    op.create_table(
        "changes",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("submission_id", sa.Integer(), nullable=False),
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(), nullable=False),
        sa.Column("what", sa.String(length=40), nullable=False),
        sa.Column("criterion", sa.String(length=200), nullable=False),
        sa.Column("before", sa.Text(), nullable=False),
        sa.Column("after", sa.Text(), nullable=False),
        sa.Column("why", sa.Text(), nullable=False),
        sa.Column("total_before", sa.Double(), nullable=True),
        sa.Column("total_after", sa.Double(), nullable=True),
        sa.Column("told", sa.Boolean(), nullable=False),
        sa.ForeignKeyConstraint(["submission_id"], ["submissions.id"]),
        sa.ForeignKeyConstraint(["person_id"], ["people.id"]),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("ix_changes_submission_id", "changes", ["submission_id"])
    _keep()


def _keep() -> None:
    if op.get_bind().dialect.name == "sqlite":
        for what in ("UPDATE", "DELETE"):
            op.execute(ON_SQLITE.format(what=what))
    else:
        for statement in ON_POSTGRESQL:
            op.execute(statement)


def downgrade() -> None:
    op.drop_table("changes")
    if op.get_bind().dialect.name != "sqlite":
        op.execute("DROP FUNCTION changes_are_kept")
    with op.batch_alter_table("submissions") as table:
        for name in (*KEPT, "held", "given_at"):
            table.drop_column(name)
    with op.batch_alter_table("assignments") as table:
        table.drop_column("release_by_hand")
