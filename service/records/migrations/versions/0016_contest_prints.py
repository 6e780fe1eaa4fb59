"""Keep the certificates and the booklet of a contest."""

import sqlalchemy as sa
from alembic import op

revision = "0016"
down_revision = "0015"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "contest_prints",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("contest_id", sa.Integer(), nullable=False),
        sa.Column("what", sa.String(length=12), nullable=False),
        sa.Column("list_number", sa.Integer(), nullable=False),
        sa.Column("pdf", sa.LargeBinary(), nullable=True),
        sa.Column("printed_at", sa.DateTime(), nullable=True),
        sa.ForeignKeyConstraint(["contest_id"], ["contests.id"]),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("contest_id", "what"),
        sqlite_autoincrement=True,
    )


def downgrade() -> None:
    op.execute("DELETE FROM jobs WHERE kind = 'worker.award'")
    op.drop_table("contest_prints")
