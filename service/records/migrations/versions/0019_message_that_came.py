"""Keep when the message was sent with which a worker began."""

import sqlalchemy as sa
from alembic import op

revision = "0019"
down_revision = "0018"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("jobs", sa.Column("came_sent_at", sa.DateTime(), nullable=True))


def downgrade() -> None:
    op.drop_column("jobs", "came_sent_at")
