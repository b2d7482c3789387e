"""Contact sheets of the house drafts, to be looked at: seven bodies across, choices down.

    python -m benchmarks.draft_pictures [NAME ...] [--out=FOLDER]    a page each: docs/pictures/NAME.png
    python -m benchmarks.draft_pictures --wardrobe                   all on one: docs/pictures/wardrobe.png

First the draft as it stands and each option of its main choices on all seven bodies; then every other choice
at its ends on three of them, the low end (or one option) to the left, the high end to the right; what a wearer
cannot have, as near to it as can be had, which then stands behind the name.
Black the seam line, grey the cutting line, purple the hem, orange the waist, dotted the levels, dashed where
the piece is lengthened or shortened; short strokes are notches, the arrow is the grain. All to one scale.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from itertools import pairwise
from pathlib import Path

from PIL import Image, ImageDraw, ImageFont

from benchmarks.house import asked_for, chosen, draft_named
from clothwise.body import Body, Figure, Measure, estimate
from clothwise.curve import Point
from clothwise.draft import PATTERNS, Choice, HouseDraft
from clothwise.draft.pattern import FINISHED
from clothwise.errors import WorkroomError
from clothwise.garment import Piece
from clothwise.garment.allowance import cutting_line, notch_marks

Wish = dict[str, float | str]
At = Callable[[Point], tuple[float, float]]
PICTURES = Path(__file__).resolve().parents[1] / "docs" / "pictures"
COLOURS = 64  # line drawings: few colours keep the files small
SCALE = 1.6  # pixels for a centimetre
FINER = 3  # drawn so much larger, then reduced: smooth lines
GAP = 7.0  # cm between pieces
TITLE = 80.0  # cm that the longest title takes
HEAD = 9.0  # cm above a cell for its words
NAMED = 2.6  # cm: height of a piece's name
LINE = 0.02  # cm: chords leave their curves by no more

INK, CUT, HEM, CASING, LEVEL, ADJUST = "#111111", "#a8a8a8", "#6a1b9a", "#c75b00", "#2e7d32", "#1565c0"

WEARERS: tuple[tuple[str, Figure, float, float, float, float, float | None], ...] = (
    # who, figure, height, bust, waist, hip [cm], age [years]
    ("small woman", "woman", 152.0, 82.0, 66.0, 88.0, None),
    ("average woman", "woman", 165.0, 94.0, 78.0, 102.0, None),
    ("large woman", "woman", 167.0, 120.0, 106.0, 126.0, None),
    ("tall man", "man", 196.0, 104.0, 90.0, 103.0, None),
    ("large man", "man", 180.0, 122.0, 116.0, 118.0, None),
    ("girl of 7", "girl", 122.0, 62.0, 56.0, 66.0, 7.0),
    ("boy of 3", "boy", 97.0, 53.0, 51.0, 54.0, 3.0),
)
THREE = (1, 2, 5)  # of them, where a choice is shown at its ends: average woman, large woman, girl of 7
WORN_BY = (1, 3, 2, 5, 1, 2, 5, 0, 5, 6, 4, 0, 1, 3, 2, 6, 4, 1)  # of them, on the page of all drafts
WIDE = 760.0  # cm of pieces side by side on that page
NEARER = 120  # steps from an end that a wearer cannot have towards the other, until one can be had
STRIP = 3.0  # times as wide as high: bands, bindings and ties, which that page leaves out


@dataclass(frozen=True, slots=True)
class Cell:
    """One body's pieces side by side; left, bottom, width, height of them all [cm]."""

    title: str
    under: str
    placed: tuple[tuple[Piece, tuple[Point, ...], float], ...]  # piece, cutting line, moved right by
    bottom: float
    width: float
    height: float


def main(arguments: Sequence[str]) -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("names", nargs="*", help="drafts; all of the shelf when none is named")
    parser.add_argument("--out", type=Path, default=PICTURES, help="folder to write to")
    parser.add_argument("--wardrobe", action="store_true", help="one page with every draft as it stands")
    wanted = parser.parse_args(arguments)
    wanted.out.mkdir(parents=True, exist_ok=True)
    if wanted.wardrobe:
        _keep(wardrobe(), wanted.out / "wardrobe.png")
        return 0
    for name in asked_for(wanted.names, parser):
        draft = draft_named(name)
        words, rows = zip(*_rows(draft), strict=True)
        _keep(contact_sheet(rows, words), wanted.out / f"{draft.name}.png")
    return 0


def _keep(page: Image.Image, file: Path) -> None:
    few = page.quantize(COLOURS, Image.Quantize.FASTOCTREE, dither=Image.Dither.NONE)
    few.save(file, optimize=True)
    print(file)


