"""The language of a class's pages and sheets."""

import sqlalchemy as sa
from alembic import op

revision = "0021"
down_revision = "0020"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("classes", sa.Column("language", sa.String(8), nullable=False, server_default="en"))


def downgrade() -> None:
    op.drop_column("classes", "language")
