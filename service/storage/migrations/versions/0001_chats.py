"""Chats, what was said in them, what the desk answered, and the log that streams are read from."""

import sqlalchemy as sa
from alembic import op

from service.storage.rows import UtcDateTime

revision = "0001"
down_revision = None


def upgrade() -> None:
    op.create_table(
        "chats",
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.Column("token_hash", sa.LargeBinary(32), nullable=False),
        sa.Column("units", sa.Text()),
        sa.Column("last_event", sa.Integer(), nullable=False),
        sa.Column("opened_at", UtcDateTime(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_chats"),
        sa.UniqueConstraint("token_hash", name="uq_chats_token_hash"),
    )
    op.create_table(
        "messages",
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.Column("chat_id", sa.Uuid(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("client_id", sa.Text()),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("facts", sa.Text(), nullable=False),
        sa.Column("last_event", sa.Integer(), nullable=False),
        sa.Column("at", UtcDateTime(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_messages"),
        sa.ForeignKeyConstraint(["chat_id"], ["chats.id"], name="fk_messages_chat_id", ondelete="CASCADE"),
        sa.UniqueConstraint("chat_id", "client_id", name="uq_messages_chat_id_client_id"),
        sa.UniqueConstraint("chat_id", "number", name="uq_messages_chat_id_number"),
    )
    op.create_table(
        "consultations",
        sa.Column("message_id", sa.Uuid(), nullable=False),
        sa.Column("revision", sa.Text(), nullable=False),
        sa.Column("body", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("message_id", name="pk_consultations"),
        sa.ForeignKeyConstraint(
            ["message_id"], ["messages.id"], name="fk_consultations_message_id", ondelete="CASCADE"
        ),
    )
    op.create_table(
        "events",
        sa.Column("chat_id", sa.Uuid(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("message_id", sa.Uuid(), nullable=False),
        sa.PrimaryKeyConstraint("chat_id", "number", name="pk_events"),
        sa.ForeignKeyConstraint(["chat_id"], ["chats.id"], name="fk_events_chat_id", ondelete="CASCADE"),
        sa.ForeignKeyConstraint(["message_id"], ["messages.id"], name="fk_events_message_id", ondelete="CASCADE"),
    )
    op.create_index("ix_events_message_id", "events", ["message_id"])


def downgrade() -> None:
    raise NotImplementedError("restore the backup made before the upgrade")
