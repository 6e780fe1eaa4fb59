"""Keep acts of the office, let deletions through that are meant, and say how long classes are kept."""

import sqlalchemy as sa
from alembic import op

revision = "0011"
down_revision = "0010"
branch_labels = None
depends_on = None

NEVER_AGAIN = ("people", "classes", "assignments", "submissions", "jobs")
"""Tables whose numbers are not given a second time: a record that names a number means one row for ever."""


def upgrade() -> None:
    op.create_table(
        "acts",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=True),
        sa.Column("what", sa.String(length=40), nullable=False),
        sa.Column("about", sa.String(length=12), nullable=False),
        sa.Column("about_id", sa.Integer(), nullable=False),
        sa.Column("word", sa.String(length=80), nullable=False),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("ix_acts_at", "acts", ["at"])
    op.create_table(
        "under_deletion",
        sa.Column("table_name", sa.String(length=40), nullable=False),
        sa.Column("row_id", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("table_name", "row_id"),
    )
    op.create_table(
        "gone_orders",
        sa.Column("job_id", sa.Integer(), nullable=False, autoincrement=False),
        sa.Column("at", sa.DateTime(), nullable=False),
        sa.PrimaryKeyConstraint("job_id"),
    )
    op.add_column("schools", sa.Column("keep_months", sa.Integer(), nullable=True))
    op.add_column("schools", sa.Column("year_begins", sa.Integer(), nullable=False, server_default=sa.text("8")))
    op.add_column("schools", sa.Column("tidy_at", sa.DateTime(), nullable=True))
    op.add_column("classes", sa.Column("made_at", sa.DateTime(), nullable=True))
    op.add_column("classes", sa.Column("warned_at", sa.DateTime(), nullable=True))
    op.execute("UPDATE classes SET made_at = CURRENT_TIMESTAMP")
    with op.batch_alter_table("classes") as table:
        table.alter_column("made_at", existing_type=sa.DateTime(), nullable=False)
    with op.batch_alter_table("notices") as table:
        table.add_column(sa.Column("person_id", sa.Integer(), nullable=True))
        table.create_foreign_key("notices_person_id_fkey", "people", ["person_id"], ["id"])
    op.create_index("ix_changes_at", "changes", ["at"])
    if op.get_bind().dialect.name == "sqlite":
        for name in NEVER_AGAIN:
            with op.batch_alter_table(name, recreate="always", table_kwargs={"sqlite_autoincrement": True}):
                pass
        _guard_on_sqlite(meant=True)
        op.execute("CREATE TRIGGER acts_update BEFORE UPDATE ON acts BEGIN SELECT RAISE(ABORT, 'acts are kept'); END")
        op.execute("CREATE TRIGGER acts_delete BEFORE DELETE ON acts BEGIN SELECT RAISE(ABORT, 'acts are kept'); END")
    else:
        _guard_on_postgresql(meant=True)
        op.execute(
            "CREATE FUNCTION acts_are_kept() RETURNS trigger AS $$ "
            "BEGIN RAISE EXCEPTION 'acts are kept'; END $$ LANGUAGE plpgsql"
        )
        op.execute(
            "CREATE TRIGGER acts_kept BEFORE UPDATE OR DELETE ON acts FOR EACH ROW EXECUTE FUNCTION acts_are_kept()"
        )


def _guard_on_sqlite(meant: bool) -> None:
    """The triggers refer to no table that a later revision may have to copy, only to the small one of deletions."""
    for name, said in (("changes", "changes of marks are kept as they are"), ("versions", "versions are kept as they are")):
        unless = (
            f"WHEN NOT EXISTS (SELECT 1 FROM under_deletion WHERE table_name = '{name}' AND row_id = OLD.id) "
            if meant
            else ""
        )
        op.execute(f"DROP TRIGGER {name}_delete")
        op.execute(
            f"CREATE TRIGGER {name}_delete BEFORE DELETE ON {name} {unless}BEGIN SELECT RAISE(ABORT, '{said}'); END"
        )


def _guard_on_postgresql(meant: bool) -> None:
    for name, said in (("changes", "changes of marks are kept as they are"), ("versions", "versions are kept as they are")):
        let_through = (
            "IF TG_OP = 'DELETE' AND EXISTS (SELECT 1 FROM under_deletion "
            f"WHERE table_name = '{name}' AND row_id = OLD.id) THEN RETURN OLD; END IF; "
            if meant
            else ""
        )
        op.execute(
            f"CREATE OR REPLACE FUNCTION {name}_are_kept() RETURNS trigger AS $$ "
            f"BEGIN {let_through}RAISE EXCEPTION '{said}'; END $$ LANGUAGE plpgsql"
        )


def downgrade() -> None:
    if op.get_bind().dialect.name == "sqlite":
        _guard_on_sqlite(meant=False)
    else:
        _guard_on_postgresql(meant=False)
    op.drop_index("ix_changes_at", "changes")
    with op.batch_alter_table("notices") as table:
        table.drop_constraint("notices_person_id_fkey", type_="foreignkey")
        table.drop_column("person_id")
    op.drop_column("classes", "warned_at")
    op.drop_column("classes", "made_at")
    for name in ("tidy_at", "year_begins", "keep_months"):
        op.drop_column("schools", name)
    for name in ("gone_orders", "under_deletion", "acts"):
        op.drop_table(name)
    if op.get_bind().dialect.name != "sqlite":
        op.execute("DROP FUNCTION acts_are_kept")
