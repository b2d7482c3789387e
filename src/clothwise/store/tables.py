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
    LargeBinary,
    MetaData,
    String,
    Table,
    Text,
    false,
    true,
)

REVISIONS = ("1", "2", "3", "4", "5")  # of the tables, oldest first, as in migrations/versions
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
    Column("recovery", Float),
    Column("drape", Float),
    Column("see_through", String, nullable=False, server_default=""),
    Column("print_one_way", Boolean, nullable=False, server_default=false()),
    Column("repeat_along", Float, nullable=False, server_default="0"),
    Column("repeat_across", Float, nullable=False, server_default="0"),
    Column("repeat_even", Boolean, nullable=False, server_default=true()),
    Column("seasons", Text, nullable=False, server_default="[]"),  # a JSON list of words
    Column("outline", Text, nullable=False, server_default="[]"),  # a JSON list of corner points
    Column("flaws", Text, nullable=False, server_default="[]"),  # a JSON list of outlines
)

BOX = _thing(  # the haberdashery box
    "box",
    Column("sort", String, nullable=False),
    Column("colour", String, nullable=False),
    Column("length", Float, nullable=False),
    Column("width", Float, nullable=False),
    Column("count", Integer, nullable=False),
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

DEEDS = Table(  # what was done at the page, newest last, so that it can be undone
    "deeds",
    METADATA,
    Column("id", Integer, primary_key=True),
    Column("done_at", String, nullable=False),
    Column("scope", String, nullable=False),  # the thing it was done to: 'ticket/Tuesday skirt'
    Column("words", String, nullable=False),
    Column("moves", Text, nullable=False),  # a JSON list of [kind, name, version before, version after]
    Column("undone", Boolean, nullable=False, server_default=false()),
    Index("deeds_of_a_scope", "scope", "id"),
)

JOBS = Table(
    "jobs",
    METADATA,
    Column("id", Integer, primary_key=True),
    Column("kind", String, nullable=False),
    Column("asked", Text, nullable=False),  # a JSON object
    Column("state", String, nullable=False),  # waiting, running, done, refused, cancelled, interrupted
    Column("begun_at", String, nullable=False),
    Column("said", Text, nullable=False, server_default=""),  # why it ended, when it is not done
)

JOB_NEWS = Table(
    "job_news",
    METADATA,
    Column("job_id", Integer, ForeignKey("jobs.id", ondelete="CASCADE"), primary_key=True),
    Column("number", Integer, primary_key=True),
    Column("kind", String, nullable=False),
    Column("text", Text, nullable=False),  # JSON
)

PROGRESS = _thing("progress", Column("text", Text, nullable=False))  # JSON, by the ticket's name

PHOTOS = Table(
    "photos",
    METADATA,
    Column("id", Integer, primary_key=True),
    Column("of", String, nullable=False),  # 'make/Tuesday skirt', 'cloth/Sand linen'
    Column("kind", String, nullable=False),  # image/jpeg, image/png, image/webp
    Column("words", String, nullable=False, server_default=""),
    Column("taken_at", String, nullable=False),
    Column("gone", Boolean, nullable=False, server_default=false()),  # taken away; undo brings it back
    Column("data", LargeBinary, nullable=False),
    Index("photos_of", "of"),
)

FLAGS = Table("flags", METADATA, Column("name", String, primary_key=True))  # things done once, like seeding
