"""The cloth as it is told to `clothwise lay`: of the cupboard, by its width, or by a remnant's corners."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from clothwise.errors import ClothError, LengthError
from clothwise.units import parse_length

if TYPE_CHECKING:
    from clothwise.cloth import Cloth
    from clothwise.lay.cloth import LayCloth, Point, Repeat


@dataclass(frozen=True, slots=True)
class ToldCloth:
    """What is said of the cloth on the command line, as typed."""

    length: str
    remnant: str
    flaws: tuple[str, ...]
    nap: str
    bars: str
    stripes: str
    first_bar: str
    first_stripe: str
    uneven: bool


def cloth_told(kept: Cloth | None, widths: list[float], said: ToldCloth) -> LayCloth:
    """The cloth of the cupboard or the ticket, with what is said of it changed."""
    from clothwise.lay.cloth import LayCloth, remnant
    from clothwise.ticket.made import lay_cloth

    nap = said.nap or (kept.laid_nap if kept else "two-way")
    flaws = tuple(tuple(_corners(text, "--flaw")) for text in said.flaws)
    if said.remnant:
        if widths or said.length:
            raise ClothError(
                "A remnant has its width and length by its corners.",
                where="--remnant, --width, --length",
                mend="Leave out --width and --length.",
            )
        made = remnant(_corners(said.remnant, "--remnant"), flaws=flaws, nap=nap)  # type: ignore[arg-type]
    elif widths:
        length = cm(said.length, "--length") if said.length else None
        made = LayCloth(widths[0], length, nap, flaws=flaws)  # type: ignore[arg-type]
    elif kept is not None:
        held = lay_cloth(kept)
        length = cm(said.length, "--length") if said.length else held.length
        made = replace(held, nap=nap, length=length, flaws=(*held.flaws, *flaws))  # type: ignore[arg-type]
    else:
        raise no_cloth()
    repeat = _repeat(said)
    return replace(made, repeat=repeat) if repeat else made


def no_cloth() -> ClothError:
    return ClothError(
        "On which cloth?",
        where="--cloth, --width, --remnant",
        mend="Name a cloth of `clothwise cupboard`, give a width, or the corners of a remnant.",
    )


def _repeat(said: ToldCloth) -> Repeat | None:
    from clothwise.lay.cloth import Repeat

    if not said.bars and not said.stripes:
        if said.first_bar or said.first_stripe or said.uneven:
            raise ClothError(
                "Which stripes?",
                where="--bars, --stripes",
                mend="Say how far it is from stripe to stripe, along, across, or both.",
            )
        return None
    return Repeat(
        along=cm(said.bars, "--bars") if said.bars else 0.0,
        across=cm(said.stripes, "--stripes") if said.stripes else 0.0,
        bar=cm(said.first_bar, "--first-bar") if said.first_bar else None,
        stripe=cm(said.first_stripe, "--first-stripe") if said.first_stripe else None,
        even=not said.uneven,
    )


def _corners(text: str, where: str) -> list[Point]:
    """'0,0 150,0 150,60': along and across, in cm."""
    found: list[Point] = []
    for pair in text.replace(";", " ").split():
        along, comma, across = pair.partition(",")
        try:
            if not comma:
                raise ValueError(pair)
            found.append((float(along), float(across)))
        except ValueError:
            raise ClothError(
                f"'{pair}' is not a corner.",
                where=where,
                mend="Write corners as along,across in cm with a space between: '0,0 150,0 150,60 0,110'.",
            ) from None
    return found


def cm(text: str, where: str) -> float:
    try:
        return parse_length(text)
    except LengthError as refusal:
        raise LengthError(refusal.what, where=where, mend=refusal.mend) from None
