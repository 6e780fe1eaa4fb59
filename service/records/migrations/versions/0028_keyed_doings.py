"""Keep what programs set, tried and protested under keys of their own, as what they handed in."""

import sqlalchemy as sa
from alembic import op

revision = "0028"
down_revision = "0027"
branch_labels = None
depends_on = None

KEPT = "id, token_id, key, body_sha256, submission_id, made_at"
OTHERS = {"assignment_id": "assignments", "trial_id": "trials", "protest_id": "contest_protests"}


def upgrade() -> None:
    _table("keyed_doings", nullable=True, more=OTHERS)
    op.execute(f"INSERT INTO keyed_doings ({KEPT}) SELECT {KEPT} FROM keyed_hand_ins")
    _count_on("keyed_doings")
    op.drop_table("keyed_hand_ins")


def downgrade() -> None:
    _table("keyed_hand_ins", nullable=False, more={})
    op.execute(
        f"INSERT INTO keyed_hand_ins ({KEPT}) SELECT {KEPT} FROM keyed_doings WHERE submission_id IS NOT NULL"
    )
    _count_on("keyed_hand_ins")
    op.drop_table("keyed_doings")


def _table(name: str, nullable: bool, more: dict[str, str]) -> None:
    op.create_table(
        name,
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("token_id", sa.Integer(), nullable=False),
        sa.Column("key", sa.String(length=80), nullable=False),
        sa.Column("body_sha256", sa.String(length=64), nullable=False),
        sa.Column("submission_id", sa.Integer(), nullable=nullable),
        *(sa.Column(column, sa.Integer(), nullable=True) for column in more),
        sa.Column("made_at", sa.DateTime(), nullable=False),
        sa.ForeignKeyConstraint(["token_id"], ["tokens.id"]),
        sa.ForeignKeyConstraint(["submission_id"], ["submissions.id"]),
        *(sa.ForeignKeyConstraint([column], [f"{table}.id"]) for column, table in more.items()),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("token_id", "key"),
    )
    for column in ("submission_id", *more):
        op.create_index(f"ix_{name}_{column}", name, [column])


def _count_on(name: str) -> None:
    """PostgreSQL counts on from the rows that were copied; SQLite does so by itself."""
    if op.get_bind().dialect.name == "postgresql":
        op.execute(
            f"SELECT setval(pg_get_serial_sequence('{name}', 'id'), "
            f"(SELECT coalesce(max(id), 0) + 1 FROM {name}), false)"
        )
