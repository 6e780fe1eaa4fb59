"""Keep what a teacher tries out, and when work was due by each version."""

import sqlalchemy as sa
from alembic import op

revision = "0010"
down_revision = "0009"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("versions", sa.Column("due", sa.DateTime(), nullable=True))
    op.execute("UPDATE versions SET due = (SELECT due FROM assignments WHERE assignments.id = versions.assignment_id)")
    op.create_table(
        "trials",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("assignment_id", sa.Integer(), nullable=False),
        sa.Column("version_id", sa.Integer(), nullable=True),
        sa.Column("brief", sa.JSON(), nullable=False),
        sa.Column("rubric", sa.JSON(), nullable=False),
        sa.Column("brief_text", sa.Text(), nullable=False),
        sa.Column("rubric_text", sa.Text(), nullable=False),
        sa.Column("due", sa.DateTime(), nullable=True),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("made_at", sa.DateTime(), nullable=False),
        sa.Column("why", sa.String(length=600), nullable=False),
        sa.Column("marked_again_at", sa.DateTime(), nullable=True),
        sa.Column("undone_at", sa.DateTime(), nullable=True),
        sa.ForeignKeyConstraint(["assignment_id"], ["assignments.id"]),
        sa.ForeignKeyConstraint(["version_id"], ["versions.id"]),
        sa.ForeignKeyConstraint(["by_id"], ["people.id"]),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("ix_trials_assignment_id", "trials", ["assignment_id"])
    op.create_table(
        "trial_works",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("trial_id", sa.Integer(), nullable=False),
        sa.Column("submission_id", sa.Integer(), nullable=True),
        sa.Column("name", sa.String(length=200), nullable=False),
        sa.Column("file", sa.LargeBinary(), nullable=True),
        sa.Column("for_worker", sa.Boolean(), nullable=False),
        sa.Column("outcome", sa.JSON(), nullable=True),
        sa.Column("version_before_id", sa.Integer(), nullable=True),
        sa.Column("outcome_before", sa.JSON(), nullable=True),
        sa.ForeignKeyConstraint(["trial_id"], ["trials.id"]),
        sa.ForeignKeyConstraint(["submission_id"], ["submissions.id"]),
        sa.ForeignKeyConstraint(["version_before_id"], ["versions.id"]),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("ix_trial_works_trial_id", "trial_works", ["trial_id"])
    op.create_index("ix_trial_works_submission_id", "trial_works", ["submission_id"])


def downgrade() -> None:
    op.drop_table("trial_works")
    op.drop_table("trials")
    op.drop_column("versions", "due")
