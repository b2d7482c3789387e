"""Revision 5: remnants with their shape and flaws, what was measured on a cloth, and the haberdashery box."""

import sqlalchemy as sa
from alembic import op

revision = "5"
down_revision = "4"


def upgrade() -> None:
    for column in (
        sa.Column("recovery", sa.Float),
        sa.Column("drape", sa.Float),
        sa.Column("see_through", sa.String, nullable=False, server_default=""),
        sa.Column("print_one_way", sa.Boolean, nullable=False, server_default=sa.false()),
        sa.Column("repeat_along", sa.Float, nullable=False, server_default="0"),
        sa.Column("repeat_across", sa.Float, nullable=False, server_default="0"),
        sa.Column("repeat_even", sa.Boolean, nullable=False, server_default=sa.true()),
        sa.Column("seasons", sa.Text, nullable=False, server_default="[]"),
        sa.Column("outline", sa.Text, nullable=False, server_default="[]"),
        sa.Column("flaws", sa.Text, nullable=False, server_default="[]"),
    ):
        op.add_column("cloths", column)
    op.create_table(
        "box",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("name", sa.String, nullable=False),
        sa.Column("version", sa.Integer, nullable=False, server_default="1"),
        sa.Column("current", sa.Boolean, nullable=False, server_default=sa.true()),
        sa.Column("sort", sa.String, nullable=False),
        sa.Column("colour", sa.String, nullable=False),
        sa.Column("length", sa.Float, nullable=False),
        sa.Column("width", sa.Float, nullable=False),
        sa.Column("count", sa.Integer, nullable=False),
    )
    current = sa.column("current", sa.Boolean)
    op.create_index(
        "one_current_of_box", "box", ["name"], unique=True, sqlite_where=current, postgresql_where=current
    )
    op.create_index("one_version_of_box", "box", ["name", "version"], unique=True)
