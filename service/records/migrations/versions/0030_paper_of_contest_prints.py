"""On what paper certificates and booklets are set."""

import sqlalchemy as sa
from alembic import op

revision = "0030"
down_revision = "0028"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("contest_prints", sa.Column("paper", sa.String(length=8), nullable=False, server_default="A4"))


def downgrade() -> None:
    op.drop_column("contest_prints", "paper")
