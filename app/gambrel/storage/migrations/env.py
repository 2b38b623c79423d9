# ruff: noqa: INP001 - alembic runs this file as a script
"""How migrations run: on the connection that is given, inside the transaction that it is in."""

from __future__ import annotations

from alembic import context

from gambrel.storage import around, tables  # noqa: F401 - they fill the metadata
from gambrel.storage.columns import metadata

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=metadata,
    render_as_batch=True,  # SQLite cannot alter a table, only rebuild it
    compare_type=True,
    transaction_per_migration=True,
)
with context.begin_transaction():
    context.run_migrations()
