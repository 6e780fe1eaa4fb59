"""Keep building plans."""

import sqlalchemy as sa
from alembic import op

revision = "0008"
down_revision = "0007"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "plans",
        sa.Column("submission_id", sa.Integer(), nullable=False),
        sa.Column("paper", sa.String(length=8), nullable=False),
        sa.Column("pdf", sa.LargeBinary(), nullable=True),
        sa.Column("printed_at", sa.DateTime(), nullable=True),
        sa.ForeignKeyConstraint(["submission_id"], ["submissions.id"]),
        sa.PrimaryKeyConstraint("submission_id"),
    )


def downgrade() -> None:
    op.drop_table("plans")
