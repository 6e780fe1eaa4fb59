"""Files that students are still writing, for the look at them."""

import sqlalchemy as sa
from alembic import op

revision = "0013"
down_revision = "0012"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "sketches",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("student_id", sa.Integer(), nullable=False),
        sa.Column("assignment_id", sa.Integer(), nullable=False),
        sa.Column("attempt", sa.String(length=32), nullable=False),
        sa.Column("file", sa.LargeBinary(), nullable=False),
        sa.Column("asked_at", sa.DateTime(), nullable=False),
        sa.Column("outcome", sa.JSON(), nullable=True),
        sa.ForeignKeyConstraint(["student_id"], ["people.id"], ondelete="CASCADE"),
        sa.ForeignKeyConstraint(["assignment_id"], ["assignments.id"], ondelete="CASCADE"),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("student_id"),
    )
    op.create_index("ix_sketches_assignment_id", "sketches", ["assignment_id"])


def downgrade() -> None:
    op.drop_table("sketches")
