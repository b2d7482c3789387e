"""A garment: pieces, the seams that join them, the edges finished by themselves, and what is bought.

The seam graph is the heart. Matching, notches, allowances, order of work, minutes, elastic and thread all
read from it; none keeps its own copy.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Literal

from clothwise.curve import Curve
from clothwise.errors import GarmentError
from clothwise.garment.piece import Edge, Piece

SeamKind = Literal["plain", "patch", "gathered", "pleated", "eased", "stretched", "applied"]
# plain     right sides together, pressed open or to one side
# patch     a prepared piece laid on a placement line and topstitched (pocket)
# gathered  a is drawn up to b's length by rows of long stitches; eased: a is a little fuller, without folds
# pleated   a is laid in folds to b's length; where each lies is marked on its piece
# stretched a is pulled to b's length while it is sewn: a rib band, a band of a knit (ratio below 1)
# applied   a is a band, binding or facing sewn to the edge b and then turned over it
Pressed = Literal["open", "to a", "to b", "up", "down"]
Side = Literal["as drawn", "mirrored"]
FreeKind = Literal["hem", "casing", "pocket top", "band", "zip", "stand"]
# band   the inner long edge (or an open end) of a band, binding, cuff or collar stand: its whole allowance is
#        folded in (fold_in = turn) and it is sewn down where its seam runs; the edge is of kind 'seam'
# zip    the two edges of an opening a zip is set in: the allowance is turned in; the edges are of kind 'seam'
# stand  a button stand turned back along a straight front edge; the edge is of kind 'hem'


@dataclass(frozen=True, slots=True)
class Run:
    """One line of a piece taking part in a seam: an edge, or a placement mark.

    backwards  walked from the edge's end to its start
    side       'mirrored': the same edge on the other half of the pair
    """

    piece: str
    line: str
    backwards: bool = False
    side: Side = "as drawn"


@dataclass(frozen=True, slots=True)
class Seam:
    """Joins run after run of `a` to run after run of `b`, walked from the same end.

    length(a) = ratio x length(b) + ease. ratio 1 plain, 2 gathered to half, 0.9 stretched.
    times   how often the garment has it: 2 for left and right
    pressed how it lies when done
    after   names of seams or free edges that must be done before, beyond what the rules of work find
    more    further plies caught in the same seam, each as long as side a or side b: the second long edge of a
            folded neckband, a frill or collar sewn in between, the second half of a yoke
    """

    name: str
    title: str
    a: tuple[Run, ...]
    b: tuple[Run, ...]
    kind: SeamKind = "plain"
    ratio: float = 1.0
    ease: float = 0.0
    times: int = 1
    pressed: Pressed = "open"
    after: tuple[str, ...] = ()
    more: tuple[tuple[Run, ...], ...] = ()

    @property
    def runs(self) -> tuple[Run, ...]:
        """Every run sewn in it, ply after ply."""
        return (*self.a, *self.b, *(run for ply in self.more for run in ply))


@dataclass(frozen=True, slots=True)
class FreeEdge:
    """A run of edges finished by itself: a hem, a casing, the top of a patch pocket.

    turn      whole depth turned to the inside [cm], the fold at its raw edge included
    fold_in   of it the raw edge folded in first [cm]; 0 = the raw edge is overlocked, not folded
    closed    the run goes round (trouser hem, waist) and is sewn in the round
    elastic   width of the elastic it carries [cm], 0 = none
    """

    name: str
    title: str
    runs: tuple[Run, ...]
    kind: FreeKind
    turn: float
    fold_in: float = 0.0
    closed: bool = True
    times: int = 1
    elastic: float = 0.0
    after: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Corner:
    """Where one edge of a piece ends and the next begins."""

    piece: str
    before: str
    after: str


@dataclass(frozen=True, slots=True)
class Joint:
    """Corners that come to lie together when seams are sewn, so that a line runs on smoothly across them:
    their inside angles sum to `total_deg`."""

    name: str
    corners: tuple[Corner, ...]
    total_deg: float = 180.0


@dataclass(frozen=True, slots=True)
class Level:
    """A girth the garment promises: the marks or edges that go round the body there, once each copy.

    runs      (piece, mark or edge name, how many copies of it go round)
    body      the body's measure [cm]; ease added to it [cm]; 'gathered': the cloth is drawn in by elastic
    at_least  the finished girth may be more than body + ease (it hangs free), never less
    """

    name: str
    title: str
    runs: tuple[tuple[str, str, int], ...]
    body: float
    ease: float
    at_least: bool = False

    @property
    def wanted(self) -> float:
        return self.body + self.ease


@dataclass(frozen=True, slots=True)
class Notion:
    """Something bought besides cloth. `length` in cm where it is sold by length, else `count`.

    place  the free edge or seam it belongs to
    """

    name: str  # 'elastic', 'thread', 'drawstring', 'button'
    title: str  # 'Elastic 3 cm wide'
    place: str = ""
    length: float = 0.0
    width: float = 0.0
    count: int = 0


@dataclass(frozen=True, slots=True)
class Note:
    """Something the draft did that the sewer should know: what was changed and by how much."""

    text: str
    measure: str = ""
    by: float = 0.0


@dataclass(frozen=True, slots=True)
class Passage:
    """An opening the body must get through: the cloth's edge, its stretch, and the girth that passes."""

    name: str
    title: str
    runs: tuple[tuple[str, str, int], ...]
    passes: float  # cm: girth of head, hips, heel, hand
    needs: float  # cm: least ease beyond it
    stretch: float = 0.0  # share by which the cloth gives


