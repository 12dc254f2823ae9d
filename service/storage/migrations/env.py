"""Runs the migrations on the connection that the program hands over."""

from alembic import context

import service.chats.tables  # noqa: F401  (so that the tables are known)
from service.storage.rows import Row

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=Row.metadata,
    render_as_batch=True,
    compare_type=True,
)
with context.begin_transaction():
    context.run_migrations()
