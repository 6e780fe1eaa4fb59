"""Let a deletion take a pupil's alias out of lists that were published, and count tries at words nobody has."""

import sqlalchemy as sa
from alembic import op

revision = "0018"
down_revision = "0017"
branch_labels = None
depends_on = None

NAME = "contest_publications"
SAID = "contest publications are kept as they are"
MEANT = f"EXISTS (SELECT 1 FROM under_deletion WHERE table_name = '{NAME}' AND row_id = OLD.id)"


def upgrade() -> None:
    _guard(and_changes=True)
    op.create_table(
        "tries",
        sa.Column("place", sa.Integer(), nullable=False, autoincrement=False),
        sa.Column("failed_tries", sa.Integer(), nullable=False),
        sa.Column("locked_until", sa.DateTime(), nullable=True),
        sa.Column("at", sa.DateTime(), nullable=False),
        sa.PrimaryKeyConstraint("place"),
    )


def downgrade() -> None:
    op.drop_table("tries")
    _guard(and_changes=False)


def _guard(and_changes: bool) -> None:
    if op.get_bind().dialect.name == "sqlite":
        unless = f"WHEN NOT {MEANT} " if and_changes else ""
        op.execute(f"DROP TRIGGER {NAME}_update")
        op.execute(
            f"CREATE TRIGGER {NAME}_update BEFORE UPDATE ON {NAME} {unless}BEGIN SELECT RAISE(ABORT, '{SAID}'); END"
        )
        return
    changed = f"IF TG_OP = 'UPDATE' AND {MEANT} THEN RETURN NEW; END IF; " if and_changes else ""
    op.execute(
        f"CREATE OR REPLACE FUNCTION {NAME}_are_kept() RETURNS trigger AS $$ BEGIN {changed}"
        f"IF TG_OP = 'DELETE' AND {MEANT} THEN RETURN OLD; END IF; RAISE EXCEPTION '{SAID}'; END $$ LANGUAGE plpgsql"
    )
