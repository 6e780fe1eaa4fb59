"""Keep what par of a brief needs beside its drawing."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    with op.batch_alter_table("assignments") as table:
        table.add_column(sa.Column("par_wood_g", sa.Double(), nullable=True))


def downgrade() -> None:
    with op.batch_alter_table("assignments") as table:
        table.drop_column("par_wood_g")
