"""Revision 2: keeping a thing again, or forgetting it, leaves its earlier versions in the store."""

import sqlalchemy as sa
from alembic import op

revision = "2"
down_revision = "1"


def upgrade() -> None:
    for table in ("bodies", "cloths", "tickets"):
        op.drop_index(f"one_name_of_{table}", table)
        op.add_column(table, sa.Column("version", sa.Integer, nullable=False, server_default="1"))
        op.add_column(table, sa.Column("current", sa.Boolean, nullable=False, server_default=sa.true()))
        current = sa.column("current", sa.Boolean)
        op.create_index(
            f"one_current_of_{table}",
            table,
            ["name"],
            unique=True,
            sqlite_where=current,
            postgresql_where=current,
        )
        op.create_index(f"one_version_of_{table}", table, ["name", "version"], unique=True)
