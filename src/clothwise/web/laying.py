"""The station of cloth: the lay is looked at, a piece moved by hand and told at once whether it may lie there,
the rest laid anew around what is pinned. Each cloth of a ticket has the table for itself: `?on=` its name."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import asdict, replace
from typing import Any
from urllib.parse import urlencode

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from clothwise.cloth import Cloth
from clothwise.draft import pattern
from clothwise.errors import LayError, WorkroomError
from clothwise.lay.placement import Placement
from clothwise.lay.problem import LayProblem
from clothwise.store import Store, deeds, jobs
from clothwise.store.progress import KeptProgress
from clothwise.store.standing import Watch
from clothwise.store.store import HOW_FAR
from clothwise.ticket import Ticket
from clothwise.web import cut_now
from clothwise.web.cut_now import cut_of, not_to_be_cut, other_than_cupboard, refuse_cut
from clothwise.web.cutting_out import cutting_told, left_paths
from clothwise.web.dividing import ROUTES as DIVIDING
from clothwise.web.dividing import rows_of
from clothwise.web.entries import json_said
from clothwise.web.how_long import ROUTES as HOW_LONG
from clothwise.web.lay_drawing import laid_out
from clothwise.web.lay_state import (
    KEY,
    MAIN,
    KeptLay,
    all_faults,
    cloth_at,
    hand_faults,
    kept_lay,
    key_of,
    lay_mark,
    moved,
    place_called,
    places_of,
    problem_of,
    standing_lay,
    turned,
)
from clothwise.web.lay_wish import AS_USUAL, FOLDS, wish_typed
from clothwise.web.layers_to_buy import ROUTES as LAYERS
from clothwise.web.layers_to_buy import for_page
from clothwise.web.numbers import counted
from clothwise.web.sheet import (
    Reader,
    as_json,
    fragment,
    go_to,
    jobs_of,
    named,
    page,
    reader,
    slug,
    store_of,
    wants_json,
)
from clothwise.web.ticket_head import head_of, progress, scopes_of
from clothwise.web.ticket_state import load

FURTHEST = 100_000.0  # cm: no hand drags further


async def show(request: Request) -> Response:
    """The cloth with what lies on it."""
    return await run_in_threadpool(_shown, request)


def _shown(request: Request) -> Response:
    name = named(request.path_params["name"])
    head = head_of(request, name)
    ticket = head.state.whole
    place = place_called(ticket, request.query_params.get("on", ""))
    cloth, lay = cloth_at(ticket, place), kept_lay(head.said, place)
    data, wrong, old = None, "", False
    cut = cut_of(store_of(request), head.said)
    if lay is not None and head.seen is not None:
        old = lay.of != lay_mark(ticket, place)
        try:
            data = drawn_lay(request, lay, problem_of(ticket, place), cloth) if not old else None
        except WorkroomError as no:
            wrong = f"{no.what} {no.mend}"
    return page(
        request,
        "cloth.html",
        title=f"{name}: cloth",
        scope=scopes_of(name),
        head=head,
        station="cloth",
        lay=data,
        old=old,
        wrong=wrong,
        on=cloth,
        tables=tables_of(ticket, head.said, reader(request)) if ticket.other_cloths else [],
        divided=rows_of(head, store_of(request)),
        layers=for_page(request, head),
        folds=tuple(FOLDS),
        wished=_wished(lay, reader(request)),
        repeat=(cloth.repeat_along, cloth.repeat_across),
        job=request.query_params.get("job", ""),
        cut=cut,
        not_yet="" if cut else not_to_be_cut(ticket, head.said, reader(request)),
        other="" if cut else other_than_cupboard(store_of(request), ticket),
        tricks=request.query_params.get("tricks", ""),
        longest=request.query_params.get("longest", ""),
        lengthens=bool(pattern(ticket.pattern).shortened_by),
        data={
            "lay": data,
            "unit": reader(request).unit,
            "cut": cut is not None,
            "on": cloth.name,
            "beside": place != MAIN,
        },
    )


def _wished(lay: KeptLay | None, who: Reader) -> dict[str, str]:
    """What was wished of the lay that stands, as it would be typed."""
    placing = lay.placing if lay else AS_USUAL
    bar, stripe = ("" if at is None else who.number(at) for at in (placing.bar, placing.stripe))
    lean = f"{placing.lean:g}" if placing.lean else ""
    side = "yes" if placing.either_side else ""
    return {"gap": who.number(placing.gap), "bar": bar, "stripe": stripe, "lean": lean, "either_side": side}


def tables_of(ticket: Ticket, said: Mapping[str, Any], who: Reader) -> list[dict[str, str]]:
    """The cloths of a ticket, each with how it lies."""
    return [
        {"cloth": cloth_at(ticket, place).name, "says": _lies(ticket, said, place, who)}
        for place in places_of(ticket)
    ]


def _lies(ticket: Ticket, said: Mapping[str, Any], place: str, who: Reader) -> str:
    lay = standing_lay(said, ticket, place)
    if lay is None:
        return "not laid yet"
    problem = problem_of(ticket, place)
    if all_faults(lay, problem):
        return "cannot be cut so yet"
    have = cloth_at(ticket, place).usable_length
    return f"{who.metres(lay.plan(problem).length)} of {who.metres(have)}"


def drawn_lay(request: Request, lay: KeptLay, problem: LayProblem, cloth: Cloth) -> dict[str, Any]:
    """The lay as the page draws it, with how it is cut and what is left while nothing is wrong with it."""
    plan = lay.plan(problem)
    told = laid_out(plan, cloth.usable_length)
    wrong = all_faults(lay, problem)
    for copy in told["copies"]:
        copy["pinned"] = (copy["piece"], copy["copy"]) in lay.pinned
    cut = None if wrong else cutting_told(plan, cloth, reader(request))
    return {
        **told,
        "faults": list(wrong),
        "pinned": len(lay.pinned),
        "cuts": plan.cuts,
        "left": [] if wrong else left_paths(plan),
        "cutting": fragment(request, "cutting_out.html", cut=cut),
    }


async def plan(request: Request) -> Response:
    """Lays the ticket anew, around what is pinned."""
    form = await request.form()
    name = named(request.path_params["name"])
    asked = await run_in_threadpool(_asked, request, name, {key: str(text) for key, text in form.items()})
    number, on = await run_in_threadpool(jobs_of(request).begin, "lay", asked), str(form.get("on", ""))
    if wants_json(request):
        return as_json(request, {"job": number})
    return go_to(_address(name, on, job=str(number)))


def _asked(request: Request, name: str, form: Mapping[str, str]) -> dict[str, Any]:
    """What the worker is asked."""
    store = store_of(request)
    refuse_cut(store, name)
    ticket = load(store, name).whole
    place = place_called(ticket, form.get("on", ""))
    lay = kept_lay(progress(store, name), place)
    wish = wish_typed(form, reader(request), problem_of(ticket, place), lay.placing if lay else AS_USUAL)
    return {"ticket": name, "place": place, **asdict(wish)}


def _place(store: Store, name: str, on: str) -> str:
    """The place of the cloth in view."""
    return place_called(load(store, name).whole, on)


def _address(name: str, on: str = "", **more: str) -> str:
    """The station of cloth with that cloth on the table."""
    words = urlencode({key: value for key, value in {"on": on, **more}.items() if value})
    return f"/ticket/{slug(name)}/cloth{'?' if words else ''}{words}"


async def tricks(request: Request) -> Response:
    """Looks for trade tricks that would save cloth on this lay."""
    form = await request.form()
    name, on = named(request.path_params["name"]), str(form.get("on", ""))
    place = await run_in_threadpool(_place, store_of(request), name, on)
    number = await run_in_threadpool(jobs_of(request).begin, "tricks", {"ticket": name, "place": place})
    if wants_json(request):
        return as_json(request, {"job": number})
    return go_to(_address(name, on, tricks=str(number)))


async def take(request: Request) -> Response:
    """A trick taken whose lay holds for the pieces as they are."""
    form = await request.form()
    asked = (str(form.get("job", "")), str(form.get("number", "")), str(form.get("on", "")))
    return await run_in_threadpool(_taken, request, *asked)


def _taken(request: Request, job: str, number: str, on: str) -> Response:
    store, name = store_of(request), named(request.path_params["name"])
    refuse_cut(store, name)
    ticket = load(store, name).whole
    place = place_called(ticket, on)
    known = counted(job)
    found = () if known is None else jobs.news(store, known)
    offer = next((n.told for n in found if n.kind == "offer" and str(n.told["number"]) == number), None)
    lay = kept_lay({KEY: offer["lay"]}) if offer else None
    if offer is None or lay is None or lay.of != lay_mark(ticket, place):
        raise LayError(
            "That lay is not of this ticket as it stands.", where=f"ticket '{name}'", mend="Look once more."
        )
    keep_lay(store, name, lay, offer["title"], place)
    return go_to(_address(name, on))


async def hand(request: Request) -> Response:
    """A copy at another place: told whether it may lie there; kept when the hand lets go."""
    told = await _said(request)
    return await run_in_threadpool(_handed, request, told)


async def _said(request: Request) -> dict[str, Any]:
    try:
        told = await json_said(request)
        return {
            "piece": str(told["piece"]),
            "copy": int(told["copy"]),
            "dx": _cm(told["dx"]),
            "dy": _cm(told["dy"]),
            "turn": told.get("turn") is True,
            "keep": told.get("keep") is True,
            "free": told.get("free") is True,
            "on": str(told.get("on", "")),
        }
    except (ValueError, KeyError, TypeError, OverflowError):
        raise LayError("This is no move of a piece.", where="page", mend="Reload the page.") from None


def _cm(value: Any) -> float:
    number = float(value)
    if not abs(number) < FURTHEST:
        raise ValueError
    return number


def _handed(request: Request, told: dict[str, Any]) -> Response:
    store, name = store_of(request), named(request.path_params["name"])
    refuse_cut(store, name)
    ticket = load(store, name).whole
    place = place_called(ticket, told["on"])
    lay = _current(store, name, ticket, place)
    problem, watch = problem_of(ticket, place), Watch(store, scopes_of(name))
    one = next((p for p in lay.placements if (p.piece, p.copy) == (told["piece"], told["copy"])), None)
    if one is None:
        raise LayError("There is no such piece on this cloth.", where="lay", mend="Reload the page.")
    if told["free"]:
        off = {(one.piece, one.copy), (one.piece, one.copy ^ 1 if one.how == "double" else one.copy)}
        freed = replace(lay, pinned=lay.pinned - off)
        keep_lay(store, name, freed, f"{_title(problem, one)} freed", place, was=lay, watch=watch)
        return as_json(request, _answer(request, name, problem, ticket, place) | watch.told)
    placed = _placed(problem, one, told)
    wrong = hand_faults(lay, problem, placed)
    if not told["keep"]:
        return as_json(request, {"faults": list(wrong)})
    keep_lay(
        store,
        name,
        moved(lay, problem, placed),
        f"{_title(problem, one)} moved by hand",
        place,
        was=lay,
        watch=watch,
    )
    return as_json(request, _answer(request, name, problem, ticket, place) | watch.told)


def _placed(problem: LayProblem, one: Placement, told: dict[str, Any]) -> Placement:
    """The copy where the hand has it: moved by dx, dy of the page (y down), turned round if asked."""
    after = replace(one, dx=one.dx + told["dx"], dy=one.dy - told["dy"])
    if not told["turn"]:
        return after
    piece = next(piece for piece in problem.pieces if piece.name == one.piece)
    round_ = turned(after)
    (x, y), (u, v) = (_middle(p, piece) for p in (after, round_))
    return replace(round_, dx=round_.dx + x - u, dy=round_.dy + y - v)


def _middle(placement: Placement, piece: Any) -> tuple[float, float]:
    outline = placement.outline_on_cloth(piece)
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2


def _answer(request: Request, name: str, problem: LayProblem, ticket: Ticket, place: str) -> dict[str, Any]:
    store = store_of(request)
    said = progress(store, name)
    lay = kept_lay(said, place)
    assert lay is not None
    can = deeds.can(store, scopes_of(name))
    return {
        "lay": drawn_lay(request, lay, problem, cloth_at(ticket, place)),
        "not_yet": not_to_be_cut(ticket, said, reader(request)),
        "undo": can.undo.words if can.undo else "",
    }


def _title(problem: LayProblem, one: Placement) -> str:
    return next(piece.title for piece in problem.pieces if piece.name == one.piece)


def _current(store: Store, name: str, ticket: Ticket, place: str) -> KeptLay:
    lay = standing_lay(progress(store, name), ticket, place)
    if lay is None:
        raise LayError(
            "The ticket was changed since it was laid.",
            where=f"ticket '{name}': lay",
            mend="Lay it anew first.",
        )
    return lay


def keep_lay(
    store: Store,
    name: str,
    lay: KeptLay,
    words: str,
    place: str = MAIN,
    *,
    was: KeptLay | None = None,
    watch: Watch | None = None,
) -> None:
    """Keeps the lay of one cloth in the ticket's progress, as a deed.

    was     the lay that this one was made of by hand; LayError when another lies there by now
    """

    def laid(said: Mapping[str, Any]) -> dict[str, Any]:
        if was is not None and kept_lay(said, place) != was:
            raise LayError(
                "Another piece was moved elsewhere in the same moment.",
                where=f"ticket '{name}': lay",
                mend="See how they lie now, then move it again.",
            )
        return {key_of(place): lay.told()}

    change_progress(store, name, words, laid, watch)


def set_progress(store: Store, name: str, entries: dict[str, Any], words: str) -> None:
    """Sets entries of a ticket's progress as it stands now, in one deed."""
    change_progress(store, name, words, lambda _said: entries)


def change_progress(
    store: Store,
    name: str,
    words: str,
    entries: Callable[[Mapping[str, Any]], dict[str, Any]],
    watch: Watch | None = None,
) -> None:
    """Sets entries that follow from how far the ticket is at that moment, in one deed."""

    def change(hand: deeds.Hand) -> None:
        before = hand.find(HOW_FAR, name)
        said = before.said if before else {}
        hand.keep(HOW_FAR, KeptProgress(name, {**said, **entries(said)}))

    deeds.do(store, f"progress/{name}", words, change, watch)


ROUTES = (
    Route("/ticket/{name}/cloth", show),
    Route("/ticket/{name}/cloth/plan", plan, methods=["POST"]),
    Route("/ticket/{name}/cloth/hand", hand, methods=["POST"]),
    Route("/ticket/{name}/cloth/tricks", tricks, methods=["POST"]),
    Route("/ticket/{name}/cloth/take", take, methods=["POST"]),
    *cut_now.ROUTES,
    *DIVIDING,
    *HOW_LONG,
    *LAYERS,
)
