"""Keep the structure of each work, and which works of an assignment are alike."""

import sqlalchemy as sa
from alembic import op

revision = "0009"
down_revision = "0008"
branch_labels = None
depends_on = None


def upgrade() -> None:
    with op.batch_alter_table("submissions") as table:
        table.add_column(sa.Column("fingerprint", sa.JSON(), nullable=True))
    with op.batch_alter_table("assignments") as table:
        table.add_column(sa.Column("alike", sa.JSON(), nullable=True))
        table.add_column(sa.Column("alike_at", sa.DateTime(), nullable=True))


def downgrade() -> None:
    with op.batch_alter_table("assignments") as table:
        table.drop_column("alike_at")
        table.drop_column("alike")
    with op.batch_alter_table("submissions") as table:
        table.drop_column("fingerprint")
