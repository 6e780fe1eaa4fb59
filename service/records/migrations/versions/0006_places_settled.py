"""Keep totals before places are settled."""

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None


def upgrade() -> None:
    with op.batch_alter_table("submissions") as table:
        table.add_column(sa.Column("total_without_places", sa.Double(), nullable=True))
    op.execute("UPDATE submissions SET total_without_places = total")


def downgrade() -> None:
    with op.batch_alter_table("submissions") as table:
        table.drop_column("total_without_places")
