"""Run by Alembic with the connection that :func:`service.records.migrations.upgrade` hands it.

Developers make a revision in a shell of Python: see DEVELOPERS.md.
"""

from __future__ import annotations

from alembic import context

from service.records.models import Base

# Batch mode: SQLite changes a table only by copying it.
context.configure(
    connection=context.config.attributes["connection"], target_metadata=Base.metadata, render_as_batch=True
)
with context.begin_transaction():
    context.run_migrations()
