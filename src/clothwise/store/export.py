"""Everything in the store as plain files that any program reads: JSON whole, CSV for lists, tickets as TOML.

Lengths are cm whatever unit their reader likes to see, since that is what is kept; `UNITS` goes along and says
so, and in a table the unit stands in the head of its column.
Nothing here is needed to come back: that is what a backup is for. This is for leaving, or for a spreadsheet.
"""

from __future__ import annotations

import csv
import io
import json
import zipfile
from collections.abc import Iterable, Sequence
from typing import Any

from sqlalchemy import select

from clothwise.body import definition
from clothwise.shelf.writing import write_pattern
from clothwise.store.store import HOW_FAR, Store
from clothwise.store.tables import PHOTOS
from clothwise.ticket.figures import as_json, body_figures, cloth_figures, plain

FORMAT = 2  # of everything.json; 2: its units
UNITS = {
    "lengths": "cm: along is along the selvedge, across from selvedge to selvedge; corners are [along, across]",
    "shoulder_slope_deg": "degrees",
    "grams_per_m2": "g/m²",
    "price_per_m": "in the money of whoever wrote it, for one metre",
    "stretch_along, stretch_across, recovery, drape, shrinkage": "a share of 1, so 0.05 is 5 %",
    "minutes, spent, time": "minutes",
    "age_years": "years",
    "dates": "year-month-day",
}
IN_HEAD = {"width": "cm", "length": "cm", "usable_width": "cm", "usable_length": "cm", "repeat_along": "cm",
           "repeat_across": "cm", "outline": "cm", "flaws": "cm", "grams_per_m2": "g/m²",
           "shrinkage": "share", "stretch_along": "share", "stretch_across": "share", "recovery": "share",
           "drape": "share"}  # fmt: skip
ENDINGS = {"image/jpeg": "jpg", "image/png": "png", "image/webp": "webp"}
THEN = (1980, 1, 1, 0, 0, 0)  # the date of every file in the archive: same store, same bytes
FORMULA = ("=", "+", "-", "@", "\t", "\r")  # a spreadsheet would take a cell that begins so for a formula


def exported(store: Store) -> dict[str, bytes]:
    """The files by name."""
    whole = everything(store)
    files = {
        "everything.json": as_json(whole).encode(),
        "units.txt": "".join(f"{what}: {unit}\n" for what, unit in UNITS.items()).encode(),
        "measures.csv": _table(
            ("body", "measure", "value", "unit", "source", "low", "high", "taken_on"),
            (
                (
                    *(body["name"], name, one["cm"], definition(name).unit),
                    *(one["source"], one["low"], one["high"], body["taken_on"]),
                )
                for body in whole["bodies"]
                for name, one in body["measures"].items()
            ),
        ),
        "cloths.csv": _rows(whole["cloths"]),
        "box.csv": _rows(whole["box"]),
        "tickets.csv": _table(
            ("name", "created_on", "sha256"),
            ((t["name"], t["created_on"], t["sha256"]) for t in whole["tickets"]),
        ),
        "makes.csv": _table(
            ("make", "person", "pattern", "made_on", "level", "ease [cm]", "verdict"),
            (
                (m["name"], m["person"], m["pattern"], m["made_on"], j["level"], j["ease"], j["verdict"])
                for m in whole["makes"]
                for j in m["judgements"] or [{"level": "", "ease": "", "verdict": ""}]
            ),
        ),
    }
    for number, ticket in enumerate(whole["tickets"], 1):
        files[f"tickets/{number}.toml"] = ticket["text"].encode()
    for number, pattern in enumerate(store.bought_patterns(), 1):
        files[f"bought_patterns/{number}.toml"] = write_pattern(pattern).encode()
    return {**files, **_photos(store)}


def everything(store: Store) -> dict[str, Any]:
    """All that stands in the store now, as plain data."""
    return {
        "export": FORMAT,
        "units": UNITS,
        "bodies": [body_figures(body) for body in store.bodies()],
        "cloths": [cloth_figures(cloth) for cloth in store.cloths()],
        "box": [plain(item) for item in store.box()],
        "tickets": [{**plain(ticket), "sha256": ticket.sha256} for ticket in store.tickets()],
        "progress": [{"name": one.name, **dict(one.said)} for one in store._all(HOW_FAR)],
        "bought_patterns": [plain(pattern) for pattern in store.bought_patterns()],
        "makes": [plain(make) for make in store.makes()],
        "photos": [
            {"file": name, "of": of, "words": words, "taken_at": taken}
            for name, of, words, taken, _ in _photo_rows(store)
        ],
    }


def as_archive(files: dict[str, bytes]) -> bytes:
    """The files in one archive."""
    whole = io.BytesIO()
    with zipfile.ZipFile(whole, "w") as archive:
        for name, data in files.items():
            archive.writestr(zipfile.ZipInfo(name, THEN), data, zipfile.ZIP_DEFLATED)
    return whole.getvalue()


def _photo_rows(store: Store) -> list[tuple[str, str, str, str, bytes]]:
    with store._reading() as connection:
        rows = connection.execute(select(PHOTOS).where(~PHOTOS.c.gone).order_by(PHOTOS.c.id)).all()
    return [(f"photos/{r.id}.{ENDINGS.get(r.kind, 'bin')}", r.of, r.words, r.taken_at, r.data) for r in rows]


def _photos(store: Store) -> dict[str, bytes]:
    return {name: data for name, _, _, _, data in _photo_rows(store)}


def _rows(things: Sequence[dict[str, Any]]) -> bytes:
    head = list(dict.fromkeys(key for thing in things for key in thing))
    named = [f"{key} [{IN_HEAD[key]}]" if key in IN_HEAD else key for key in head]
    return _table(named, ([thing.get(key) for key in head] for thing in things))


def _table(head: Sequence[str], rows: Iterable[Sequence[Any]]) -> bytes:
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow(head)
    writer.writerows([_cell(value) for value in row] for row in rows)
    return text.getvalue().encode()


def _cell(value: Any) -> Any:
    """A cell that no spreadsheet runs."""
    if value is None:
        return ""
    if isinstance(value, list | dict):
        return json.dumps(value, ensure_ascii=False)
    return "'" + value if isinstance(value, str) and value.startswith(FORMULA) else value
