"""The language in which one of the staff reads."""

import sqlalchemy as sa
from alembic import op

revision = "0023"
down_revision = "0022"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("people", sa.Column("language", sa.String(8), nullable=False, server_default="en"))


def downgrade() -> None:
    op.drop_column("people", "language")
