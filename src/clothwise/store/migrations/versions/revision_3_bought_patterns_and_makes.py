"""Revision 3: bought patterns on the shelf, and finished makes with what their wearers say of them."""

import sqlalchemy as sa
from alembic import op

revision = "3"
down_revision = "2"


def upgrade() -> None:
    _thing(
        "bought_patterns",
        sa.Column("text", sa.Text, nullable=False),
        sa.Column("sha256", sa.String, nullable=False),
    )
    _thing(
        "makes",
        sa.Column("person", sa.String, nullable=False),
        sa.Column("pattern", sa.String, nullable=False),
        sa.Column("fit_class", sa.String, nullable=False),
        sa.Column("make", sa.String, nullable=False),
        sa.Column("made_on", sa.String, nullable=False),
        sa.Column("sizes", sa.Text, nullable=False),
        sa.Column("notes", sa.Text, nullable=False),
    )
    op.create_table(
        "judgements",
        sa.Column("make_id", sa.Integer, sa.ForeignKey("makes.id", ondelete="CASCADE"), primary_key=True),
        sa.Column("level", sa.String, primary_key=True),
        sa.Column("place", sa.Integer, nullable=False),
        sa.Column("ease", sa.Float, nullable=False),
        sa.Column("verdict", sa.String, nullable=False),
    )


def _thing(name: str, *columns: sa.Column[object]) -> None:
    op.create_table(
        name,
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("name", sa.String, nullable=False),
        sa.Column("version", sa.Integer, nullable=False, server_default="1"),
        sa.Column("current", sa.Boolean, nullable=False, server_default=sa.true()),
        *columns,
    )
    current = sa.column("current", sa.Boolean)
    op.create_index(
        f"one_current_of_{name}", name, ["name"], unique=True, sqlite_where=current, postgresql_where=current
    )
    op.create_index(f"one_version_of_{name}", name, ["name", "version"], unique=True)
