"""An index from which the table of a class is made."""

from alembic import op

revision = "0017"
down_revision = "0016"
branch_labels = None
depends_on = None

COLUMNS = (
    "assignment_id",
    "student_id",
    "number",
    "state",
    "has_mistakes",
    "total",
    "waiting_points",
    "on_board",
    "efficiency",
    "held",
    "version_id",
)


def upgrade() -> None:
    op.create_index("ix_submissions_table", "submissions", COLUMNS)


def downgrade() -> None:
    op.drop_index("ix_submissions_table", "submissions")
