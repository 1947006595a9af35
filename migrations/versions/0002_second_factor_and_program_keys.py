"""second factor, keys for programs, known devices"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "known_devices",
        sa.Column("token_sha256", sa.Text(), nullable=False),
        sa.Column("account_id", sa.String(64), nullable=False),
        sa.Column("ends_at", sa.DateTime(timezone=True), nullable=False),
        sa.ForeignKeyConstraint(
            ["account_id"],
            ["accounts.id"],
            name=op.f("fk_known_devices_account_id_accounts"),
            ondelete="CASCADE",
        ),
        sa.PrimaryKeyConstraint("token_sha256", "account_id", name=op.f("pk_known_devices")),
    )
    with op.batch_alter_table("known_devices", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_known_devices_account_id"), ["account_id"], unique=False)

    op.create_table(
        "program_keys",
        sa.Column("id", sa.String(64), nullable=False),
        sa.Column("token_sha256", sa.Text(), nullable=False),
        sa.Column("account_id", sa.String(64), nullable=False),
        sa.Column("crew_id", sa.String(64), nullable=False),
        sa.Column("label", sa.Text(), nullable=False),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("ends_at", sa.DateTime(timezone=True), nullable=False),
        sa.ForeignKeyConstraint(
            ["account_id"],
            ["accounts.id"],
            name=op.f("fk_program_keys_account_id_accounts"),
            ondelete="CASCADE",
        ),
        sa.ForeignKeyConstraint(
            ["crew_id"], ["crews.id"], name=op.f("fk_program_keys_crew_id_crews"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_program_keys")),
        sa.UniqueConstraint("token_sha256", name=op.f("uq_program_keys_token_sha256")),
    )
    with op.batch_alter_table("program_keys", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_program_keys_account_id"), ["account_id"], unique=False)

    op.create_table(
        "recovery_codes",
        sa.Column("account_id", sa.String(64), nullable=False),
        sa.Column("code_sha256", sa.Text(), nullable=False),
        sa.Column("used_at", sa.DateTime(timezone=True), nullable=True),
        sa.ForeignKeyConstraint(
            ["account_id"],
            ["accounts.id"],
            name=op.f("fk_recovery_codes_account_id_accounts"),
            ondelete="CASCADE",
        ),
        sa.PrimaryKeyConstraint("account_id", "code_sha256", name=op.f("pk_recovery_codes")),
    )
    with op.batch_alter_table("accounts", schema=None) as batch_op:
        batch_op.add_column(sa.Column("totp_pending", sa.Text(), nullable=True))

    with op.batch_alter_table("invites", schema=None) as batch_op:
        batch_op.add_column(sa.Column("purpose", sa.Text(), server_default="join", nullable=False))


def downgrade() -> None:
    with op.batch_alter_table("invites", schema=None) as batch_op:
        batch_op.drop_column("purpose")

    with op.batch_alter_table("accounts", schema=None) as batch_op:
        batch_op.drop_column("totp_pending")

    op.drop_table("recovery_codes")
    with op.batch_alter_table("program_keys", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_program_keys_account_id"))

    op.drop_table("program_keys")
    with op.batch_alter_table("known_devices", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_known_devices_account_id"))

    op.drop_table("known_devices")
