"""The ticket of a bought pattern: all its stations on one sheet, from the size to cut to the log.

Its pieces are on its own paper, so nothing is drawn and nothing laid here: size, cloth and minutes follow from
body, envelope and cloth. Tracing, cutting, the sewer's own steps, clock and log are kept as for any make.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from clothwise.body import Body
from clothwise.cloth import Cloth
from clothwise.errors import ClothError, StoreError, TicketError, WorkroomError
from clothwise.lay.plan import LayPlan
from clothwise.sew import Minutes
from clothwise.sew.log import after
from clothwise.sew.sewer import SKILLS
from clothwise.shelf.levels import LEVELS
from clothwise.shelf.pattern import BoughtPattern, FinishedMake
from clothwise.size.answering import SizeAnswer, answered
from clothwise.size.judging import judged
from clothwise.size.words import Speaker
from clothwise.store import KeptTicket, Store, deeds, photos
from clothwise.store.cutting import SCOPE
from clothwise.store.log_book import logged_makes, minutes_before
from clothwise.store.progress import KeptProgress
from clothwise.store.standing import Watch
from clothwise.store.store import CLOTH, HOW_FAR, TICKET
from clothwise.suggest.bought_weighing import minutes_of
from clothwise.suggest.words import duration
from clothwise.ticket.bought_ticket import BoughtTicket, read_bought_ticket, write_bought_ticket
from clothwise.ticket.taped import days_since_taped
from clothwise.web.bought import advice_shown, judgeable
from clothwise.web.bought_lay import lay_on
from clothwise.web.cut_now import CutNow, cut_of, mark_cut, refuse_cut
from clothwise.web.cutting_out import cutting_told
from clothwise.web.learning import day_of, finish_make, minutes_typed
from clothwise.web.sheet import Reader, as_json, go_to, named, page, reader, slug, spoken, store_of
from clothwise.web.size_asked import wishable, wished
from clothwise.web.ticket_head import Knot, progress, scopes_of, spent_minutes

MOST_WORDS = 4000  # letters of the notes, and of the steps
MOST_STEPS = 60
VERDICTS = ("tight", "right", "loose")
LENGTHS = tuple(one.name for one in LEVELS if one.kind == "length")


@dataclass(frozen=True)
class OneSheet:
    """A bought ticket with what follows from it, as the head of a ticket shows it (see `ticket_head.Head`)."""

    ticket: BoughtTicket
    pattern: BoughtPattern
    state: Any  # name, body, cloth, ticket.sewer: what the head reads
    answer: SizeAnswer | None
    no: WorkroomError | None
    minutes: Minutes
    said: Mapping[str, Any]
    cut: CutNow | None
    path: str
    lay: LayPlan | None = None  # where all outlines are known
    knots: tuple[Knot, ...] = ()
    seen: None = None

    @property
    def size(self) -> str:
        """'16', 'M to L' where it is blended; '' while none can be told."""
        advice = self.answer.advice if self.answer else None
        if advice is None or advice.cut == "nothing":
            return ""
        return " to ".join(dict.fromkeys(advice.sizes.values())) or advice.single

    @property
    def cloth(self) -> dict[str, Any]:
        """Length of cloth: cut, else of its lay, else at most by the table of the envelope. [cm]"""
        have = self.state.cloth.usable_length
        if self.cut is not None:
            return {"length": self.cut.cloths[0][1], "have": have, "exact": True}
        if self.lay is not None:
            return {"length": self.lay.length, "have": have, "exact": True}
        need = self.answer.needs.get("main") if self.answer else None
        return {"length": need.high if need else None, "have": have, "exact": False}


@dataclass(frozen=True)
class _Names:
    name: str
    body: Body
    cloth: Cloth
    ticket: BoughtTicket


def sheet_of(store: Store, name: str, who: Reader) -> OneSheet:
    """The ticket of this name. StoreError when its pattern, body or cloth is not there."""
    ticket = read_bought_ticket(store.ticket(name).text)
    pattern, body = store.bought_pattern(ticket.pattern), store.body(ticket.body_name)
    said = progress(store, name)
    cut, cloth = cut_of(store, said), _cloth(store, ticket.cloth_name)
    answer, no = None, None
    try:
        answer = answered(
            body, pattern, view=ticket.view, cloth=cloth, makes=store.makes(),
            tape_days=days_since_taped(body, date.today().isoformat()), hem=ticket.longer, wishes=ticket.ease,
        )  # fmt: skip
    except WorkroomError as wrong:
        no = wrong
    makes, _ = logged_makes(store, ticket.sewer.name or ticket.body_name)
    time = minutes_of(pattern, cloth, after(ticket.sewer, makes))
    names = _Names(name, body, cloth, ticket)
    need = answer.needs.get("main") if answer and not cut else None
    lay = lay_on(store, pattern, need, cloth)
    one = OneSheet(ticket, pattern, names, answer, no, time, said, cut, f"/ticket/{slug(name)}", lay)
    return replace(one, knots=_knots(one, who))


def _cloth(store: Store, name: str) -> Cloth:
    """The cloth as it is in the cupboard, or, when all of it is cut, as it last was."""
    try:
        return store.cloth(name)
    except StoreError:
        earlier = store.earlier_cloths(name)
        if not earlier:
            raise
        return earlier[-1]


def steps_of(one: OneSheet) -> list[dict[str, Any]]:
    """What is done in turn: tracing and cutting, then her own steps, or the sewing as one; with its minutes."""
    time, pieces = one.minutes, [f"{p.name} {p.count}×" for p in one.pattern.pieces]
    size = f" in size {one.size}" if one.size else ""
    before = [
        ("trace", f"Trace the pieces{size}", time.print_tape, ", ".join(pieces)),
        ("cut", f"Cut them out of {one.ticket.cloth_name}", time.cut, ""),
    ]
    own = [line.strip() for line in str(one.said.get("steps", "")).splitlines() if line.strip()][:MOST_STEPS]
    share = time.sew / len(own) if own else 0.0
    sewn = [(f"own {line}", line, share, "") for line in own]
    sewn = sewn or [("sew", "Sew it by the instructions of its own sheet", time.sew, "")]
    rows = [*before, *sewn, ("finish", "Finish: try on, hem, press", time.finish, "")]
    return [
        {"key": key, "number": number, "title": title, "likely": likely, "how": how}
        for number, (key, title, likely, how) in enumerate(rows, 1)
    ]


def _knots(one: OneSheet, who: Reader) -> tuple[Knot, ...]:
    steps, ticks = steps_of(one), set(one.said.get("ticks", []))
    done = sum(step["key"] in ticks for step in steps)
    finished, spent = one.said.get("finished_on"), spent_minutes(one.said)
    length, have = one.cloth["length"], one.cloth["have"]
    enough = length is not None and length <= have
    cloth_words = (
        "cut"
        if one.cut
        else "not told by its table"
        if length is None
        else "enough; not cut yet"
        if enough
        else f"{who.metres(length - have)} short"
    )
    told = (
        ("size", "Size", one.size != "", f"size {one.size}" if one.size else "no size told"),
        ("cloth", "Cloth", one.cut is not None, cloth_words),
        ("paper", "Paper", "trace" in ticks, "traced" if "trace" in ticks else "to be traced"),
        ("work", "Work", done == len(steps), f"{done} of {len(steps)} steps done"),
        (
            "log",
            "Log",
            bool(finished),
            f"finished {finished}" if finished else f"{duration(spent)} so far" if spent else "not begun",
        ),
    )
    anchors = {"paper": "work"}
    return tuple(
        Knot(key, title, f"{one.path}#{anchors.get(key, key)}", settled, words)
        for key, title, settled, words in told
    )


def shown(request: Request, name: str) -> Response:
    """The sheet."""
    store, who = store_of(request), reader(request)
    one = sheet_of(store, name, who)
    say = Speaker(who.unit, chest=one.pattern.figure != "woman", wearer=one.state.body.name)
    steps, ticks = steps_of(one), set(one.said.get("ticks", []))
    return page(
        request, "one_sheet.html", title=name, scope=scopes_of(name), head=one, station="size",
        answer=one.answer and advice_shown(one.answer, one.pattern, one.state.cloth, say), say=say,
        bodies=store.bodies(), cloths=store.cloths(), asked=_as_typed(one.ticket, who),
        wishable=wishable(one.pattern), cutting=_cutting(one, who), skills=SKILLS, steps=steps, ticks=ticks,
        left=sum(step["likely"] for step in steps if step["key"] not in ticks),
        next_key=next((step["key"] for step in steps if step["key"] not in ticks), ""),
        levels=judgeable(one.pattern, one.ticket.view), lengths=LENGTHS, verdicts=VERDICTS,
        judged=one.said.get("judged", {}), sizes=sizes_cut(one), said=one.said,
        photos=photos.of_thing(store, f"make/{name}"), today=date.today().isoformat(),
        opened=request.query_params.get("opened", ""),
        before=minutes_before(store, one.pattern.name, one.ticket.sewer.name or one.ticket.body_name, name),
    )  # fmt: skip


def _cutting(one: OneSheet, who: Reader) -> dict[str, Any] | None:
    """How the lay is cut, where there is one that the cloth holds."""
    if one.lay is None or one.lay.length > one.cloth["have"]:
        return None
    return cutting_told(one.lay, one.state.cloth, who)


def _as_typed(ticket: BoughtTicket, who: Reader) -> dict[str, str]:
    """What was wished for, as it would be typed."""
    typed = {key: who.number(cm) for key, cm in _wished_before(ticket).items()}
    return typed if ticket.longer else {**typed, "longer": ""}


def _wished_before(ticket: BoughtTicket) -> dict[str, float]:
    return {**{f"ease.{level}": cm for level, cm in ticket.ease.items()}, "longer": ticket.longer}


def sizes_cut(one: OneSheet) -> dict[str, str]:
    """Which size was cut at each level: as written down, else as advised."""
    advised = dict(one.answer.advice.sizes) if one.answer else {}
    single = one.answer.advice.single if one.answer else one.pattern.sizes[0]
    kept: Mapping[str, str] = one.said.get("sizes", {})
    levels = judgeable(one.pattern, one.ticket.view)
    return {level: kept.get(level) or advised.get(level, single) for level in levels}


# ---- changed -------------------------------------------------------------------------------------


async def settle(request: Request) -> Response:
    """Another view, person or cloth."""
    form = await request.form()
    return await run_in_threadpool(_settled, request, {key: str(value) for key, value in form.items()})


def _settled(request: Request, asked: Mapping[str, str]) -> Response:
    store, name = store_of(request), named(request.path_params["name"])
    refuse_cut(store, name)
    version, kept = deeds.version(store, TICKET, name), store.ticket(name)
    before = read_bought_ticket(kept.text)
    body, cloth = (
        store.body(asked.get("for", before.body_name)),
        store.cloth(asked.get("cloth", before.cloth_name)),
    )
    view = asked.get("view", before.view)
    pattern = store.bought_pattern(before.pattern)
    if view and view not in pattern.views:
        raise TicketError(
            f"There is no view {view[:20]!r} in it.", where=f"ticket '{name}'", mend="Reload the page."
        )
    sewer = replace(before.sewer, skill=asked.get("skill", before.sewer.skill))  # type: ignore[arg-type]  # checked
    after_ = replace(before, body_name=body.name, cloth_name=cloth.name, view=view, sewer=sewer)
    if "longer" in asked:  # the whole form was sent
        wish = wished(pattern, asked, reader(request), _wished_before(before))
        after_ = replace(after_, longer=wish.longer, ease=wish.ease)
    settled = KeptTicket(name, write_bought_ticket(after_), kept.created_on)

    def change(hand: deeds.Hand) -> None:
        hand.refuse_changed(TICKET, name, version)
        hand.keep(TICKET, settled)

    deeds.do(store, f"ticket/{name}", f"for {body.name}, from {cloth.name} {view}", change)
    return go_to(f"/ticket/{slug(name)}")


async def kept(request: Request) -> Response:
    """What is written on the sheet, sent as it is typed: {"set": {path: text}}."""
    from clothwise.web.tickets import entries_of

    entries = await entries_of(request)
    return await run_in_threadpool(_kept, request, entries)


def _kept(request: Request, entries: dict[str, str]) -> Response:
    store, name = store_of(request), named(request.path_params["name"])
    ticket = read_bought_ticket(store.ticket(name).text)
    pattern = store.bought_pattern(ticket.pattern)

    def change(hand: deeds.Hand) -> None:
        before = hand.find(HOW_FAR, name)
        said = dict(before.said) if before else {}
        for path, text in entries.items():
            _set(said, path, text, pattern, ticket.view)
        hand.keep(HOW_FAR, KeptProgress(name, said))

    words = ", ".join(f"{spoken(path.rpartition('.')[2])}: {text[:40]}" for path, text in entries.items())
    watch = Watch(store, scopes_of(name))
    deeds.do(store, f"progress/{name}", words[:200], change, watch)
    can = deeds.can(store, scopes_of(name))
    told = {"version": deeds.version(store, HOW_FAR, name), "says": dict(entries), **watch.told}
    return as_json(request, {**told, "undo": can.undo.words if can.undo else ""})


def _set(said: dict[str, Any], path: str, text: str, pattern: BoughtPattern, view: str) -> None:
    part, _, level = path.partition(".")
    known = level in judgeable(pattern, view)
    if (part == "judged" and known and text in ("", *VERDICTS)) or (
        part == "size" and known and text in pattern.sizes
    ):
        key = "sizes" if part == "size" else part
        now = {**said.get(key, {}), level: text}
        said[key] = {one: value for one, value in now.items() if value}
    elif part in ("words", "steps") and len(text) <= MOST_WORDS:
        said[part] = text
    elif part == "minutes":
        said["spent"] = minutes_typed(text)
    else:
        raise TicketError("That cannot be written there.", where="ticket", mend="Reload the page.")


# ---- cut and finished ----------------------------------------------------------------------------


async def cut(request: Request) -> Response:
    """A length is cut straight off the cloth in the cupboard."""
    form = await request.form()
    return await run_in_threadpool(_cut, request, str(form.get("length", "")))


def _cut(request: Request, text: str) -> Response:
    store, name, who = store_of(request), named(request.path_params["name"]), reader(request)
    refuse_cut(store, name)
    of, used = read_bought_ticket(store.ticket(name).text).cloth_name, who.typed(text)

    def change(hand: deeds.Hand) -> None:
        cloth = (hand.find(CLOTH, of) or store.cloth(of)).after_wash()
        left = _left_after(cloth, used, name, who)
        if left:
            hand.keep(CLOTH, cloth.changed(length=left))
        else:
            hand.forget(CLOTH, of)
        mark_cut(hand, name, [(of, used)], [of] if left else [], wrote=False)

    deeds.do(store, SCOPE + name, f"Cut {name}", change)
    return go_to(f"/ticket/{slug(name)}#cloth")


def _left_after(cloth: Cloth, used: float, name: str, who: Reader) -> float:
    """The length that is left of a washed cloth. Raises ClothError for what cannot be cut off it so. [cm]"""
    if cloth.outline:
        raise ClothError(
            f"{cloth.name} is a remnant with a shape of its own.",
            where=f"ticket '{name}': cloth",
            mend="Pull its corners in the cupboard to what is left.",
        )
    if not 0 < used <= cloth.length:
        raise ClothError(
            f"{who.metres(used)} cannot be cut off {who.metres(cloth.length)}.",
            where=f"cloth '{cloth.name}', after washing",
            mend="Say how long the part is that you cut off.",
        )
    return cloth.length - used


async def finish(request: Request) -> Response:
    """The make is done: what was judged goes among the makes, for the next time."""
    return await run_in_threadpool(_finished, request, day_of(await request.form()))


def _finished(request: Request, when: str) -> Response:
    one = sheet_of(store_of(request), named(request.path_params["name"]), reader(request))
    finish_make(store_of(request), make_of(one, when))
    return go_to(f"{one.path}#log")


def make_of(one: OneSheet, when: str) -> FinishedMake:
    """The ticket as a finished make, each level judged on the ease of the size that was cut."""
    sizes, pattern = sizes_cut(one), one.pattern
    said: Mapping[str, str] = one.said.get("judged", {})
    judgements = tuple(
        judged(one.state.body, pattern, level, verdict, size=sizes[level], view=one.ticket.view)
        for level, verdict in said.items()
        if level in sizes
    )
    words = str(one.said.get("words", "")).strip()
    return FinishedMake(
        name=one.ticket.name,
        person=one.state.body.name,
        pattern=pattern.name,
        fit_class=pattern.fit_class,
        make=pattern.make,
        sizes={level: sizes[level] for level in said if level in sizes},
        judgements=judgements,
        made_on=when,
        notes=tuple(line for line in words.splitlines() if line.strip()),
    )


# ---- begun from the shelf ------------------------------------------------------------------------


async def begin(request: Request) -> Response:
    """A ticket for a pattern of the shelf, begun there."""
    form = await request.form()
    return await run_in_threadpool(_begun, request, {key: str(value) for key, value in form.items()})


def _begun(request: Request, asked: Mapping[str, str]) -> Response:
    from clothwise.web.evening import keep_new_ticket

    store = store_of(request)
    pattern = store.bought_pattern(asked.get("bought", ""))
    body, cloth = store.body(asked.get("for", "")), store.cloth(asked.get("cloth", ""))
    view = pattern.views[0] if pattern.views else ""
    if asked.get("view") in pattern.views:
        view = asked["view"]
    name = f"{pattern.name}{f', view {view}' if view else ''} for {body.name}"
    wish = wished(pattern, asked, reader(request))
    ticket = BoughtTicket(
        name, pattern.name, body.name, cloth.name, view, made_on=date.today().isoformat(),
        longer=wish.longer, ease=wish.ease,
    )  # fmt: skip
    return go_to(f"/ticket/{slug(keep_new_ticket(store, name, write_bought_ticket(ticket)))}")


ROUTES = (
    Route("/tickets/bought", begin, methods=["POST"]),
    Route("/ticket/{name}/bought/settle", settle, methods=["POST"]),
    Route("/ticket/{name}/bought/keep", kept, methods=["POST"]),
    Route("/ticket/{name}/bought/cut", cut, methods=["POST"]),
    Route("/ticket/{name}/bought/finish", finish, methods=["POST"]),
)
