"""Keep a student's number in the school's own lists, and since when he has left."""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None


def upgrade() -> None:
    with op.batch_alter_table("people") as table:
        table.add_column(sa.Column("roster_number", sa.String(length=100), nullable=True))
        table.add_column(sa.Column("left_at", sa.DateTime(), nullable=True))


def downgrade() -> None:
    with op.batch_alter_table("people") as table:
        table.drop_column("left_at")
        table.drop_column("roster_number")
