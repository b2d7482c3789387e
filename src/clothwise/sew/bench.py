"""The bench on which operations are laid out: garment, cloth and sewer together, and their stitches.

Stitch lengths and needles come from the house's rules of the trade; where only general trade knowledge stands
behind a number the comment says so (T).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from clothwise.cloth import Cloth
from clothwise.garment import Garment, Run, Seam
from clothwise.sew.cut_copies import CutGarment, cut_garment, neighbour, own_mirror
from clothwise.sew.graph import CURVED_DEG, area_cm2, hollow_deg, turning_of
from clothwise.sew.makes import INSIDE, Makes
from clothwise.sew.manners import Manners, manners
from clothwise.sew.needs import Needs, Preferring
from clothwise.sew.sewer import Sewer
from clothwise.sew.step import Finish, How, Make, SeamType, Step, Stitch

SMALL_SHARE = 0.2  # of the largest piece's area, up to which a piece is a small part
FRENCH_LEAST = 1.3  # cm: a French seam eats this much allowance (three sources)
RUNS_ON = 0.9  # cosine of a corner so blunt that an edge runs on in the next: 26 degrees
REINFORCE_MM = 2.0  # stitch length of a seam under strain: between ordinary 2.5 and reinforcing 1.5
GATHER_MM, EASE_MM, HAND_MM, BASTE_MM = 4.0, 3.5, 8.0, 4.5  # gathers, ease 2-4; baste 4-5 (n = 1, T agrees)
OVERLOCK_MM, ZIGZAG_MM, ZIGZAG_WIDE = 2.5, 2.0, 4.0  # neatening stitches (T)
KNIT_LONG, KNIT_WIDE = 2.5, 1.0  # mm: narrow zigzag that stretches with a knit (n = 1, T agrees)

OVERLOCK = Stitch("504", "three-thread overlock", OVERLOCK_MM, 5.0)
KNIT_OVERLOCK = Stitch("514", "four-thread overlock", OVERLOCK_MM, 6.0)
ZIGZAG = Stitch("304", "zigzag", ZIGZAG_MM, ZIGZAG_WIDE)
NARROW_ZIGZAG = Stitch("304", "narrow zigzag", KNIT_LONG, KNIT_WIDE)
BUTTONHOLE = Stitch("304", "buttonhole stitch", 0.4, 2.5)
GATHERING = Stitch("301", "long straight stitch", GATHER_MM)
BASTING = Stitch("301", "basting stitch", BASTE_MM)
EASING = Stitch("301", "long straight stitch", EASE_MM)

PLAIN = SeamType("1.01.01", "plain seam")
FRENCH = SeamType("1", "French seam")
GATHERED = SeamType("1.01.01", "gathered seam")
EASED = SeamType("1.01.01", "eased seam")
PLEATED = SeamType("1.01.01", "pleated seam")
STRETCHED = SeamType("1", "band sewn on stretched")
TURNED = SeamType("1", "seam that is turned")
BOUND = SeamType("3", "edge bound with a band")
PATCH = SeamType("5.31.01", "patch set on")
TURNED_ONCE = SeamType("6.02.01", "edge turned once")
TURNED_TWICE = SeamType("6.03.01", "edge turned twice")
CASING = SeamType("6", "turned casing")
NEATENED = SeamType("6.01.01", "neatened edge")


@dataclass(frozen=True, slots=True)
class Operation:
    """One step still without its place, and the names of the operations that must come before it.

    prelude  steps done just before it: rows of gathering
    small    only small parts are in it: prepared before anything large
    across   it joins piece to piece end to end, as shoulders do, and leaves the work lying flat
    """

    step: Step
    needs: frozenset[str] = frozenset()
    prelude: tuple[Step, ...] = ()
    small: bool = False
    across: bool = False


@dataclass(frozen=True)
class Bench:
    """What every operation asks."""

    garment: Garment
    cloth: Cloth
    manners: Manners
    sewer: Sewer
    cut: CutGarment
    makes: Makes
    needs: Needs

    def lockstitch(self, length_mm: float | None = None) -> Stitch:
        return Stitch("301", "straight stitch", length_mm or self.manners.stitch_mm)

    def joining(self, length_mm: float | None = None) -> Stitch:
        """The stitch of a seam: one that gives where the cloth gives."""
        if not self.manners.gives:
            return self.lockstitch(length_mm)
        return KNIT_OVERLOCK if self.sewer.overlocker else NARROW_ZIGZAG

    def topstitch(self) -> Stitch:
        """The stitch that holds a turned edge, seen from the right side."""
        return NARROW_ZIGZAG if self.manners.gives else self.lockstitch()

    @cached_property
    def largest_cm2(self) -> float:
        """Area of the largest piece."""
        return max(area_cm2(piece) for piece in self.garment.pieces)

    @cached_property
    def small_pieces(self) -> frozenset[str]:
        """Pieces that are parts: prepared before anything large."""
        return frozenset(p.name for p in self.garment.pieces if area_cm2(p) < SMALL_SHARE * self.largest_cm2)

    @property
    def machine(self) -> Finish:
        return "overlocked" if self.sewer.overlocker else "zigzagged"

    def make(self, seam: Seam) -> Make:
        return self.makes.of[seam.name]


def bench_for(garment: Garment, cloth: Cloth, sewer: Sewer, preferring: Preferring) -> Bench:
    """Everything an order of work is made from, read once. Raises GarmentError for an unknown preference."""
    cut = cut_garment(garment)
    makes = Makes(garment, cut)
    needs = Needs(garment, cut, makes, preferring)
    return Bench(garment, cloth, manners(cloth), sewer, cut, makes, needs)


# ---- how a seam is finished --------------------------------------------------------------------


def finish_of(bench: Bench, seam: Seam) -> tuple[Finish, How]:
    """By what it is, by machine, by cloth, by how it is pressed. Knits need none; fine straight seams close
    French; what lies between two layers is shut in."""
    if is_strap(seam):
        return "folded in", "in the seam"
    if seam.kind == "patch":
        return ("none needed", "alone") if bench.manners.gives else (bench.machine, "alone")
    if bench.make(seam) in INSIDE:
        return "inside", "in the seam"
    if on_a_line(bench, seam):
        return ("none needed", "alone") if bench.manners.gives else (bench.machine, "alone")
    if _above_a_slit(bench, seam):
        return ("none needed" if bench.manners.gives and not bench.sewer.overlocker else bench.machine), "alone"
    if bench.manners.gives:
        return ("overlocked", "in the seam") if bench.sewer.overlocker else ("none needed", "in the seam")
    if bench.manners.fine and not bench.sewer.overlocker and _can_be_french(bench, seam):
        return "enclosed", "in the seam"
    return bench.machine, "together" if _together(bench, seam) else "alone"


def _together(bench: Bench, seam: Seam) -> bool:
    """Whether both edges are neatened as one: pressed to a side, curved, full, or of more than two plies."""
    return (
        seam.pressed != "open"
        or seam.kind != "plain"
        or bool(seam.more)
        or turning_of(bench.garment, seam.runs) >= CURVED_DEG
        or bench.needs.ways.get(seam.name) == "in the round"
        or has_pocket(bench, seam)
    )


def is_strap(seam: Seam) -> bool:
    """Whether it sets the end of a strap or loop, which lies double, on its place."""
    return seam.kind == "patch" and bool(seam.more)


def on_a_line(bench: Bench, seam: Seam) -> bool:
    """Whether it is sewn to a line drawn inside a piece: a frill set on, whose raw edge stays its own."""
    return any(bench.garment.edge_of(run) is None for run in seam.runs)


def has_pocket(bench: Bench, seam: Seam) -> bool:
    return any(bench.garment.piece(run.piece).layer == "pocket" for run in seam.runs)


def _can_be_french(bench: Bench, seam: Seam) -> bool:
    edges = [bench.garment.edge_of(run) for run in seam.runs]
    narrowest = min(edge.allowance for edge in edges if edge)
    return (
        seam.kind == "plain"
        and not seam.more
        and narrowest >= FRENCH_LEAST
        and turning_of(bench.garment, seam.runs) < CURVED_DEG
        and bench.needs.ways.get(seam.name) != "in the round"
        and not has_pocket(bench, seam)
        and not on_a_line(bench, seam)
        and not any(_at_an_opening(bench, run) for run in seam.runs)
    )


def _at_an_opening(bench: Bench, run: Run) -> bool:
    """Whether the edge runs on into a zip, a slit or a pocket's opening: there it must be pressed open."""
    piece = bench.garment.piece(run.piece)
    for at_end in (False, True):
        edge = neighbour(piece, run.line, at_end=at_end)
        if edge is None:
            continue
        free = bench.needs.free.get((run.piece, edge.name))
        if free and free.kind == "zip":
            return True
        if any(has_pocket(bench, seam) for seam in bench.needs.users.get((run.piece, edge.name), [])):
            return True
    return False


def _above_a_slit(bench: Bench, seam: Seam) -> bool:
    """Whether its line runs on below, turned to either side: there its allowances must lie apart."""
    if seam.kind != "plain" or seam.pressed != "open":
        return False
    for run in seam.runs:
        piece = bench.garment.piece(run.piece)
        for at_end in (False, True):
            other = neighbour(piece, run.line, at_end=at_end)
            free = bench.needs.free.get((run.piece, other.name)) if other else None
            if other and free and free.kind == "hem":
                ways = (
                    (piece.edge(run.line).curve, other.curve)
                    if at_end
                    else (other.curve, piece.edge(run.line).curve)
                )
                if ways[0].end_tangent.dot(ways[1].start_tangent) > RUNS_ON:
                    return True
    return False


def is_crotch(bench: Bench, seam: Seam) -> bool:
    """A hollow seam between a piece and its own mirror image takes the strain of sitting; a hood's is full."""
    edges = [edge for run in seam.runs if (edge := bench.garment.edge_of(run))]
    hollow = any(hollow_deg(edge) >= CURVED_DEG for edge in edges)
    return own_mirror(seam) and hollow and not has_pocket(bench, seam)
