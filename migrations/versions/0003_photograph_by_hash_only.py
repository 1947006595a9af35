"""a photograph may be known by its hash only"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    with op.batch_alter_table("photographs", schema=None) as batch_op:
        batch_op.add_column(sa.Column("is_here", sa.Boolean(), server_default=sa.true(), nullable=False))


def downgrade() -> None:
    with op.batch_alter_table("photographs", schema=None) as batch_op:
        batch_op.drop_column("is_here")
