"""Alterations of a ticket's pieces at the page: those that apply, those asked for in words, one more, one less.

Each is drawn and checked before it is kept: what would no longer sew is refused. Which apply is found by trying
them in the process beside the page, when the sewer asks for them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response
from starlette.routing import Route

from clothwise.alter import Change, change_of
from clothwise.alter.change import NUMBERS, Value, possible
from clothwise.alter.room import slash
from clothwise.alter.widen import LEAST_ACROSS
from clothwise.errors import ChoiceError, WorkroomError
from clothwise.garment import Garment, Piece
from clothwise.garment.check import check
from clothwise.ticket import Ticket, read_ticket, write_ticket
from clothwise.web.live import drawn
from clothwise.web.numbers import NUMBER
from clothwise.web.sheet import Reader, fragment, go_to, named, reader, slug, spoken, store_of, wants_json
from clothwise.web.ticket_head import bench_of
from clothwise.web.ticket_state import State, keep_whole, load, plain_number

MOST_CHANGES = 40  # of one ticket; each is drawn after the other
WORTH_SPLITTING = 12.0  # cm: narrower pieces are bands and straps
SHARES = (
    ("a quarter", 0.25),
    ("a third", 0.3333),
    ("half", 0.5),
    ("two thirds", 0.6667),
    ("three quarters", 0.75),
)


@dataclass(frozen=True, slots=True)
class Offered:
    """One kind of alteration as a blank: where it may be done, and what is asked besides.

    places   (entries written 'seam=side_seam piece=front', in words)
    amounts  (entry, in words, 'cm' or '', what stands there first)
    """

    what: str
    says: str
    places: tuple[tuple[str, str], ...] = ()
    amounts: tuple[tuple[str, str, str, str], ...] = ()


def offered(text: str) -> tuple[Offered, ...]:
    """The alterations that apply to a whole ticket's pieces as they are now; none while nothing is drawn."""
    try:
        garment = drawn(read_ticket(text))
    except WorkroomError:
        return ()  # the station says why
    return tuple(one for one in _kinds(garment) if one.places or one.what == "cut singly")


def _kinds(garment: Garment) -> Iterator[Offered]:
    shell = [piece for piece in garment.pieces if piece.layer == "shell"]
    by = ("by", "by", "cm", "")
    yield Offered("lengthen", "longer or shorter in one place", tuple(_levels(garment)), (by,))
    yield Offered(
        "wedge",
        "a wedge let in or taken out",
        _that_work(garment, "wedge", tuple(_wedges(garment, shell)), by=0.5),
        (by,),
    )
    yield Offered("flare", "flare at the hem", tuple(_flares(shell)), (by,))
    fullness = tuple(_fullness(garment))
    yield Offered(
        "gather",
        "gathers",
        _that_work(garment, "gather", fullness, by=1.3),
        (("by", "times as long", "", "1.5"),),
    )
    pleats = (("number", "pleats on each half", "", "3"), ("by", "deep", "cm", ""))
    yield Offered("pleat", "pleats", _that_work(garment, "pleat", fullness, number=1.0, by=2.0), pleats)
    rounds = tuple((f"hem={f.name}", f.title.lower()) for f in garment.free_edges if f.kind == "hem")
    tucks = (("number", "tucks", "", "1"), ("by", "deep", "cm", "1.5"))
    yield Offered(
        "growth tuck",
        "growth tucks, to be let down",
        _that_work(garment, "growth tuck", rounds, number=1.0, by=1.0),
        tucks,
    )
    darts = (
        (f"piece={p.name} dart={d.name}", f"{spoken(d.name)}, {_low(p)}")
        for p in shell
        for d in p.darts
        if d.edge
    )
    ways = tuple(_dart_ways(shell))
    yield Offered("move dart", "a dart moved to another edge", _that_work(garment, "move dart", ways))
    yield Offered("part dart", "a dart parted in two", _that_work(garment, "part dart", ways))
    yield Offered("let dart out", "a dart left open, to ease or gather", tuple(darts))
    seams = tuple(_two_sided(garment))
    yield Offered("move seam", "a seam moved", _that_work(garment, "move seam", seams, by=0.5), (by,))
    levels = [
        (f"piece={p.name} at={m.name}", f"{_low(p)}, at the {spoken(m.name)}")
        for p in shell
        for m in p.marks
        if m.kind == "level"
    ]
    below = ("below", "below it (above with a minus)", "cm", "0")
    yield Offered("yoke", "cut across for a yoke", tuple(levels), ((*below[:3], "-6"),))
    split = tuple(
        (f"piece={p.name} share={share}", f"{_low(p)}, at {words} of its width")
        for p in shell
        if _width(p) >= WORTH_SPLITTING
        for words, share in SHARES
    )
    yield Offered("split", "split along the grain", split)
    hems = tuple((f"hem={f.name}", f.title.lower()) for f in garment.free_edges if f.kind == "hem")
    yield Offered("face hem", "a faced hem", hems, (("by", "wide", "cm", ""),))
    hung = tuple((f"seam={s.name}", f"hung from the {s.title.lower()}") for s in garment.seams)
    yield Offered(
        "line",
        "a lining",
        _that_work(garment, "line", hung, by=2.0),
        (("by", "shorter than the hem", "cm", ""),),
    )
    yield Offered("pocket", "a patch pocket", tuple(levels), (("by", "wide", "cm", ""), below))
    folded = tuple((f"piece={p.name}", _low(p)) for p in shell if p.fold is not None)
    yield Offered("button", "buttoned down the middle", _that_work(garment, "button", folded))
    if _that_work(garment, "cut singly", (("", ""),)):
        yield Offered("cut singly", "left and right told apart")


