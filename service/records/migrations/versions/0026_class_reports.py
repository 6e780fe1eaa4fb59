"""Keep class reports."""

import sqlalchemy as sa
from alembic import op

revision = "0026"
down_revision = "0023"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "class_reports",
        sa.Column("assignment_id", sa.Integer(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("paper", sa.String(length=8), nullable=False),
        sa.Column("pdf", sa.LargeBinary(), nullable=True),
        sa.Column("printed_at", sa.DateTime(), nullable=True),
        sa.ForeignKeyConstraint(["assignment_id"], ["assignments.id"]),
        sa.ForeignKeyConstraint(["by_id"], ["people.id"]),
        sa.PrimaryKeyConstraint("assignment_id"),
    )


def downgrade() -> None:
    op.execute("DELETE FROM jobs WHERE kind = 'worker.report'")
    op.drop_table("class_reports")
