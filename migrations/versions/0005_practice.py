"""practice frames and what people found in them"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "practices",
        sa.Column("id", sa.String(length=64), nullable=False),
        sa.Column("crew_id", sa.String(length=64), nullable=False),
        sa.Column("title", sa.Text(), nullable=False),
        sa.Column("seed", sa.Integer(), nullable=False),
        sa.Column("faults", sa.Integer(), nullable=False),
        sa.Column("framing", sa.String(length=40), nullable=False),
        sa.Column("edition", sa.Integer(), nullable=False),
        sa.Column("made_by", sa.Text(), nullable=False),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("closed_at", sa.DateTime(timezone=True), nullable=True),
        sa.ForeignKeyConstraint(
            ["crew_id"], ["crews.id"], name=op.f("fk_practices_crew_id_crews"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_practices")),
    )
    with op.batch_alter_table("practices", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_practices_crew_id"), ["crew_id"], unique=False)
    op.create_table(
        "practice_tries",
        sa.Column("id", sa.String(length=64), nullable=False),
        sa.Column("practice_id", sa.String(length=64), nullable=False),
        sa.Column("person_id", sa.String(length=64), nullable=False),
        sa.Column("person", sa.Text(), nullable=False),
        sa.Column("marked", sa.Text(), nullable=False),
        sa.Column("found", sa.Integer(), nullable=False),
        sa.Column("missed", sa.Integer(), nullable=False),
        sa.Column("false_alarms", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.ForeignKeyConstraint(
            ["practice_id"],
            ["practices.id"],
            name=op.f("fk_practice_tries_practice_id_practices"),
            ondelete="CASCADE",
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_practice_tries")),
    )
    with op.batch_alter_table("practice_tries", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_practice_tries_practice_id"), ["practice_id"], unique=False)


def downgrade() -> None:
    with op.batch_alter_table("practice_tries", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_practice_tries_practice_id"))
    op.drop_table("practice_tries")
    with op.batch_alter_table("practices", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_practices_crew_id"))
    op.drop_table("practices")
