"""What every screen is written on: its reader, the templates, and the addresses of named things.

Lengths are cm inside; a reader sees cm or inches, as her cookie says. Names stand in addresses in a form that
has no slash and no percent sign ('Tuesday+skirt'), so that every name has exactly one address.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any
from urllib.parse import quote, unquote, urlsplit

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, RedirectResponse, Response

from clothwise import __version__
from clothwise.body import Body
from clothwise.draft.pattern import Choice
from clothwise.errors import WorkroomError
from clothwise.sew.sewer import Units
from clothwise.store import Store, deeds
from clothwise.store.standing import stands
from clothwise.suggest.words import duration
from clothwise.units import Unit, format_length, parse_length
from clothwise.web.dye import dyed
from clothwise.web.words_set import in_inches, number_in_inches, text_set, words_set, yards

if TYPE_CHECKING:
    from clothwise.web.jobs import Jobs

UNITS_COOKIE = "units"
YEAR = 60 * 60 * 24 * 365  # seconds

# Of data for a script: fields, names, mark-up, and outlines, in which no sentence stands.
AS_IT_IS = frozenset(("says", "name", "cloth", "html", "cutting", "pieces", "cuts", "pulls", "drawn", "shape"))

NAV = (  # address, words, and how the addresses of all that belongs there begin
    ("/", "This evening", ("/evening",)),
    ("/tickets", "Tickets", ("/ticket",)),
    ("/people", "People", ("/people", "/person/")),
    ("/cupboard", "Cupboard", ("/cupboard", "/cloth/", "/box", "/shopping")),
    ("/shelf", "Shelf", ("/shelf", "/draft/", "/bought")),
    ("/makes", "Makes", ("/make",)),
)


@dataclass(frozen=True)
class Reader:
    """In which unit this browser reads and types lengths."""

    inches: bool = False

    @property
    def unit(self) -> Unit:
        """What a bare number means."""
        return "in" if self.inches else "cm"

    @property
    def units(self) -> Units:
        """The same as a booklet is told in."""
        return "inch" if self.inches else "cm"

    def length(self, cm: float) -> str:
        """'67.3 cm', '26 1/2 in'"""
        return format_length(cm, self.unit)

    def number(self, cm: float) -> str:
        """The same without its unit, as it stands in a field."""
        return format_length(cm, self.unit, with_unit=False)

    def metres(self, cm: float) -> str:
        """A length of cloth: metres, or yards."""
        return yards(cm) if self.inches else format_length(cm, "m")

    def sentence(self, words: str) -> str:
        """A sentence of the house, which speaks in cm, in this reader's unit."""
        return in_inches(words) if self.inches else words

    def meaning(self, choice: Choice) -> str:
        """What a choice is, its numbers in this reader's unit."""
        alone = self.inches and choice.unit == "cm"
        return number_in_inches(choice.meaning) if alone else self.sentence(choice.meaning)

    def typed(self, text: str, *, allow_negative: bool = False, stands: float | None = None) -> float:
        """What was typed, in cm; `stands`, where it only says again how that is shown. Raises LengthError."""

        def read(words: str) -> float:
            return parse_length(words, unit=self.unit, allow_negative=allow_negative)

        cm = read(text)
        return cm if stands is None or read(self.number(stands)) != cm else stands


def reader(request: Request) -> Reader:
    """The reader behind a request."""
    return Reader(request.cookies.get(UNITS_COOKIE) == "inch")


def store_of(request: Request) -> Store:
    """The one open store."""
    store: Store = request.app.state.store
    if not hasattr(request.state, "writes"):
        request.state.writes = store.writes
    return store


def jobs_of(request: Request) -> Jobs:
    """The long work."""
    jobs: Jobs = request.app.state.jobs
    return jobs


# ---- addresses -----------------------------------------------------------------------------------


def slug(name: str) -> str:
    """A name as a part of an address; `named` turns it back."""
    if not name.strip("."):  # a browser would take '..' for the way up
        return "~2E" * len(name)
    return quote(name, safe="").replace("~", "~7E").replace("%20", "+").replace("%", "~")


def named(part: str) -> str:
    """The name behind a part of an address."""
    return unquote(re.sub(r"~(?=[0-9A-F]{2})", "%", part.replace("+", " ")))


def own_path(path: str) -> str:
    """A path of this page to go back to; anything else becomes the start page."""
    return path if path.startswith("/") and not path.startswith(("//", "/\\")) and "\\" not in path else "/"


