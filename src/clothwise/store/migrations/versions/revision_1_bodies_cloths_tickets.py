"""Revision 1: bodies with their measures, cloths, tickets."""

import sqlalchemy as sa
from alembic import op

revision = "1"
down_revision = None


def upgrade() -> None:
    op.create_table(
        "bodies",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("name", sa.String, nullable=False),
        sa.Column("figure", sa.String, nullable=False),
        sa.Column("age_years", sa.Float),
        sa.Column("taken_on", sa.String, nullable=False),
        sa.Column("notes", sa.Text, nullable=False),
    )
    op.create_table(
        "measures",
        sa.Column("body_id", sa.Integer, sa.ForeignKey("bodies.id", ondelete="CASCADE"), primary_key=True),
        sa.Column("name", sa.String, primary_key=True),
        sa.Column("place", sa.Integer, nullable=False),
        sa.Column("cm", sa.Float, nullable=False),
        sa.Column("source", sa.String, nullable=False),
        sa.Column("low", sa.Float),
        sa.Column("high", sa.Float),
        sa.Column("confirmed", sa.Boolean, nullable=False),
    )
    op.create_table(
        "cloths",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("name", sa.String, nullable=False),
        sa.Column("width", sa.Float, nullable=False),
        sa.Column("length", sa.Float, nullable=False),
        sa.Column("make", sa.String, nullable=False),
        sa.Column("kind", sa.String, nullable=False),
        sa.Column("fibre", sa.String, nullable=False),
        sa.Column("grams_per_m2", sa.Float, nullable=False),
        sa.Column("stretch_across", sa.Float, nullable=False),
        sa.Column("stretch_along", sa.Float, nullable=False),
        sa.Column("nap", sa.String, nullable=False),
        sa.Column("shrinkage", sa.Float, nullable=False),
        sa.Column("washed", sa.Boolean, nullable=False),
        sa.Column("colour", sa.String, nullable=False),
        sa.Column("price_per_m", sa.Float),
    )
    op.create_table(
        "tickets",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("name", sa.String, nullable=False),
        sa.Column("text", sa.Text, nullable=False),
        sa.Column("created_on", sa.String, nullable=False),
        sa.Column("sha256", sa.String, nullable=False),
    )
    op.create_table("flags", sa.Column("name", sa.String, primary_key=True))
    for table in ("bodies", "cloths", "tickets"):
        op.create_index(f"one_name_of_{table}", table, ["name"], unique=True)
