"""Keep contests: rules, entries, stations, raw readings, rulings, protests, lists that were published, records."""

import sqlalchemy as sa
from alembic import op

revision = "0014"
down_revision = "0013"
branch_labels = None
depends_on = None

KEPT = ("contest_readings", "contest_rules", "contest_publications")
"""Tables whose rows are never changed, nor deleted but with the pupil they are about."""


def upgrade() -> None:
    op.create_table(
        "school_records",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("contest_id", sa.Integer(), nullable=True),
        sa.Column("year", sa.Integer(), nullable=False),
        sa.Column("contest_title", sa.String(length=200), nullable=False),
        sa.Column("division", sa.String(length=40), nullable=False),
        sa.Column("alias", sa.String(length=40), nullable=False),
        sa.Column("efficiency", sa.Double(), nullable=False),
        sa.Column("load_N", sa.Double(), nullable=True),
        sa.Column("mass_g", sa.Double(), nullable=True),
        sa.ForeignKeyConstraint(["contest_id"], ["contests.id"]),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("ix_school_records_contest_id", "school_records", ["contest_id"])
    op.create_table(
        "contest_rules",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("contest_id", sa.Integer(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("rules", sa.JSON(), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("why", sa.String(length=600), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=True),
        sa.Column("made_at", sa.DateTime(), nullable=False),
        sa.ForeignKeyConstraint(["contest_id"], ["contests.id"]),
        sa.ForeignKeyConstraint(["by_id"], ["people.id"]),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("contest_id", "number"),
    )
    op.create_table(
        "contest_stations",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("contest_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(length=12), nullable=False),
        sa.Column("name", sa.String(length=40), nullable=False),
        sa.Column("opened_at", sa.DateTime(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("confirmed", sa.JSON(), nullable=False),
        sa.Column("testing", sa.Integer(), nullable=True),
        sa.Column("closed_at", sa.DateTime(), nullable=True),
        sa.ForeignKeyConstraint(["contest_id"], ["contests.id"]),
        sa.ForeignKeyConstraint(["by_id"], ["people.id"]),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("ix_contest_stations_contest_id", "contest_stations", ["contest_id"])
    op.create_table(
        "contest_publications",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("contest_id", sa.Integer(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("rules_id", sa.Integer(), nullable=False),
        sa.Column("lines", sa.JSON(), nullable=False),
        sa.Column("notice", sa.String(length=1000), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(), nullable=False),
        sa.ForeignKeyConstraint(["contest_id"], ["contests.id"]),
        sa.ForeignKeyConstraint(["rules_id"], ["contest_rules.id"]),
        sa.ForeignKeyConstraint(["by_id"], ["people.id"]),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("contest_id", "number"),
    )
    op.create_table(
        "contest_entries",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("contest_id", sa.Integer(), nullable=False),
        sa.Column("student_id", sa.Integer(), nullable=False),
        sa.Column("submission_id", sa.Integer(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("division", sa.String(length=40), nullable=False),
        sa.Column("age", sa.Integer(), nullable=True),
        sa.Column("predicted", sa.JSON(), nullable=False),
        sa.Column("running", sa.Integer(), nullable=True),
        sa.Column("named_at", sa.DateTime(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=True),
        sa.Column("frozen_at", sa.DateTime(), nullable=True),
        sa.Column("withdrawn_at", sa.DateTime(), nullable=True),
        sa.ForeignKeyConstraint(["contest_id"], ["contests.id"]),
        sa.ForeignKeyConstraint(["student_id"], ["people.id"]),
        sa.ForeignKeyConstraint(["submission_id"], ["submissions.id"]),
        sa.ForeignKeyConstraint(["by_id"], ["people.id"]),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("contest_id", "number"),
        sa.UniqueConstraint("contest_id", "submission_id"),
        sqlite_autoincrement=True,
    )
    op.create_index("ix_contest_entries_student_id", "contest_entries", ["student_id"])
    op.create_index("ix_contest_entries_submission_id", "contest_entries", ["submission_id"])
    op.create_table(
        "contest_confirmations",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("entry_id", sa.Integer(), nullable=False),
        sa.Column("readings", sa.JSON(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(), nullable=False),
        sa.ForeignKeyConstraint(["entry_id"], ["contest_entries.id"]),
        sa.ForeignKeyConstraint(["by_id"], ["people.id"]),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("ix_contest_confirmations_entry_id", "contest_confirmations", ["entry_id"])
    op.create_table(
        "contest_entry_changes",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("entry_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=True),
        sa.Column("what", sa.String(length=40), nullable=False),
        sa.Column("before", sa.String(length=200), nullable=False),
        sa.Column("after", sa.String(length=200), nullable=False),
        sa.Column("why", sa.String(length=600), nullable=False),
        sa.ForeignKeyConstraint(["entry_id"], ["contest_entries.id"]),
        sa.ForeignKeyConstraint(["by_id"], ["people.id"]),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("ix_contest_entry_changes_entry_id", "contest_entry_changes", ["entry_id"])
    op.create_table(
        "contest_protests",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("entry_id", sa.Integer(), nullable=False),
        sa.Column("text", sa.String(length=1000), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(), nullable=False),
        sa.Column("answer", sa.String(length=1000), nullable=False),
        sa.Column("answered_by_id", sa.Integer(), nullable=True),
        sa.Column("answered_at", sa.DateTime(), nullable=True),
        sa.ForeignKeyConstraint(["entry_id"], ["contest_entries.id"]),
        sa.ForeignKeyConstraint(["by_id"], ["people.id"]),
        sa.ForeignKeyConstraint(["answered_by_id"], ["people.id"]),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("ix_contest_protests_entry_id", "contest_protests", ["entry_id"])
    op.create_table(
        "contest_readings",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("entry_id", sa.Integer(), nullable=False),
        sa.Column("station_id", sa.Integer(), nullable=False),
        sa.Column("rules_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(length=8), nullable=False),
        sa.Column("key", sa.String(length=64), nullable=False),
        sa.Column("values", sa.JSON(), nullable=False),
        sa.Column("flagged", sa.Text(), nullable=False),
        sa.Column("undoes_id", sa.Integer(), nullable=True),
        sa.Column("why", sa.String(length=600), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("taken_at", sa.DateTime(), nullable=False),
        sa.Column("at", sa.DateTime(), nullable=False),
        sa.ForeignKeyConstraint(["entry_id"], ["contest_entries.id"]),
        sa.ForeignKeyConstraint(["station_id"], ["contest_stations.id"]),
        sa.ForeignKeyConstraint(["rules_id"], ["contest_rules.id"]),
        sa.ForeignKeyConstraint(["by_id"], ["people.id"]),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("undoes_id"),
        sa.UniqueConstraint("key"),
        sqlite_autoincrement=True,
    )
    op.create_index("ix_contest_readings_entry", "contest_readings", ["entry_id", "kind"])
    op.create_index("ix_contest_readings_station_id", "contest_readings", ["station_id"])
    op.create_table(
        "contest_rulings",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("entry_id", sa.Integer(), nullable=False),
        sa.Column("what", sa.String(length=12), nullable=False),
        sa.Column("why", sa.String(length=600), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(), nullable=False),
        sa.ForeignKeyConstraint(["entry_id"], ["contest_entries.id"]),
        sa.ForeignKeyConstraint(["by_id"], ["people.id"]),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("ix_contest_rulings_entry_id", "contest_rulings", ["entry_id"])
    for name in KEPT:
        _keep(name)


def _keep(name: str) -> None:
    said = f"{name.replace('_', ' ')} are kept as they are"
    if op.get_bind().dialect.name == "sqlite":
        unless = f"WHEN NOT EXISTS (SELECT 1 FROM under_deletion WHERE table_name = '{name}' AND row_id = OLD.id)"
        raises = f"BEGIN SELECT RAISE(ABORT, '{said}'); END"
        op.execute(f"CREATE TRIGGER {name}_update BEFORE UPDATE ON {name} {raises}")
        op.execute(f"CREATE TRIGGER {name}_delete BEFORE DELETE ON {name} {unless} {raises}")
        return
    op.execute(
        f"CREATE FUNCTION {name}_are_kept() RETURNS trigger AS $$ BEGIN "
        f"IF TG_OP = 'DELETE' AND EXISTS (SELECT 1 FROM under_deletion WHERE table_name = '{name}' "
        f"AND row_id = OLD.id) THEN RETURN OLD; END IF; RAISE EXCEPTION '{said}'; END $$ LANGUAGE plpgsql"
    )
    op.execute(
        f"CREATE TRIGGER {name}_kept BEFORE UPDATE OR DELETE ON {name} "
        f"FOR EACH ROW EXECUTE FUNCTION {name}_are_kept()"
    )


def downgrade() -> None:
    for name in (
        "contest_rulings",
        "contest_readings",
        "contest_protests",
        "contest_entry_changes",
        "contest_confirmations",
        "contest_entries",
        "contest_publications",
        "contest_stations",
        "contest_rules",
        "school_records",
    ):
        op.drop_table(name)
    if op.get_bind().dialect.name != "sqlite":
        for name in KEPT:
            op.execute(f"DROP FUNCTION {name}_are_kept")