@dataclass(frozen=True, slots=True)
class Garment:
    """What a pattern makes for one body."""

    name: str  # the pattern's name: 'pull_on_trousers'
    title: str
    pieces: tuple[Piece, ...]
    seams: tuple[Seam, ...]
    free_edges: tuple[FreeEdge, ...]
    joints: tuple[Joint, ...] = ()
    levels: tuple[Level, ...] = ()
    passages: tuple[Passage, ...] = ()
    notions: tuple[Notion, ...] = ()
    notes: tuple[Note, ...] = ()
    choices: Mapping[str, float | str] = field(default_factory=dict)
    finished: Mapping[str, float] = field(default_factory=dict)  # finished measures, cm
    for_child: bool = False
    body_name: str = ""

    def __post_init__(self) -> None:
        object.__setattr__(self, "choices", MappingProxyType(dict(self.choices)))
        object.__setattr__(self, "finished", MappingProxyType(dict(self.finished)))

    def piece(self, name: str) -> Piece:
        """The piece of that name. GarmentError when there is none."""
        for piece in self.pieces:
            if piece.name == name:
                return piece
        raise GarmentError(
            f"The garment has no piece '{name}'.",
            where=f"garment '{self.name}'",
            mend=f"Its pieces are {', '.join(p.name for p in self.pieces)}.",
        )

    def seam(self, name: str) -> Seam:
        """The seam of that name. GarmentError when there is none."""
        for seam in self.seams:
            if seam.name == name:
                return seam
        raise GarmentError(
            f"The garment has no seam '{name}'.",
            where=f"garment '{self.name}'",
            mend=f"Its seams are {', '.join(s.name for s in self.seams) or 'none'}.",
        )

    def edge_of(self, run: Run) -> Edge | None:
        """The edge a run walks, or None when it is a line drawn inside the piece."""
        return next((edge for edge in self.piece(run.piece) if edge.name == run.line), None)

    def curve(self, run: Run) -> Curve:
        """The run's curve in the direction it is walked, on the piece as drawn."""
        curve = self.piece(run.piece).line(run.line)
        return curve.reversed() if run.backwards else curve

    def length(self, runs: tuple[Run, ...]) -> float:
        """Length of runs one after another. [cm]"""
        return sum(self.piece(r.piece).line(r.line).length() for r in runs)

    def round(self, runs: tuple[tuple[str, str, int], ...]) -> float:
        """Girth of a level or passage: each line as often as it goes round. [cm]"""
        return sum(self.piece(piece).line(line).length() * times for piece, line, times in runs)
