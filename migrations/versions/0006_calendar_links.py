"""addresses under which calendar programs read the visits of a person's crews"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "calendar_links",
        sa.Column("account_id", sa.String(length=64), nullable=False),
        sa.Column("token_sha256", sa.Text(), nullable=False),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        sa.ForeignKeyConstraint(
            ["account_id"],
            ["accounts.id"],
            name=op.f("fk_calendar_links_account_id_accounts"),
            ondelete="CASCADE",
        ),
        sa.PrimaryKeyConstraint("account_id", name=op.f("pk_calendar_links")),
        sa.UniqueConstraint("token_sha256", name=op.f("uq_calendar_links_token_sha256")),
    )


def downgrade() -> None:
    op.drop_table("calendar_links")
