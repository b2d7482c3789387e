"""The tables as they stand at the newest revision; the migrations bring every older file here.

A kept thing is never changed: keeping it again writes a new row with the next version, and `current`
moves to that row. Forgetting only takes `current` away. So the older rows are the history.
Lengths are cm, shares are of one, dates are ISO text.
"""

from __future__ import annotations

from sqlalchemy import (
    Boolean,
    Column,
    ColumnElement,
    Float,
    ForeignKey,
    Index,
    Integer,
    MetaData,
    String,
    Table,
    Text,
    true,
)

REVISIONS = ("1", "2", "3")  # of the tables, oldest first, as in migrations/versions
NEWEST = REVISIONS[-1]

METADATA = MetaData()


def _thing(name: str, *columns: Column[object]) -> Table:
    """A table of named things in versions, of which at most one is current."""
    table = Table(
        name,
        METADATA,
        Column("id", Integer, primary_key=True),
        Column("name", String, nullable=False),
        Column("version", Integer, nullable=False, server_default="1"),
        Column("current", Boolean, nullable=False, server_default=true()),
        *columns,
    )
    current: ColumnElement[bool] = table.c.current
    Index(f"one_current_of_{name}", table.c.name, unique=True, sqlite_where=current, postgresql_where=current)
    Index(f"one_version_of_{name}", table.c.name, table.c.version, unique=True)
    return table


BODIES = _thing(
    "bodies",
    Column("figure", String, nullable=False),
    Column("age_years", Float),
    Column("taken_on", String, nullable=False),
    Column("notes", Text, nullable=False),  # a JSON list of sentences
)

MEASURES = Table(
    "measures",
    METADATA,
    Column("body_id", Integer, ForeignKey("bodies.id", ondelete="CASCADE"), primary_key=True),
    Column("name", String, primary_key=True),
    Column("place", Integer, nullable=False),  # in the order they were written down
    Column("cm", Float, nullable=False),
    Column("source", String, nullable=False),
    Column("low", Float),
    Column("high", Float),
    Column("confirmed", Boolean, nullable=False),
)

CLOTHS = _thing(
    "cloths",
    Column("width", Float, nullable=False),
    Column("length", Float, nullable=False),
    Column("make", String, nullable=False),
    Column("kind", String, nullable=False),
    Column("fibre", String, nullable=False),
    Column("grams_per_m2", Float, nullable=False),
    Column("stretch_across", Float, nullable=False),
    Column("stretch_along", Float, nullable=False),
    Column("nap", String, nullable=False),
    Column("shrinkage", Float, nullable=False),
    Column("washed", Boolean, nullable=False),
    Column("colour", String, nullable=False),
    Column("price_per_m", Float),
)

TICKETS = _thing(
    "tickets",
    Column("text", Text, nullable=False),  # the TOML file as it was
    Column("created_on", String, nullable=False),
    Column("sha256", String, nullable=False),  # of the text, to see damage
)

BOUGHT_PATTERNS = _thing(
    "bought_patterns",
    Column("text", Text, nullable=False),  # TOML, as `shelf.writing` puts it
    Column("sha256", String, nullable=False),  # of the text, to see damage
)

MAKES = _thing(
    "makes",
    Column("person", String, nullable=False),
    Column("pattern", String, nullable=False),
    Column("fit_class", String, nullable=False),
    Column("make", String, nullable=False),  # of its cloth: woven or knit
    Column("made_on", String, nullable=False),
    Column("sizes", Text, nullable=False),  # a JSON object: size by level
    Column("notes", Text, nullable=False),  # a JSON list of sentences
)

JUDGEMENTS = Table(
    "judgements",
    METADATA,
    Column("make_id", Integer, ForeignKey("makes.id", ondelete="CASCADE"), primary_key=True),
    Column("level", String, primary_key=True),
    Column("place", Integer, nullable=False),  # in the order they were given
    Column("ease", Float, nullable=False),
    Column("verdict", String, nullable=False),
)

FLAGS = Table("flags", METADATA, Column("name", String, primary_key=True))  # things done once, like seeding
