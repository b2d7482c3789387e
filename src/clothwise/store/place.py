"""Where the store lies."""

from __future__ import annotations

import os
from pathlib import Path

from platformdirs import user_data_path

VARIABLE = "CLOTHWISE_STORE"  # of the environment: a path or a database URL, instead of the usual place
FILE = "clothwise.sqlite"


def default_place() -> str:
    """The place named by CLOTHWISE_STORE, else a file in the person's own data folder."""
    return os.environ.get(VARIABLE) or str(user_data_path("clothwise", appauthor=False) / FILE)


def file_of(place: str | Path) -> Path | None:
    """The file of a path or of an SQLite URL; None for a database that is not a file."""
    text = str(place)
    if text.startswith("sqlite:///"):
        return Path(text.removeprefix("sqlite:///").split("?")[0])
    return None if "://" in text else Path(text)