def go_to(path: str) -> Response:
    """After a form: look at the result, so that reloading sends nothing again."""
    return RedirectResponse(own_path(path), status_code=303)


def wants_json(request: Request) -> bool:
    """Whether a script asks, not a person."""
    return "application/json" in request.headers.get("accept", "")


# ---- pages ---------------------------------------------------------------------------------------


@cache
def templates() -> Environment:
    """The templates. Everything put into them is escaped."""
    made = Environment(
        loader=FileSystemLoader(Path(__file__).parent / "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters |= {"slug": slug, "spoken": spoken, "duration": duration, "css": css_word, "dyed": dyed}
    made.filters |= {"listed": listed, "taped": taped}
    made.globals |= {"nav": NAV, "version": __version__}
    return made


def taped(bodies: Iterable[Body]) -> list[Body]:
    """Those of whom anything is taped: a card that was only begun measures nobody yet."""
    return [body for body in bodies if body.measures]


def page(
    request: Request, template: str, *, scope: deeds.Scopes = "", status: int = 200, **context: Any
) -> HTMLResponse:
    """A whole page. `scope` is what undo and redo on it look at (see `store.deeds`); '' = nothing."""
    return HTMLResponse(fragment(request, template, scope=scope, **context), status_code=status)


def fragment(request: Request, template: str, *, scope: deeds.Scopes = "", **context: Any) -> Markup:
    """A template filled in."""
    here = request.url.path + (f"?{request.url.query}" if request.url.query else "")
    can = deeds.can(store_of(request), scope) if scope else deeds.Can(None, None)
    scopes = ([scope] if scope else []) if isinstance(scope, str) else list(scope)
    common = {"request": request, "reader": reader(request), "here": here, "scopes": scopes, "can": can}
    if "data" in context:  # for the page's own script
        context["data"] = told(context["data"], reader(request))
    common["stands"] = _stands(request, scopes)
    filled = templates().get_template(template).render({**common, **context})
    return words_set(filled, lambda: _all_names(store_of(request)), inches=reader(request).inches)


def _all_names(store: Store) -> set[str]:
    """Whatever is called something here."""
    things = (store.bodies, store.cloths, store.tickets, store.bought_patterns, store.makes, store.box)
    return {thing.name for every in things for thing in every()}


def _stands(request: Request, scopes: Sequence[str]) -> str:
    """How the things of a page stand that is made now; '?' where they may have changed while it was made."""
    store = store_of(request)
    told = stands(store, scopes) if scopes else ""
    return told if not told or store.writes == request.state.writes else "?"


def refused(request: Request, no: WorkroomError, status: int) -> HTMLResponse:
    """The page of a refusal: what, where, how to mend."""
    return page(request, "refused.html", status=status, no=no, title="That cannot be", back=came_from(request))


def came_from(request: Request) -> str:
    """The page of ours on which a form was sent; '' for an address that was simply opened."""
    try:
        parts = urlsplit(request.headers.get("referer", ""))
    except ValueError:  # no address at all
        return ""
    if request.method == "GET" or parts.netloc != request.headers["host"]:
        return ""
    return own_path(f"{parts.path}?{parts.query}" if parts.query else parts.path)


def as_refusal(no: WorkroomError) -> Mapping[str, str]:
    """A refusal for a script."""
    return {"what": text_set(no.what), "where": no.where, "mend": text_set(no.mend)}


def as_json(request: Request, data: Any, status: int = 200) -> JSONResponse:
    """Data for a script, its sentences in the reader's unit."""
    return JSONResponse(told(data, reader(request)), status_code=status)


def told(data: Any, who: Reader) -> Any:
    """The same data; what is typed, named, or set already stays as it is."""
    if not who.inches:
        return data
    if isinstance(data, Mapping):
        return {key: value if key in AS_IT_IS else told(value, who) for key, value in data.items()}
    if isinstance(data, list | tuple):
        return [told(one, who) for one in data]
    return who.sentence(data) if isinstance(data, str) else data


# ---- words ---------------------------------------------------------------------------------------


def spoken(name: str) -> str:
    """'hip_girth' as it is said: 'hip girth'."""
    return name.removesuffix("_deg").replace("_", " ")


def listed(names: Sequence[str]) -> str:
    """'A', 'A and B', 'A, B and C'."""
    return ", ".join(names) if len(names) < 2 else f"{', '.join(names[:-1])} and {names[-1]}"


def css_word(name: str) -> str:
    """A word for a class or an id: letters, digits and hyphens only."""
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-") or "x"
