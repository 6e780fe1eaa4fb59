"""An alias that was refused, with the reason, until the student chooses another; a class's id in the school's export."""

import sqlalchemy as sa
from alembic import op

revision = "0022"
down_revision = "0021"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("people", sa.Column("alias_refused", sa.String(length=40), nullable=True))
    op.add_column("people", sa.Column("alias_why", sa.String(length=200), nullable=False, server_default=""))
    op.add_column("classes", sa.Column("sourced_id", sa.String(length=255), nullable=True))


def downgrade() -> None:
    op.drop_column("classes", "sourced_id")
    op.drop_column("people", "alias_why")
    op.drop_column("people", "alias_refused")