def _width(piece: Piece) -> float:
    left, _, right, _ = piece.outline().bounds()
    return right - left


def _low(piece: Piece) -> str:
    return piece.title[:1].lower() + piece.title[1:]


def _levels(garment: Garment) -> Iterator[tuple[str, str]]:
    seen: dict[str, str] = {}
    for mark in (mark for piece in garment.pieces for mark in piece.marks):
        seen.setdefault(mark.name, mark.kind)
    for name, kind in seen.items():
        if kind == "adjust":
            yield f"at={name}", f"at the line for it, {spoken(name.removeprefix('adjust_'))}"
        elif kind == "level":
            yield from ((f"at={name} side={side}", f"{side} the {spoken(name)}") for side in ("below", "above"))


def _wedges(garment: Garment, shell: Sequence[Piece]) -> Iterator[tuple[str, str]]:
    for piece in shell:
        for mark in (mark for mark in piece.marks if mark.kind == "level"):
            try:
                cut = slash(piece, mark.curve)
            except WorkroomError:
                continue  # its line does not run from edge to edge: no wedge there
            for edge in (cut.left, cut.right):
                where = f"{_low(piece)}, at the {spoken(mark.name)}, widest at the {spoken(edge.name)}"
                yield f"pieces={piece.name} at={mark.name} edge={edge.name}", where


def _dart_ways(shell: Sequence[Piece]) -> Iterator[tuple[str, str]]:
    """Every dart that opens at an edge, and every other seam edge of its piece, half-way along it."""
    for piece in shell:
        mouths = {dart.edge for dart in piece.darts}
        edges = [edge.name for edge in piece if edge.kind == "seam" and edge.name not in mouths]
        for dart in (dart for dart in piece.darts if dart.edge):
            for edge in edges:
                where = f"piece={piece.name} dart={dart.name} to={edge} share=0.5"
                yield where, f"{spoken(dart.name)}, {_low(piece)}, to the {spoken(edge)}"


def _flares(shell: Sequence[Piece]) -> Iterator[tuple[str, str]]:
    hung = [
        piece for piece in shell if any(edge.kind == "hem" and edge.name.startswith("hem") for edge in piece)
    ]
    if len(hung) > 1:
        yield f"pieces={','.join(p.name for p in hung)}", "all round"
    yield from ((f"pieces={piece.name}", _low(piece)) for piece in hung)