def wardrobe() -> Image.Image:
    """Every draft as it stands on one of the wearers, without its bands and ties, set in lines like words."""
    cells = []
    for draft, wearer in zip(PATTERNS, WORN_BY, strict=True):
        cell = _cell(draft, {}, wearer, whole=False)
        cells.append(
            replace(cell, title=f"{draft.title}, {cell.title}", under="", width=max(cell.width, TITLE))
        )
    lines: list[list[Cell]] = [[]]
    for cell in cells:
        if sum(c.width + GAP for c in lines[-1]) + cell.width > WIDE:
            lines.append([])
        lines[-1].append(cell)
    k = SCALE * FINER
    heights = [max(cell.height for cell in line) + HEAD + 2 * GAP for line in lines]
    big = Image.new("RGB", (int((WIDE + 2 * GAP) * k), int(sum(heights) * k)), "white")
    pen = ImageDraw.Draw(big)
    y = 0.0
    for line, high in zip(lines, heights, strict=True):
        room = min((WIDE - sum(cell.width for cell in line)) / max(len(line) - 1, 1), 3 * GAP)
        x = GAP
        for cell in line:
            _draw_cell(pen, cell, x, y, k, "")
            x += cell.width + room
        y += high
    return big.resize((big.width // FINER, big.height // FINER), Image.Resampling.LANCZOS)


def _rows(draft: HouseDraft) -> Iterator[tuple[str, list[Cell]]]:
    """Words and cells of each row."""
    yield "as it stands", [_cell(draft, {}, n) for n in range(len(WEARERS))]
    for choice in draft.choices:
        if choice.name == FINISHED:  # shown by what is longer and shorter
            continue
        if choice.main:
            for option in choice.options:
                if option != choice.default:
                    words = f"{choice.name}: {option}"
                    yield words, [_cell(draft, {choice.name: option}, n) for n in range(len(WEARERS))]
        else:
            ends: Sequence[float | str] = choice.options or (choice.low, choice.high)
            for one, other in pairwise(ends) if len(ends) == 2 else zip(ends, ends, strict=True):
                pair = [one] if one == other else [one, other]
                words = f"{choice.name}: {' | '.join(e if isinstance(e, str) else f'{e:g}' for e in pair)}"
                yield words, [_end_cell(draft, choice, end, n) for end in pair for n in THREE]


def _end_cell(draft: HouseDraft, choice: Choice, end: float | str, number: int) -> Cell:
    """A choice at that end, or as near to it as this wearer can have it, which the title then tells."""
    body, asked = _wearer(number), end
    if not isinstance(end, str) and not _had(draft, body, choice, end):
        away = (choice.low if end == choice.high else choice.high) - end
        steps = (end + away * n / NEARER for n in range(1, NEARER))
        asked = next((round(at, 2) for at in steps if _had(draft, body, choice, round(at, 2))), end)
    cell = _cell(draft, chosen(draft, choice.name, asked), number)
    return cell if asked == end else replace(cell, title=f"{cell.title}: {asked:g}")


def _had(draft: HouseDraft, body: Body, choice: Choice, value: float) -> bool:
    with suppress(WorkroomError):
        draft.make(body, chosen(draft, choice.name, value))
        return True
    return False


def _wearer(number: int) -> Body:
    who, figure, height, bust, waist, hip, age = WEARERS[number]
    given = {"height": height, "bust_girth": bust, "waist_girth": waist, "hip_girth": hip}
    return estimate(Body(who, figure, {k: Measure(v) for k, v in given.items()}, age_years=age))


def _cell(draft: HouseDraft, wish: Wish, number: int, whole: bool = True) -> Cell:
    who, _, height, bust, waist, hip, _ = WEARERS[number]
    under = f"height {height:g}  bust {bust:g}  waist {waist:g}  hip {hip:g}"
    try:
        pieces = draft.make(_wearer(number), wish).pieces
    except WorkroomError as refusal:
        return Cell(who, refusal.what[:40], (), 0.0, 60.0, 20.0)
    return _laid([piece for piece in pieces if whole or not _strip(piece)], who, under)


def _strip(piece: Piece) -> bool:
    cut = cutting_line(piece)
    wide = max(p.x for p in cut) - min(p.x for p in cut)
    return wide > STRIP * (max(p.y for p in cut) - min(p.y for p in cut))


def _laid(pieces: Iterable[Piece], title: str, under: str) -> Cell:
    placed: list[tuple[Piece, tuple[Point, ...], float]] = []
    x = 0.0
    for piece in pieces:
        cut = tuple(cutting_line(piece))
        left, right = min(p.x for p in cut), max(p.x for p in cut)
        placed.append((piece, cut, x - left))
        x += right - left + GAP
    every = [p.y for _, cut, _ in placed for p in cut]
    return Cell(title, under, tuple(placed), min(every), x, max(every) - min(every))


def contact_sheet(rows: Sequence[Sequence[Cell]], words: Sequence[str]) -> Image.Image:
    """All cells to one scale, columns and rows as wide and high as they need."""
    widths = [max(row[i].width for row in rows if i < len(row)) + GAP for i in range(len(rows[0]))]
    heights = [max(cell.height for cell in row) + HEAD + GAP for row in rows]
    k = SCALE * FINER
    big = Image.new("RGB", (int((sum(widths) + GAP) * k), int(sum(heights) * k)), "white")
    pen = ImageDraw.Draw(big)
    y = 0.0
    for row, high, said in zip(rows, heights, words, strict=True):
        x = GAP
        for i, cell in enumerate(row):
            _draw_cell(pen, cell, x, y, k, said if i == 0 else "")
            x += widths[i]
        y += high
    return big.resize((big.width // FINER, big.height // FINER), Image.Resampling.LANCZOS)


def _draw_cell(pen: ImageDraw.ImageDraw, cell: Cell, x: float, y: float, k: float, said: str) -> None:
    font = ImageFont.load_default(size=int(3.6 * k))
    if said:
        pen.text((x * k, (y + 0.3) * k), said, fill=INK, font=font)
    pen.text((x * k, (y + 4.2) * k), cell.title, fill="#444444", font=font)
    small = ImageFont.load_default(size=int(2.6 * k))
    pen.text((x * k, (y + 8.0) * k), cell.under, fill="#777777", font=small)
    top = cell.bottom + cell.height
    for piece, cut, right in cell.placed:

        def at(p: Point, right: float = right) -> tuple[float, float]:
            return (x + p.x + right) * k, (y + HEAD + 3.0 + top - p.y) * k

        _draw_piece(pen, piece, cut, at, k)


def _draw_piece(pen: ImageDraw.ImageDraw, piece: Piece, cut: tuple[Point, ...], at: At, k: float) -> None:
    pen.line([at(p) for p in (*cut, cut[0])], fill=CUT, width=FINER)
    for mark in piece.marks:
        colour = {"level": LEVEL, "adjust": ADJUST}.get(mark.kind, INK)
        _dashed(pen, [at(p) for p in mark.curve.flattened(tolerance=LINE)], colour, 0.8 * k)
    for dart in piece.darts:
        pen.line([at(p) for p in dart.drawn], fill=INK, width=FINER)
    colours = {"hem": HEM, "casing": CASING}
    for edge in piece.edges:
        points = [at(p) for p in edge.curve.flattened(tolerance=LINE)]
        pen.line(points, fill=colours.get(edge.kind, INK), width=int(1.6 * FINER), joint="curve")
    for notch in notch_marks(piece, cut=cut):
        for number in range(notch.count):
            aside = notch.outward.left().times(0.8 * (number - (notch.count - 1) / 2))
            on = notch.on_cut.go(aside)
            pen.line([at(on), at(on.go(notch.outward, -2.0))], fill="#c62828", width=int(1.5 * FINER))
    low, high = (at(p) for p in piece.grain)
    pen.line([low, high], fill="#555555", width=FINER)
    for tip, way in ((high, 1.0), (low, -1.0)):
        pen.polygon(
            [tip, (tip[0] - 0.6 * k, tip[1] + 1.8 * k * way), (tip[0] + 0.6 * k, tip[1] + 1.8 * k * way)],
            fill="#555555",
        )
    font = ImageFont.load_default(size=int(NAMED * k))
    left, _ = at(Point(min(p.x for p in cut), 0.0))
    right, foot = at(Point(max(p.x for p in cut), min(p.y for p in cut)))
    pen.multiline_text((left, foot + 0.5 * k), _broken(piece.title, font, right - left), fill=INK, font=font)


def _broken(title: str, font: ImageFont.FreeTypeFont | ImageFont.ImageFont, width: float) -> str:
    """The title in lines that stay under their piece, a word at least in each."""
    lines: list[str] = []
    for word in title.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and font.getlength(longer) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    return "\n".join(lines)


def _dashed(pen: ImageDraw.ImageDraw, points: Iterable[tuple[float, float]], colour: str, dash: float) -> None:
    for (ax, ay), (bx, by) in pairwise(points):
        size = max(((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5, 1e-6)
        n = max(int(size / dash), 1)
        for i in range(0, n, 2):
            one, other = i / n, min((i + 1) / n, 1.0)
            pen.line(
                [
                    (ax + (bx - ax) * one, ay + (by - ay) * one),
                    (ax + (bx - ax) * other, ay + (by - ay) * other),
                ],
                fill=colour,
                width=FINER,
            )


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
