"""One step of the work, as data; `words` turns it into a sentence.

Seam classes are those of ISO 4916, stitch classes those of ISO 4915, each with the plain name.
An edge of a cut copy is a `Run`: piece, line and side ('mirrored' is the other half of a pair, or of a fold).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from clothwise.garment import Run

Kind = Literal[
    "mark", "stay", "neaten", "fold in", "seam", "patch", "turn", "elastic", "try on", "hang", "press",
]  # fmt: skip
# mark     tell the pieces and their sides apart          stay     a line of stitches that stops stretching
# neaten   raw edges, each alone, while all lies flat     fold in  press the allowances of a patch under
# seam     join edge to edge                              patch    set a prepared piece on a placement line
# turn     fold and stitch a hem, casing or pocket top    elastic  thread, join, close
# try on   on the body, before what cannot be undone      hang     a day, before the hem is levelled
# press    the whole, at the end

Finish = Literal["overlocked", "zigzagged", "pinked", "enclosed", "folded in", "none needed"]
Tube = Literal["", "closes", "closes each", "nested"]
# closes       all copies together shut flat work into one tube (a skirt)
# closes each  each copy shuts a tube of its own (a leg)
# nested       it joins two tubes, one slipped inside the other
HeldAt = Literal["", "side seams", "marks"]
How = Literal["alone", "together", "in the seam"]
Facing = Literal["right sides together", "wrong sides together", "wrong side up", "right side up", "inside out"]


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
    6 edge of one ply, 7 something added to an edge, 8 single ply folded), and the plain name."""

    iso: str
    name: str


@dataclass(frozen=True, slots=True)
class Join:
    """Runs sewn to runs, walked from the same end; one for each copy of the seam."""

    a: tuple[Run, ...]
    b: tuple[Run, ...]


@dataclass(frozen=True, slots=True)
class Neatening:
    """How raw edges are kept from fraying, and which."""

    finish: Finish
    how: How
    edges: tuple[Run, ...]


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
    joins       what is sewn to what, once for each copy
    edges       free edges turned, stayed or folded in, as copies
    notches     signs matched along the joins
    crossings   titles of the seams it is sewn across
    tube        what the seam does to the shape of the work; round: stitched round and round
    joined      both sides of the seam are already joined to something of their own
    rows        lines of stitching: 2 where it takes the strain
    allowance   from the stitching to the raw edge [cm]; trim_to what is left after trimming, 0 = not trimmed
    turn        whole depth folded to the wrong side [cm], of it fold_in first
    elastic     length to cut, overlap included, and width [cm]; opening left to thread it through [cm]
    held_at     where the ends of the elastic are sewn down; '' = it goes all round and its ends are lapped
    length      of all that is stitched, every copy and row [cm]
    pressed     which way it lies when done, or ''
    why         a key of words.WHY, or ''
    stop        a good place to leave off: nothing hangs half done
    wait_hours  the work must rest so long
    """

    number: int
    kind: Kind
    name: str
    title: str
    joins: tuple[Join, ...] = ()
    edges: tuple[Run, ...] = ()
    neatenings: tuple[Neatening, ...] = ()
    notches: tuple[str, ...] = ()
    crossings: tuple[str, ...] = ()
    facing: Facing = "right sides together"
    seam_type: SeamType | None = None
    stitch: Stitch | None = None
    needle: str = ""
    rows: int = 1
    tube: Tube = ""
    joined: bool = False
    round: bool = False
    allowance: float = 0.0
    trim_to: float = 0.0
    turn: float = 0.0
    fold_in: float = 0.0
    elastic_length: float = 0.0
    elastic_width: float = 0.0
    opening: float = 0.0
    held_at: HeldAt = ""
    times: int = 1
    length: float = 0.0
    pressed: str = ""
    why: str = ""
    stop: bool = False
    wait_hours: float = 0.0
    minutes: Span = Span()
