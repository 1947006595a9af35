"""who does what by when, what the inspector wrote, and every job's standing as counted last"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "assignments",
        sa.Column("id", sa.String(length=64), nullable=False),
        sa.Column("job_id", sa.String(length=64), nullable=False),
        sa.Column("room_id", sa.String(length=64), nullable=True),
        sa.Column("rule", sa.Text(), nullable=False),
        sa.Column("subject_kind", sa.String(length=40), nullable=False),
        sa.Column("subject_id", sa.String(length=64), nullable=False),
        sa.Column("person_id", sa.String(length=64), nullable=True),
        sa.Column("due", sa.Date(), nullable=True),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("made_by", sa.Text(), nullable=False),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("done_by", sa.Text(), nullable=False),
        sa.Column("done_id", sa.String(length=64), nullable=True),
        sa.Column("done_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("checked_by", sa.Text(), nullable=False),
        sa.Column("checked_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("reopened", sa.Integer(), nullable=False),
        sa.Column("deleted_at", sa.DateTime(timezone=True), nullable=True),
        sa.ForeignKeyConstraint(
            ["job_id"], ["jobs.id"], name=op.f("fk_assignments_job_id_jobs"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_assignments")),
    )
    with op.batch_alter_table("assignments", schema=None) as batch_op:
        batch_op.create_index(
            batch_op.f("ix_assignments_job_id_room_id"), ["job_id", "room_id"], unique=False
        )
    op.create_table(
        "standing_days",
        sa.Column("id", sa.String(length=64), nullable=False),
        sa.Column("job_id", sa.String(length=64), nullable=False),
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("ready", sa.Integer(), nullable=False),
        sa.Column("hold", sa.Integer(), nullable=False),
        sa.Column("not_walked", sa.Integer(), nullable=False),
        sa.Column("corrections", sa.Integer(), nullable=False),
        sa.Column("unseen", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["job_id"], ["jobs.id"], name=op.f("fk_standing_days_job_id_jobs"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_standing_days")),
        sa.UniqueConstraint("job_id", "day", name=op.f("uq_standing_days_job_id_day")),
    )
    op.create_table(
        "summaries",
        sa.Column("job_id", sa.String(length=64), nullable=False),
        sa.Column("revision", sa.BigInteger(), nullable=False),
        sa.Column("settings_version", sa.Integer(), nullable=False),
        sa.Column("counted_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("standing", sa.String(length=40), nullable=False),
        sa.Column("ready", sa.Integer(), nullable=False),
        sa.Column("hold", sa.Integer(), nullable=False),
        sa.Column("not_walked", sa.Integer(), nullable=False),
        sa.Column("corrections", sa.Integer(), nullable=False),
        sa.Column("unseen", sa.Integer(), nullable=False),
        sa.Column("by_rule", sa.JSON(), nullable=False),
        sa.Column("by_room_kind", sa.JSON(), nullable=False),
        sa.Column("held_rooms", sa.JSON(), nullable=False),
        sa.Column("last_seen_at", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["job_id"], ["jobs.id"], name=op.f("fk_summaries_job_id_jobs"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("job_id", name=op.f("pk_summaries")),
    )
    op.create_table(
        "visits",
        sa.Column("id", sa.String(length=64), nullable=False),
        sa.Column("job_id", sa.String(length=64), nullable=False),
        sa.Column("stage", sa.String(length=40), nullable=False),
        sa.Column("on_date", sa.Date(), nullable=False),
        sa.Column("result", sa.String(length=40), nullable=False),
        sa.Column("inspector", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("entered_by", sa.Text(), nullable=False),
        sa.Column("entered_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("covered_by", sa.Text(), nullable=False),
        sa.Column("covered_on", sa.Date(), nullable=True),
        sa.ForeignKeyConstraint(
            ["job_id"], ["jobs.id"], name=op.f("fk_visits_job_id_jobs"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_visits")),
    )
    with op.batch_alter_table("visits", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_visits_job_id_on_date"), ["job_id", "on_date"], unique=False)
    op.create_table(
        "visit_notes",
        sa.Column("id", sa.String(length=64), nullable=False),
        sa.Column("visit_id", sa.String(length=64), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("rule", sa.Text(), nullable=False),
        sa.Column("room_id", sa.String(length=64), nullable=True),
        sa.Column("mended_by", sa.Text(), nullable=False),
        sa.Column("mended_at", sa.DateTime(timezone=True), nullable=True),
        sa.ForeignKeyConstraint(
            ["visit_id"], ["visits.id"], name=op.f("fk_visit_notes_visit_id_visits"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_visit_notes")),
    )
    with op.batch_alter_table("visit_notes", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_visit_notes_visit_id"), ["visit_id"], unique=False)


def downgrade() -> None:
    with op.batch_alter_table("visit_notes", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_visit_notes_visit_id"))
    op.drop_table("visit_notes")
    with op.batch_alter_table("visits", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_visits_job_id_on_date"))
    op.drop_table("visits")
    op.drop_table("summaries")
    op.drop_table("standing_days")
    with op.batch_alter_table("assignments", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_assignments_job_id_room_id"))
    op.drop_table("assignments")