def _fullness(garment: Garment) -> Iterator[tuple[str, str]]:
    """Edges sewn in that run across their piece."""
    for seam in garment.seams:
        for name, line in dict.fromkeys((run.piece, run.line) for run in seam.runs):
            piece = garment.piece(name)
            edge = next((edge for edge in piece if edge.name == line), None)
            if (
                edge is not None
                and abs(edge.curve.start.x - edge.curve.end.x) >= LEAST_ACROSS * edge.curve.length()
            ):
                yield f"seam={seam.name} piece={name}", f"{_low(piece)}, into the {seam.title.lower()}"


def _two_sided(garment: Garment) -> Iterator[tuple[str, str]]:
    for seam in garment.seams:
        pieces = dict.fromkeys(run.piece for run in seam.runs)
        if seam.kind == "plain" and len(pieces) == 2:
            for name in pieces:
                narrower = _low(garment.piece(name))
                yield f"seam={seam.name} piece={name}", f"{seam.title.lower()}, {narrower} narrower"


def _that_work(
    garment: Garment, what: str, places: Sequence[tuple[str, str]], **amounts: float
) -> tuple[tuple[str, str], ...]:
    """The places where so little of it can be done at all."""
    found = []
    for place in places:
        if possible(garment, change_of(what, {**_entries(place[0]), **amounts})):
            found.append(place)
    return tuple(found)


def _entries(place: str) -> dict[str, Value]:
    """'seam=side_seam piece=front' as entries of a change."""
    pairs = (pair.split("=", 1) for pair in place.split())
    return {pair[0]: float(pair[1]) if pair[0] in NUMBERS else pair[1] for pair in pairs if len(pair) == 2}


# ---- in words ------------------------------------------------------------------------------------


def words_of_change(change: Change, who: Reader) -> str:
    """'2.0 cm longer below the hip'"""
    e = change.entries
    amount = float(e.get("by", 0.0))
    by = who.length(abs(amount))
    piece, seam = (
        spoken(str(e.get("piece", e.get("pieces", "")))).replace(",", ", "),
        spoken(str(e.get("seam", ""))),
    )
    at = spoken(str(e.get("at", "")))
    more = amount > 0
    below = float(e.get("below", 0.0))
    beside = f", {who.length(abs(below))} {'below' if below > 0 else 'above'} it" if below else ""
    match change.what:
        case "lengthen":
            line = (
                f"at the line for it, {at.removeprefix('adjust ')}"
                if at.startswith("adjust")
                else f"{e.get('side', 'below')} the {at}"
            )
            return f"{by} {'longer' if more else 'shorter'} {line}"
        case "wedge":
            does = "let in" if more else "taken out"
            return f"a wedge of {by} {does}, {piece}, at the {at}, widest at the {spoken(str(e['edge']))}"
        case "flare":
            return f"{by} of flare {'added' if more else 'taken out'} at the hem, {piece}"
        case "gather":
            return f"{piece} {amount:g} times as long, gathered into the {seam}"
        case "pleat":
            return f"{float(e['number']):g} pleats {by} deep on each half, {piece}, into the {seam}"
        case "growth tuck":
            count = float(e["number"])
            return (
                f"{count:g} growth tuck{'s' if count > 1 else ''} {by} deep above the {spoken(str(e['hem']))}"
            )
        case "move dart" | "part dart":
            does = "moved" if change.what == "move dart" else "parted, half of it moved"
            return f"{spoken(str(e['dart']))} {does} to the {spoken(str(e['to']))}, {piece}"
        case "let dart out":
            return f"{spoken(str(e['dart']))} left open, {piece}"
        case "move seam":
            return f"{seam} moved {by}, {piece} {'narrower' if more else 'wider'}"
        case "yoke":
            return f"{piece} cut across at the {at}{beside}"
        case "split":
            return f"{piece} split along the grain, {float(e['share']):.0%} of its width"
        case "face hem":
            return f"{spoken(str(e['hem']))} faced, {by} wide"
        case "line":
            return f"lined from the {seam} down, {by} shorter"
        case "pocket":
            return f"patch pocket {by} wide, {piece}, at the {at}{beside}"
        case "button":
            return f"{piece} buttoned down the middle"
    return "left and right told apart"


