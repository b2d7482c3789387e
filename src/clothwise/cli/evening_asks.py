"""Questions of an evening besides the ranking: remnants, the longest, will it suit."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from clothwise.body import estimate
from clothwise.cli.settings import settings_of
from clothwise.cloth import Cloth
from clothwise.draft import PATTERNS
from clothwise.draft import pattern as house_draft
from clothwise.errors import MeasureError, StoreError
from clothwise.store import Store
from clothwise.store.lays import LayMemory
from clothwise.suggest import words
from clothwise.suggest.candidate import Evening, Make
from clothwise.suggest.longest import longest
from clothwise.suggest.near import Redraw
from clothwise.suggest.scraps import FromScraps, from_scraps
from clothwise.suggest.stretching import Stretch, asks_stretch, drawn_for, least_stretch
from clothwise.suggest.suiting import Asked, suiting
from clothwise.ticket import write_ticket
from clothwise.ticket.figures import lay_figures, minutes_figures, plain, rounded
from clothwise.ticket.made import with_cloth

SHORT = 120.0  # cm: a whole length so short counts as a remnant when none is named


def cloths_of(store: Store, names: Sequence[str] | None) -> tuple[Cloth, ...]:
    """The cloths named, or all."""
    return tuple(store.cloth(name) for name in names) if names else store.cloths()


def scraps_for(
    store: Store, evening: Evening, names: Sequence[str] | None, most: int
) -> tuple[FromScraps, ...]:
    """What fits on the remnants named, else on all that are remnants or short."""
    kept = cloths_of(store, names)
    remnants = kept if names else tuple(c for c in kept if c.remnant or c.usable_length <= SHORT)
    if not remnants:
        raise StoreError(
            "There is no remnant in the cupboard, and no cloth so short as one.",
            where="clothwise scraps",
            mend="Name cloths with --cloth, or keep a remnant: clothwise cupboard add NAME width=… length=…",
        )
    with LayMemory.beside(store.place) as memory:
        return from_scraps(evening, remnants, memory.plan, PATTERNS, most=most, box=store.box())


def scrap_lines(number: int, one: FromScraps) -> list[str]:
    """One make from remnants: its minutes, what is cut from which, what is still to buy."""
    answer, titles = one.answer, _titles(one)
    time = answer.minutes
    span = f"{words.duration(time.likely)} ({words.duration(time.low)} to {words.duration(time.high)})"
    lines = [
        f"{number}. {one.title}: {words.choices(answer)}; uses {one.used:.0%} of what it is cut from",
        f"   {span}",
    ]
    for part in one.parts:
        pieces = ", ".join(titles[name] for name in part.pieces)
        lines.append(f"   from {part.cloth.name}, {part.plan.layering}: {pieces}")
    lines += [f"   . {words.look(answer)}"] if words.look(answer) else []
    lines += [f"   . still to buy: {words.to_buy(answer)}"] if answer.to_buy else []
    lines += [f"   . a good place to stop: after '{answer.stop_after}'"] if answer.stop_after else []
    return lines


def _titles(one: FromScraps) -> dict[str, str]:
    garment = one.make.garment
    assert garment is not None
    return {piece.name: piece.title.lower() for piece in garment.pieces}


def scrap_figures(one: FromScraps) -> dict[str, Any]:
    """The same for programs, with the ticket that makes it."""
    return {
        "title": one.title,
        "pattern": one.make.draft.name,
        "choices": dict(one.make.wish),
        "used": rounded(one.used),
        "parts": [
            {"cloth": part.cloth.name, "pieces": list(part.pieces), "lay": lay_figures(part.plan)}
            for part in one.parts
        ],
        "minutes": minutes_figures(one.answer.minutes),
        "to_buy": [plain(line) for line in one.answer.to_buy],
        "cautions": words.cautions(one.answer),
        "ticket": write_ticket(one.answer.ticket),
    }


def longest_for(
    store: Store, pattern: str, name: str, cloth_name: str, settings: list[str] | None
) -> tuple[str, dict[str, Any]]:
    """The longest, in words and figures."""
    draft, cloth = house_draft(pattern), store.cloth(cloth_name)
    wish = draft.settled(with_cloth(draft, settings_of(settings), cloth))
    found = longest(Make(draft, wish, estimate(store.body(name))), cloth)
    garment = found.make.garment
    assert garment is not None
    how = "as drawn" if not found.by else f"{abs(found.by):g} cm {'longer' if found.by > 0 else 'shorter'}"
    why = "the draft goes no longer" if found.capped else found.why
    text = f"{garment.title} for {name} from {cloth.name}: at most {how} ({found.plan.layering}; {why})."
    return text, {
        "pattern": pattern,
        "cloth": cloth.name,
        "by": found.by,
        "capped": found.capped,
        "why": found.why,
        "lay": lay_figures(found.plan),
    }


def suits_for(
    store: Store,
    pattern: str,
    cloth_name: str,
    settings: list[str] | None,
    asked: Asked,
    name: str,
) -> tuple[list[str], dict[str, Any], bool]:
    """Will it suit: lines, figures, and whether it can be made from it at all."""
    draft, cloth = house_draft(pattern), store.cloth(cloth_name)
    wish = with_cloth(draft, settings_of(settings), cloth)
    draft.settled({key: value for key, value in wish.items() if key not in ("stretch", "cloth_width")})
    if cloth.make not in draft.makes:
        why = f"{draft.title}: drafted for {' or '.join(draft.makes)} cloth; {cloth.name} is {cloth.make}."
        return [why], {"suits": 0.0, "refused": why}, False
    stretch = _stretch(store, pattern, cloth, name) if asks_stretch(draft) else None
    if stretch is not None and not stretch.enough:
        why = stretch.sentence(draft.title)
        return [why], {"suits": 0.0, "refused": why, "stretch": plain(stretch)}, False
    found = suiting(draft, wish, cloth, asked)
    head = f"{draft.title} from {cloth.name}: suits {found.share:.0%}; the look: {found.look}."
    lines = [head, *(f"  - {words.reason(reason)}" for reason in found.reasons)]
    figures: dict[str, Any] = {
        "suits": rounded(found.share),
        "look": found.look,
        "reasons": [{**plain(reason), "words": words.reason(reason)} for reason in found.reasons],
    }
    if stretch is not None:
        lines.append(f"  - needs {stretch.needs:.0%} of stretch, the cloth gives {stretch.gives:.0%}")
        figures["stretch"] = plain(stretch)
    return lines, figures, True


def _stretch(store: Store, pattern: str, cloth: Cloth, name: str) -> Stretch | None:
    """What a knit draft must stretch for this body; without a body only its own least."""
    draft = house_draft(pattern)
    if not name:
        return Stretch(draft.choice("stretch").low / 100, drawn_for(cloth) / 100)
    plain_make, redraw = Make(draft, {}, estimate(store.body(name))), Redraw.new()
    needs = least_stretch(draft, {}, lambda wish: redraw(plain_make, "stretch", wish["stretch"]) is not None)
    if needs is None:
        last = Make(draft, {"stretch": draft.choice("stretch").high}, plain_make.body)
        assert last.garment is None
        raise MeasureError(last.refusal, where=f"pattern '{pattern}' for '{name}'")
    return Stretch(needs, cloth.stretch_across)
