"""Attempts that one student has beyond those of the rubric."""

import sqlalchemy as sa
from alembic import op

revision = "0020"
down_revision = "0019"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "extra_attempts",
        sa.Column("assignment_id", sa.Integer(), nullable=False),
        sa.Column("student_id", sa.Integer(), nullable=False),
        sa.Column("more", sa.Integer(), nullable=False),
        sa.Column("why", sa.String(length=300), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("made_at", sa.DateTime(), nullable=False),
        sa.ForeignKeyConstraint(["assignment_id"], ["assignments.id"]),
        sa.ForeignKeyConstraint(["student_id"], ["people.id"]),
        sa.ForeignKeyConstraint(["by_id"], ["people.id"]),
        sa.PrimaryKeyConstraint("assignment_id", "student_id"),
    )
    op.create_index("ix_extra_attempts_student_id", "extra_attempts", ["student_id"])


def downgrade() -> None:
    op.drop_table("extra_attempts")
