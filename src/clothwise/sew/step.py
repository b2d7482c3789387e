"""One step of the work, as data; `words` turns it into a sentence.

Seam classes are those of ISO 4916, stitch classes those of ISO 4915, each with the plain name.
An edge of a cut copy is a `CutRun`: piece, line, side ('mirrored' is the other half of a pair, or of a fold)
and which of several copies alike.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, get_args

from clothwise.garment import Run

Kind = Literal[
    "mark", "fuse", "stay", "neaten", "dart", "pleat", "crease", "fold in", "gather", "eyelet", "seam", "patch",
    "tuck", "turn", "band", "zip", "elastic", "cord", "buttons", "try on", "hang", "press",
]  # fmt: skip
# mark     tell the pieces and their sides apart     fuse     interfacing on the wrong side
# stay     a line of stitches that stops stretching  neaten   raw edges, each alone, while all lies flat
# dart     all darts of one piece                    pleat    folds laid on their marks and basted
# crease   a band pressed in half, its allowances in   tuck  growth tucks stitched above a hem
# fold in  press the allowances of a patch under     gather   rows of long stitches, to draw up or ease by
# eyelet   holes for a cord, before the casing       seam     join edge to edge
# patch    set a prepared piece on a placement       turn     fold and stitch a hem, casing, stand, pocket top
# band     the inner edge of a band sewn down        zip      set a zip into its opening
# elastic  thread, join, close                       cord     thread a drawstring
# buttons  buttonholes, then buttons                 try on   on the body, before what cannot be undone
# hang     a day, before the hem is levelled         press    the whole, at the end

Finish = Literal["overlocked", "zigzagged", "pinked", "enclosed", "inside", "folded in", "none needed"]
# enclosed  a French seam: closed on itself    inside  shut in between two layers: facing, band, collar, yoke
Tube = Literal["", "closes", "closes each", "folded", "nested"]
# closes       all copies together shut flat work into one tube (a skirt)
# closes each  each copy shuts a tube of its own (a leg)
# folded       each copy shuts a side of work that hangs together (a bodice joined at the shoulders)
# nested       it joins two tubes, one slipped inside the other, along a line with two ends (a crotch)
Way = Literal["", "flat", "in the round", "centred", "lapped", "invisible"]
# flat, in the round  how a seam that could be sewn open or closed is sewn: a sleeve before or after the side
# centred, lapped, invisible  how a zip is set: an edge at either side of the teeth; one over them; or along the
#                     teeth from the right side, before the seam below is closed
WAYS: tuple[str, ...] = get_args(Way)[1:]
HeldAt = Literal["", "side seams", "marks"]
How = Literal["alone", "together", "in the seam"]
Facing = Literal["right sides together", "wrong sides together", "wrong side up", "right side up", "inside out"]
Make = Literal[
    "", "facing", "binding", "band", "folded band", "layers", "sandwich", "caught", "folded on itself"
]
# facing   sewn on, then turned wholly to the inside  binding  sewn on, then folded over the raw edge
# band     sewn on, its other edge sewn down later    folded band  folded, both its edges in the seam
# layers   two layers, turned right side out          sandwich a ply lies between two layers sewn on at once
# caught   a prepared ply (collar, frill) lies in it  folded on itself  a strip closed along or across itself


@dataclass(frozen=True, slots=True)
class CutRun(Run):
    """A run of one cut copy. number: which of the copies of that hand, from 0."""

    number: int = 0

    @property
    def copy(self) -> tuple[str, str, int]:
        """The cut copy; of a piece on the fold, its half."""
        return self.piece, self.side, self.number


@dataclass(frozen=True, slots=True)
class Stitch:
    """A stitch: its ISO 4915 class, the plain name, length and width in mm."""

    iso: str
    name: str
    length_mm: float = 0.0
    width_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class SeamType:
    """A seam or edge: its class by ISO 4916 (1 superimposed, 2 lapped, 3 bound, 4 flat, 5 on a single ply,
    6 edge of one ply, 7 something added to an edge, 8 single ply folded), and the plain name.

    iso  the whole number of the seam (1.01.01) where the house is certain of it, else its class alone; '' where
         the standard, which is for seams, has none: a dart, a zip
    """

    iso: str
    name: str


@dataclass(frozen=True, slots=True)
class Join:
    """Runs sewn to runs, walked from the same end, in one line; further plies caught between or beside.

    seam  the garment's seam it belongs to
    """

    a: tuple[CutRun, ...]
    b: tuple[CutRun, ...]
    more: tuple[tuple[CutRun, ...], ...] = ()
    seam: str = ""

    @property
    def plies(self) -> tuple[tuple[CutRun, ...], ...]:
        return (self.a, self.b, *self.more)

    @property
    def runs(self) -> tuple[CutRun, ...]:
        return tuple(run for ply in self.plies for run in ply)


@dataclass(frozen=True, slots=True)
class Neatening:
    """How raw edges are kept from fraying, and which."""

    finish: Finish
    how: How
    edges: tuple[CutRun, ...]


@dataclass(frozen=True, slots=True)
class Span:
    """Minutes: nine in ten makes fall between low and high."""

    low: float = 0.0
    likely: float = 0.0
    high: float = 0.0


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the work.

    name        of the seam or free edge it makes, else the kind
    joins       what is sewn to what, once for each line sewn
    edges       free edges turned, stayed, gathered or folded in, line after line; lines: how many runs each has
    neatenings  how its raw edges are kept
    notches     signs matched along the joins
    crossings   titles of the seams it is sewn across
    make        what kind of work a seam is, beyond joining two edges
    tube        what the seam does to the shape of the work; round: stitched round and round
    way         how it is sewn where the trade does it in more than one
    beside_zip  how the zip is set whose opening the seam runs on into, or ''
    other_way   what speaks for the other of these, a key of the reasons
    joined      both sides of the seam are already joined to something of their own
    rows        lines of stitching: 2 where it takes the strain
    allowance   from the stitching to the raw edge [cm]; trim_to what is left after trimming, 0 = not trimmed
    clip        curves are clipped (a knit: notched outwards); point: cut into a point where a slit ends
    turned_later  a facing that is turned when a later step has sewn on its other edge too
    understitch the facing is stitched to the allowances, so that it rolls inwards
    fuller      by how much side a is longer than side b, once [cm]; ratio a over b
    turn        whole depth folded to the wrong side, or depth of a pleat or tuck [cm], of it fold_in first
    elastic     length to cut, overlap included, and width [cm]; opening left to thread it through [cm]
    held_at     where the ends of the elastic are sewn down; '' = it goes all round and its ends are lapped
    times       lines sewn, or things made; count: darts, pleats, tucks of each round, buttons, eyelets in all
    length      of all that is stitched, every copy and row [cm]
    pressed     which way it lies when done, or ''
    snip        notches are snipped; else chalked, where a cut would run or fray
    why         a key of the reasons, or ''
    stop        a good place to leave off: nothing hangs half done
    wait_hours  the work must rest so long
    """

    number: int
    kind: Kind
    name: str
    title: str
    joins: tuple[Join, ...] = ()
    edges: tuple[CutRun, ...] = ()
    lines: tuple[int, ...] = ()
    neatenings: tuple[Neatening, ...] = ()
    notches: tuple[str, ...] = ()
    crossings: tuple[str, ...] = ()
    facing: Facing = "right sides together"
    seam_type: SeamType | None = None
    stitch: Stitch | None = None
    needle: str = ""
    rows: int = 1
    make: Make = ""
    tube: Tube = ""
    way: Way = ""
    other_way: str = ""
    beside_zip: Way = ""
    joined: bool = False
    round: bool = False
    allowance: float = 0.0
    trim_to: float = 0.0
    clip: bool = False
    point: bool = False
    understitch: bool = False
    turned_later: bool = False
    fuller: float = 0.0
    ratio: float = 1.0
    turn: float = 0.0
    fold_in: float = 0.0
    elastic_length: float = 0.0
    elastic_width: float = 0.0
    opening: float = 0.0
    held_at: HeldAt = ""
    times: int = 1
    count: int = 0
    length: float = 0.0
    pressed: str = ""
    snip: bool = True
    why: str = ""
    stop: bool = False
    wait_hours: float = 0.0
    minutes: Span = Span()

    @property
    def seams(self) -> tuple[str, ...]:
        """The garment's seams sewn in it."""
        return tuple(dict.fromkeys(join.seam for join in self.joins))

    @property
    def chains(self) -> tuple[tuple[CutRun, ...], ...]:
        """Its edges, line by line."""
        found, start = [], 0
        for size in self.lines or ((len(self.edges),) if self.edges else ()):
            found.append(self.edges[start : start + size])
            start += size
        return tuple(found)