# ---- deeds ---------------------------------------------------------------------------------------


async def kinds(request: Request) -> Response:
    """The blanks for one more alteration."""
    state = await run_in_threadpool(_state, request)
    found = await bench_of(request).ask(offered, write_ticket(state.whole))
    path = f"/ticket/{slug(state.name)}"
    return HTMLResponse(fragment(request, "altering.html", kinds=found, path=path))


async def add(request: Request) -> Response:
    """One more alteration, drawn and checked before it is kept."""
    form = await request.form()
    told = {key: str(value).strip() for key, value in form.items()}
    return await run_in_threadpool(_added, request, told)


def _added(request: Request, told: Mapping[str, str]) -> Response:
    who = reader(request)
    what = told.get("what", "")
    entries = _entries(told.get("place", ""))
    for name in NUMBERS:
        text = told.get(name, "")
        if text and name != "share":
            length = name == "below" or (name == "by" and what != "gather")
            entries[name] = who.typed(text, allow_negative=True) if length else plain_number(text, "a number")
    if entries.get("below") == 0:
        del entries["below"]
    change = change_of(what, entries)
    state = _state(request)
    if len(state.ticket.changes) >= MOST_CHANGES:
        raise ChoiceError(
            f"{MOST_CHANGES} alterations are more than one draft bears.",
            where=f"ticket '{state.name}'",
            mend="Take one away first, or begin from another draft.",
        )
    after = replace(state.ticket, changes=(*state.ticket.changes, change))
    _refuse_unsound(state, after)
    return _kept(request, state, after, words_of_change(change, who))


async def away(request: Request) -> Response:
    """An alteration taken away."""
    return await run_in_threadpool(_away, request)


def _away(request: Request) -> Response:
    state, number = _state(request), int(request.path_params["number"])
    if not 1 <= number <= len(state.ticket.changes):
        raise ChoiceError(
            "There is no such alteration.", where=f"ticket '{state.name}'", mend="Reload the page."
        )
    gone = state.ticket.changes[number - 1]
    rest = tuple(one for at, one in enumerate(state.ticket.changes, 1) if at != number)
    after = replace(state.ticket, changes=rest)
    if _draws(state.whole):  # else this may be the way out
        _refuse_unsound(state, after)
    return _kept(request, state, after, f"not {words_of_change(gone, reader(request))}")


def _state(request: Request) -> State:
    return load(store_of(request), named(request.path_params["name"]))


def _draws(whole: Ticket) -> bool:
    try:
        drawn(whole)
    except WorkroomError:
        return False
    return True


def _refuse_unsound(state: State, after: Ticket) -> None:
    """What the drawing raises; ChoiceError for what the check finds."""
    faults = check(drawn(after.filled(state.body, state.cloth)))
    if faults:
        raise ChoiceError(
            f"So altered it would no longer sew: {faults[0]}",
            where=f"ticket '{state.name}'",
            mend="Alter it by less, or at another place.",
        )


def _kept(request: Request, state: State, after: Ticket, words: str) -> Response:
    keep_whole(store_of(request), state, after, words)
    if wants_json(request):
        return JSONResponse({"kept": words})
    return go_to(f"/ticket/{slug(state.name)}")


ROUTES = (
    Route("/ticket/{name}/altering", kinds),
    Route("/ticket/{name}/altering", add, methods=["POST"]),
    Route("/ticket/{name}/altering/" + NUMBER + "/away", away, methods=["POST"]),
)
