"""Keep every version of a brief and rubric, and name the one that marks were made under."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None

KEPT = ("brief", "rubric", "brief_text", "rubric_text", "drawing", "par_wood_g")


def upgrade() -> None:
    op.create_table(
        "versions",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("assignment_id", sa.Integer(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("brief", sa.JSON(), nullable=False),
        sa.Column("rubric", sa.JSON(), nullable=False),
        sa.Column("brief_text", sa.Text(), nullable=False),
        sa.Column("rubric_text", sa.Text(), nullable=False),
        sa.Column("why", sa.String(length=600), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=True),
        sa.Column("made_at", sa.DateTime(), nullable=False),
        sa.Column("drawing", sa.JSON(), nullable=True),
        sa.Column("par_wood_g", sa.Double(), nullable=True),
        sa.ForeignKeyConstraint(["assignment_id"], ["assignments.id"]),
        sa.ForeignKeyConstraint(["by_id"], ["people.id"]),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("assignment_id", "number"),
    )
    columns = ", ".join(KEPT)
    op.execute(
        f"INSERT INTO versions (assignment_id, number, why, made_at, {columns}) "
        f"SELECT id, 1, '', CURRENT_TIMESTAMP, {columns} FROM assignments ORDER BY id"
    )
    with op.batch_alter_table("submissions") as table:
        table.add_column(sa.Column("version_id", sa.Integer(), nullable=True))
    op.execute(
        "UPDATE submissions SET version_id = "
        "(SELECT id FROM versions WHERE versions.assignment_id = submissions.assignment_id)"
    )
    with op.batch_alter_table("submissions") as table:
        table.alter_column("version_id", existing_type=sa.Integer(), nullable=False)
        table.create_foreign_key("submissions_version_id_fkey", "versions", ["version_id"], ["id"])
        table.create_index("ix_submissions_version_id", ["version_id"])
    with op.batch_alter_table("assignments") as table:
        for name in KEPT:
            table.drop_column(name)
    _keep()


def _keep() -> None:
    """What was asked and how it was marked can be asked about years later."""
    fixed = ", ".join(("assignment_id", "number", "why", "by_id", "made_at", *KEPT[:4]))
    if op.get_bind().dialect.name == "sqlite":
        for name, what in (("update", f"UPDATE OF {fixed}"), ("delete", "DELETE")):
            op.execute(
                f"CREATE TRIGGER versions_{name} BEFORE {what} ON versions "
                "BEGIN SELECT RAISE(ABORT, 'versions are kept as they are'); END"
            )
        return
    op.execute(
        "CREATE FUNCTION versions_are_kept() RETURNS trigger AS $$ "
        "BEGIN RAISE EXCEPTION 'versions are kept as they are'; END $$ LANGUAGE plpgsql"
    )
    op.execute(
        f"CREATE TRIGGER versions_kept BEFORE UPDATE OF {fixed} OR DELETE ON versions "
        "FOR EACH ROW EXECUTE FUNCTION versions_are_kept()"
    )


def downgrade() -> None:
    with op.batch_alter_table("assignments") as table:
        for name, kind in zip(KEPT, (sa.JSON, sa.JSON, sa.Text, sa.Text, sa.JSON, sa.Double)):
            table.add_column(sa.Column(name, kind(), nullable=True))
    for name in KEPT:
        op.execute(
            f"UPDATE assignments SET {name} = (SELECT {name} FROM versions WHERE versions.assignment_id = "
            "assignments.id ORDER BY number DESC LIMIT 1)"
        )
    with op.batch_alter_table("assignments") as table:
        for name in KEPT[:4]:
            table.alter_column(name, existing_type=sa.JSON() if "text" not in name else sa.Text(), nullable=False)
    with op.batch_alter_table("submissions") as table:
        table.drop_constraint("submissions_version_id_fkey", type_="foreignkey")
        table.drop_index("ix_submissions_version_id")
        table.drop_column("version_id")
    op.drop_table("versions")
    if op.get_bind().dialect.name != "sqlite":
        op.execute("DROP FUNCTION versions_are_kept")
