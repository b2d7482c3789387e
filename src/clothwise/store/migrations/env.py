"""Run by Alembic. The connection comes from store/opening.py, which has begun the transaction already."""

from alembic import context

context.configure(connection=context.config.attributes["connection"])
with context.begin_transaction():
    context.run_migrations()
