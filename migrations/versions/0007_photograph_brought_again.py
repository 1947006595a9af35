"""the ids under which the same picture was brought again, so that every look finds it"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None


def upgrade() -> None:
    with op.batch_alter_table("photographs", schema=None) as batch_op:
        batch_op.add_column(sa.Column("also_ids", sa.JSON(none_as_null=True), nullable=True))


def downgrade() -> None:
    with op.batch_alter_table("photographs", schema=None) as batch_op:
        batch_op.drop_column("also_ids")
