"""What stands in the braces of a notice, so that it can be said in the language of whoever reads it."""

import sqlalchemy as sa
from alembic import op

revision = "0027"
down_revision = "0026"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("notices", sa.Column("values", sa.JSON(), nullable=False, server_default="{}"))


def downgrade() -> None:
    op.drop_column("notices", "values")
