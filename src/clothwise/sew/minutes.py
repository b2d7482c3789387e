"""Minutes of a make, from the real pieces and the real steps, with honest intervals.

Each step (`rates`) is handling + length x (pinning + pressing) + length / speed + neatening, for a practised
sewer on a home machine in plain cotton; then factors for skill, times made, cloth, and her own pace once makes
are logged.

Sources
  observed  ten makers' own reports: prewash handling 10, machine ready 10, pressing cloth + cutting paper +
            checking size 20, folding and pinning the lay 30-45 minutes; skirt with elastic 3-6 h on a first
            make, 1 h by an expert; dresses 5-10 / 3-5 / 2 h by skill.
  planning  trade knowledge, practised / beginner: print and tape a sheet 2 / 3; trace a piece 8 / 12; cut a
            piece 5 / 8; each operation at the machine as said in `rates`. The rates were set so that these
            figures come out; how the minutes of a row are shared within it is our judgement.
Deciding what to make, which takes up to a third more, shopping, and the washing itself are not counted.

Letters: s log standard deviation (0.3 = a third more or a quarter less is quite usual).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from clothwise.cloth import Cloth
from clothwise.garment import Garment, Piece
from clothwise.sew.manners import manners
from clothwise.sew.rates import practised_minutes
from clothwise.sew.sewer import Sewer
from clothwise.sew.step import Span, Step

# ---- before the machine: minutes, and minutes per cm ---------------------------------------------
LAY_OUT = 12.0  # fold the cloth true, lay the pieces, measure the grain of each
PIN_PIECE = 4.0  # per outline: pin or weight, move, pin again
CUT_EACH = 1.6  # per outline cut: turn, lift, notch
CUT_SPEED = 85.0  # cm a minute with shears
PRESS_CLOTH = 8.0
CHECK_SIZE = 4.0
CUT_PAPER = 3.0  # per paper piece
SHEET = 2.0  # print and tape one sheet (planning)
SHEET_FIRST = 5.0  # find the printer's setting, measure the test square (T)
TRACE = 8.0  # per piece (planning)
MACHINE_READY = 10.0  # observed
PREWASH = 10.0  # handling only, observed
READ_THROUGH = 5.0  # the booklet, before the first stitch: twice that at first, nothing once it is known (T)

# ---- factors --------------------------------------------------------------------------------------
SEW_SKILL: Mapping[str, float] = {"beginner": 2.25, "practised": 1.0, "expert": 0.55}  # planning; dresses
CUT_SKILL: Mapping[str, float] = {"beginner": 1.6, "practised": 1.0, "expert": 0.7}  # planning: 8 / 5
PAPER_SKILL: Mapping[str, float] = {"beginner": 1.5, "practised": 1.0, "expert": 0.8}  # planning: 3 / 2
LEARNING = 0.152  # exponent: each doubling of the makes takes a tenth off (the usual 90 % learning curve)
SETTLED_AT = 2  # makes before this one for which the practised rates hold
MOST_MAKES = 9  # after that it gets no faster

# ---- spread ---------------------------------------------------------------------------------------
SPREAD: Mapping[str, float] = {"beginner": 0.28, "practised": 0.22, "expert": 0.20}  # s of a whole make
FIRST_MAKE_SPREAD = 0.20  # s added on a first make: a wrong edge, an hour lost looking for a figure
LEAST_SPREAD = 0.12  # s that stays however much is logged: no two evenings are alike
STEP_SPREAD = 0.35  # s of one step by itself
FINISHING = ("turn", "elastic", "cord", "buttons", "try on", "hang", "press")
NINETY = 1.645  # standard deviations to either side that hold nine in ten


@dataclass(frozen=True, slots=True)
class Minutes:
    """A make in minutes. The parts are likely values; low to high holds nine in ten such makes.

    ready    machine, prewash handling, reading through       cut     press, lay, pin, cut, mark
    print_tape  sheets printed and taped, pieces cut from paper, or traced
    sew      seams and pockets                                finish  casing, elastic, trying on, hems, pressing
    wait_hours  the work must rest besides
    rows     what the parts are made of, for the page
    """

    ready: float
    print_tape: float
    cut: float
    sew: float
    finish: float
    low: float
    likely: float
    high: float
    wait_hours: float = 0.0
    rows: tuple[tuple[str, float], ...] = field(default=())


def minutes(
    garment: Garment,
    steps: Sequence[Step],
    cloth: Cloth,
    sewer: Sewer,
    *,
    sheets: int = 0,
    traced: bool = False,
    cuts: int | None = None,
) -> Minutes:
    """The whole make.

    steps   from order_of_work, with their minutes
    sheets  pages of paper to print and tape; 0 = the paper pieces are there already
    traced  the pieces are traced off instead
    cuts    outlines to be cut by the lay; without it pairs are taken to be cut through double cloth
    """
    ready = _ready(cloth, sewer)
    paper = _paper(garment, sewer, sheets, traced)
    cutting = _cutting(garment, cloth, sewer, cuts)
    ends = [s for s in steps if s.kind in FINISHING and s.why not in ("pocket top", "stand", "frill hem")]
    sewing = sum(s.minutes.likely for s in steps if s not in ends)
    finish = sum(s.minutes.likely for s in ends)
    parts = [ready, paper, cutting, *(s.minutes.likely for s in steps)]
    low, likely, high = interval(parts, sewer)
    rows = (
        ("Set up, read through", ready),
        ("Paper: print, tape, cut out", paper),
        ("Cloth: press, lay, pin, cut", cutting),
        ("Sew", sewing),
        ("Finish: casing, elastic, hems, buttons, pressing", finish),
    )
    return Minutes(
        ready, paper, cutting, sewing, finish, low, likely, high,
        wait_hours=sum(s.wait_hours for s in steps), rows=rows,
    )  # fmt: skip


# ---- one step ----------------------------------------------------------------------------------


def step_minutes(step: Step, garment: Garment, cloth: Cloth, sewer: Sewer) -> Span:
    """Minutes of one step for this sewer and cloth, with a nine-in-ten interval of its own."""
    plain = practised_minutes(step, garment, sewer.overlocker)
    likely = plain * SEW_SKILL[sewer.skill] * manners(cloth).factor * practice(sewer) * sewer.pace
    s = math.hypot(spread(sewer), STEP_SPREAD)
    return Span(likely * math.exp(-NINETY * s), likely, likely * math.exp(NINETY * s))


def practice(sewer: Sewer) -> float:
    """Factor for how often she has made it: 1.18 on a first make, 1 on the third, 0.83 from the tenth."""
    return float(((min(sewer.times_made, MOST_MAKES) + 1) / (SETTLED_AT + 1)) ** -LEARNING)


# ---- before the machine ------------------------------------------------------------------------


def _ready(cloth: Cloth, sewer: Sewer) -> float:
    handling = MACHINE_READY + (0.0 if cloth.washed else PREWASH)
    reading = READ_THROUGH * max(SETTLED_AT - sewer.times_made, 0)
    return (handling + reading) * sewer.pace


def _paper(garment: Garment, sewer: Sewer, sheets: int, traced: bool) -> float:
    pieces = len(garment.pieces)
    printing = SHEET_FIRST + SHEET * sheets + CUT_PAPER * pieces if sheets else 0.0
    tracing = TRACE * pieces if traced else 0.0
    return (printing + tracing) * PAPER_SKILL[sewer.skill] * sewer.pace


def _cutting(garment: Garment, cloth: Cloth, sewer: Sewer, cuts: int | None) -> float:
    outlines = [(perimeter(piece), _cuts(piece)) for piece in garment.pieces]
    planned = sum(n for _, n in outlines)
    length = sum(size * n for size, n in outlines) * ((cuts or planned) / planned)
    laying = LAY_OUT + PIN_PIECE * (cuts or planned)
    cutting = CUT_EACH * (cuts or planned) + length / CUT_SPEED
    return (
        (PRESS_CLOTH + CHECK_SIZE + laying + cutting)
        * CUT_SKILL[sewer.skill]
        * manners(cloth).factor
        * practice(sewer)
        * sewer.pace
    )


def _cuts(piece: Piece) -> int:
    """Outlines cut for a piece when pairs lie in double cloth."""
    return max(1, piece.copies // 2) if piece.cutting == "pair" else piece.copies


def perimeter(piece: Piece) -> float:
    """Length the shears go round one outline: drawn edges but the fold, and what allowances add. [cm]"""
    edges = [edge for edge in piece if edge.kind != "fold"]
    return sum(edge.curve.length() + 2 * edge.allowance for edge in edges)


# ---- the interval ------------------------------------------------------------------------------


def spread(sewer: Sewer) -> float:
    """s of a whole make by this sewer; it narrows as makes are logged."""
    first = FIRST_MAKE_SPREAD if sewer.times_made == 0 else 0.0
    s = math.hypot(SPREAD[sewer.skill], first)
    return max(LEAST_SPREAD, s / math.sqrt(1 + sewer.logged / 2))


def interval(parts: Iterable[float], sewer: Sewer) -> tuple[float, float, float]:
    """low, likely, high of the sum: what the sewer's day does to all parts alike, and each part by itself."""
    known = list(parts)
    total = sum(known)
    alone = STEP_SPREAD * math.sqrt(sum(part * part for part in known)) / total if total else 0.0
    s = math.hypot(spread(sewer), alone)
    return total * math.exp(-NINETY * s), total, total * math.exp(NINETY * s)
