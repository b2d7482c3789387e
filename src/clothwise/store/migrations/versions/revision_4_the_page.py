"""Revision 4: what the page keeps: deeds to undo, long work, how far a ticket has come, photos."""

import sqlalchemy as sa
from alembic import op

revision = "4"
down_revision = "3"


def upgrade() -> None:
    op.create_table(
        "deeds",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("done_at", sa.String, nullable=False),
        sa.Column("scope", sa.String, nullable=False),
        sa.Column("words", sa.String, nullable=False),
        sa.Column("moves", sa.Text, nullable=False),
        sa.Column("undone", sa.Boolean, nullable=False, server_default=sa.false()),
    )
    op.create_index("deeds_of_a_scope", "deeds", ["scope", "id"])
    op.create_table(
        "jobs",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("kind", sa.String, nullable=False),
        sa.Column("asked", sa.Text, nullable=False),
        sa.Column("state", sa.String, nullable=False),
        sa.Column("begun_at", sa.String, nullable=False),
        sa.Column("said", sa.Text, nullable=False, server_default=""),
    )
    op.create_table(
        "job_news",
        sa.Column("job_id", sa.Integer, sa.ForeignKey("jobs.id", ondelete="CASCADE"), primary_key=True),
        sa.Column("number", sa.Integer, primary_key=True),
        sa.Column("kind", sa.String, nullable=False),
        sa.Column("text", sa.Text, nullable=False),
    )
    op.create_table(
        "progress",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("name", sa.String, nullable=False),
        sa.Column("version", sa.Integer, nullable=False, server_default="1"),
        sa.Column("current", sa.Boolean, nullable=False, server_default=sa.true()),
        sa.Column("text", sa.Text, nullable=False),
    )
    current = sa.column("current", sa.Boolean)
    op.create_index(
        "one_current_of_progress",
        "progress",
        ["name"],
        unique=True,
        sqlite_where=current,
        postgresql_where=current,
    )
    op.create_index("one_version_of_progress", "progress", ["name", "version"], unique=True)
    op.create_table(
        "photos",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("of", sa.String, nullable=False),
        sa.Column("kind", sa.String, nullable=False),
        sa.Column("words", sa.String, nullable=False, server_default=""),
        sa.Column("taken_at", sa.String, nullable=False),
        sa.Column("gone", sa.Boolean, nullable=False, server_default=sa.false()),
        sa.Column("data", sa.LargeBinary, nullable=False),
    )
    op.create_index("photos_of", "photos", ["of"])
