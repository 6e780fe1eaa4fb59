"""Keep what a second teacher gave, marking blind."""

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "second_markings",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("submission_id", sa.Integer(), nullable=False),
        sa.Column("marker_id", sa.Integer(), nullable=False),
        sa.Column("asked_by_id", sa.Integer(), nullable=False),
        sa.Column("asked_at", sa.DateTime(), nullable=False),
        sa.Column("done_at", sa.DateTime(), nullable=True),
        sa.Column("points", sa.JSON(), nullable=False),
        sa.Column("settled", sa.JSON(), nullable=False),
        sa.ForeignKeyConstraint(["submission_id"], ["submissions.id"]),
        sa.ForeignKeyConstraint(["marker_id"], ["people.id"]),
        sa.ForeignKeyConstraint(["asked_by_id"], ["people.id"]),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("submission_id", "marker_id"),
    )
    op.create_index("ix_second_markings_marker_id", "second_markings", ["marker_id"])


def downgrade() -> None:
    op.drop_table("second_markings")
