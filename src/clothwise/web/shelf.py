"""The shelf: house drafts, each with its pieces as they come out for somebody, and bought patterns."""

from __future__ import annotations

from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from clothwise.body import Body, definition
from clothwise.draft import PATTERNS, Choice, HouseDraft, pattern
from clothwise.errors import WorkroomError
from clothwise.sew.cautions import SLEPT_IN, Caution
from clothwise.suggest.cautions import CHILDREN, caution_words
from clothwise.web.little_pieces import little_pieces
from clothwise.web.sheet import Reader, named, page, reader, store_of

FOR_LEGS = ("pull_on_trousers", "jogger", "pyjama_bottoms", "leggings")
SKIRTS = (
    *("four_panel_skirt", "a_line_skirt", "circle_skirt", "bias_skirt"),
    *("gathered_skirt", "tiered_skirt"),
)
TOPS = (
    *("darted_shift", "raglan_pullover", "cut_on_sleeve_tee", "button_front_shirt"),
    *("bias_camisole", "sweatshirt"),
)
KINDS = (  # how a book sorts them; the shelf shows each draft once
    ("For legs", FOR_LEGS),
    ("Skirts", SKIRTS),
    ("Tops and dresses", TOPS),
    ("Over everything", ("robe", "apron")),
)
OTHERS = "Others"


async def show(request: Request) -> Response:
    """All that can be made."""
    return await run_in_threadpool(_shown, request)


def _shown(request: Request) -> Response:
    store = store_of(request)
    bodies = store.bodies()
    person = _drawn_for(bodies, request.query_params.get("for", ""))
    groups = [(title, [_tag(draft, person) for draft in drafts]) for title, drafts in grouped()]
    return page(
        request, "shelf.html", title="Shelf", scope="bought pattern/", person=person, bodies=bodies,
        groups=groups, no=_no_at_all([tag["no"] for _, tags in groups for tag in tags]),
        bought=store.bought_patterns(),
    )  # fmt: skip


def _no_at_all(refusals: list[WorkroomError | None]) -> WorkroomError | None:
    """The one refusal, where all drafts are refused for the same reason: it is said once then."""
    first = refusals[0]
    return first if first and all(no and no.what == first.what for no in refusals) else None


def grouped() -> list[tuple[str, list[HouseDraft]]]:
    """The drafts by kind; one that no kind names stands under `OTHERS`."""
    placed = [name for _, names in KINDS for name in names]
    groups = [(title, [draft for draft in PATTERNS if draft.name in names]) for title, names in KINDS]
    groups.append((OTHERS, [draft for draft in PATTERNS if draft.name not in placed]))
    return [(title, drafts) for title, drafts in groups if drafts]


def _drawn_for(bodies: tuple[Body, ...], wanted: str) -> Body | None:
    """The person whose pieces are shown: the one asked for, else the first grown-up, else anybody."""
    asked = [body for body in bodies if body.name == wanted]
    return next(iter([*asked, *(body for body in bodies if not body.child), *bodies]), None)


def _tag(draft: HouseDraft, person: Body | None) -> dict[str, Any]:
    found = little_pieces(draft.name, person) if person else None
    no = found if isinstance(found, WorkroomError) else None
    return {"draft": draft, "drawn": None if no else found, "no": no}


async def draft(request: Request) -> Response:
    """One house draft: what it is, what may be chosen, which measures it wants."""
    return await run_in_threadpool(_draft, request)


def _draft(request: Request) -> Response:
    store, who = store_of(request), reader(request)
    found = pattern(named(request.path_params["name"]))
    bodies = store.bodies()
    person = _drawn_for(bodies, request.query_params.get("for", ""))
    return page(
        request, "draft.html", title=found.title, draft=found, tag=_tag(found, person), person=person,
        bodies=bodies, cloths=[cloth for cloth in store.cloths() if cloth.make in found.makes],
        choices=[_row(choice, who) for choice in found.choices],
        needs=[(definition(need), person is not None and person.taped(need)) for need in found.needs],
        makes=[make for make in store.makes() if make.pattern == found.name],
        cautions=caution_words(_cautions(found.name, person)),
    )  # fmt: skip


def _cautions(draft: str, person: Body | None) -> tuple[Caution, ...]:
    """What is minded before one begins: sleepwear and fire, what may come off or tie on a child."""
    slept_in = draft in SLEPT_IN
    if person is None or person.figure not in CHILDREN:
        return ("nightwear",) if slept_in else ()
    return ("child nightwear", "child cords", "small parts") if slept_in else ("child cords", "small parts")


def _row(choice: Choice, who: Reader) -> dict[str, Any]:
    """A choice as a line of the card: what is possible, and what it is when nothing is said."""

    def said(value: float) -> str:
        return who.length(value) if choice.unit == "cm" else f"{value:g} {choice.unit}".strip()

    usual = "from the body" if choice.default is None else str(choice.default)
    if isinstance(choice.default, int | float):
        usual = said(choice.default)
    possible = ", ".join(choice.options) or f"{said(choice.low)} to {said(choice.high)}"
    return {"choice": choice, "possible": possible, "usual": usual}


ROUTES = (Route("/shelf", show), Route("/draft/{name}", draft))
