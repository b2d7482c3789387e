"""The words on a piece of a lay plan, and its grain arrow: as much as finds room, readable when printed."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import shapely
from shapely.geometry import LineString, Polygon, box
from shapely.geometry import Point as Spot

from clothwise.curve import Point, polyline
from clothwise.lay.piece import LayPiece
from clothwise.lay.placement import Placement
from clothwise.paper import font
from clothwise.paper.drawing import Fill, Item, Stroke, Words, arrow_head, rectangle

LABEL = 0.34  # cm of type on a piece, at most
SMALLEST = 0.19  # cm of type: smaller cannot be read
ROOM = 0.05  # cm left round the words on a piece
ARROW = 0.25  # cm: arrow head
BIG = 1e4  # cm on paper: beyond every drawing


def label(
    shape: Polygon, placement: Placement, tried: tuple[tuple[str, ...], ...], taken: list[Polygon]
) -> Iterator[Item]:
    """The fullest wording that finds room in the piece, on white; below it the grain arrow.

    Where none does, the shortest stands beside the piece, clear of what is `taken` if that can be.
    """
    circle = shapely.maximum_inscribed_circle(shape)
    middles = [Point(*circle.coords[0]), Point(*shape.centroid.coords[0])]
    sizes = (LABEL, LABEL * 0.8, SMALLEST)
    tries = [(lines, size) for size in sizes for lines in tried[:3]]
    tries += [(lines, size) for lines in tried[3:] for size in sizes]
    for with_arrow in (True, False):
        for lines, size in tries:
            for middle in middles:
                words = _Label(lines, middle, size)
                if not shape.contains(words.box(ROOM)):
                    continue
                spots = [spot for spot in words.beside_it() if _arrow(shape, placement, spot)]
                through = _arrow(shape, placement, middle)
                if through and through[0].distance(through[1]) > 2 * words.half + 4 * ARROW:
                    spots.append(middle)  # seen on both sides of the words
                if spots or not with_arrow:
                    yield from _grain(shape, placement, spots[0] if spots else middle, words.box(ROOM))
                    yield from words.items()
                    return
    yield from _grain(shape, placement, middles[0])
    words = _beside(shape, _Label(tried[-1], middles[0], SMALLEST), taken)
    taken.append(words.box(0.0))
    yield from words.items()


def _beside(shape: Polygon, words: _Label, taken: list[Polygon]) -> _Label:
    """The words to the right of a piece, or left, below, above, where they cover nothing."""
    x, y = words.middle.x, words.middle.y
    level = shape.intersection(box(-BIG, y - words.above, BIG, y + words.above)).bounds
    upright = shape.intersection(box(x - words.half, -BIG, x + words.half, BIG)).bounds
    places = (
        Point(level[2] + words.half, y),
        Point(level[0] - words.half, y),
        Point(x, upright[1] - words.above),
        Point(x, upright[3] + words.above),
    )
    tries = [replace(words, middle=place) for place in places]
    return min(tries, key=lambda one: sum(one.box(0.0).intersection(other).area for other in taken))


@dataclass(frozen=True, slots=True)
class _Label:
    """Lines of words about a middle, of one size. [cm on paper]"""

    lines: tuple[str, ...]
    middle: Point
    size: float

    @property
    def half(self) -> float:
        return max(font.width(line, self.size, bold=k == 0) for k, line in enumerate(self.lines)) / 2 + 0.08

    @property
    def above(self) -> float:
        return self.size * 1.25 * len(self.lines) / 2

    def box(self, spare: float) -> Polygon:
        x, y, w, h = self.middle.x, self.middle.y, self.half + spare, self.above + spare
        return box(x - w, y - h, x + w, y + h)

    def beside_it(self) -> tuple[Point, Point]:
        """Where an arrow stands clear of the words: below or above them."""
        x, y = self.middle.x, self.middle.y
        return Point(x, y - self.above - 0.15), Point(x, y + self.above + 0.15)

    def items(self) -> Iterator[Item]:
        x, y, w, h = self.middle.x, self.middle.y, self.half, self.above
        yield Fill(rectangle(x - w, y - h, x + w, y + h), "paper")
        for k, line in enumerate(self.lines):
            place = Point(x, y + h - self.size * 1.25 * (k + 0.8))
            yield Words(line, place, self.size, anchor="middle", bold=k == 0)


def wordings(number: int, piece: LayPiece, order: int, says: str) -> tuple[tuple[str, ...], ...]:
    """What stands on a piece, from the fullest to the shortest."""
    title, cut = f"{number}  {piece.title}", f"cut {order}"
    words = piece.title.split()
    half = (len(words) + 1) // 2
    broken = (f"{number}  {' '.join(words[:half])}", " ".join(words[half:])) if len(words) > 1 else (title,)
    first, _, rest = says.partition(", ")
    return (
        (title, f"{cut}: {says}"),
        (title, f"{cut}: {first}", *([rest] if rest else [])),
        (*broken, f"{cut}: {first}", *([rest] if rest else [])),
        (*broken, cut),
        (f"{title}, {cut}",),
        (str(number), cut),
        (f"{number}, {cut}",),
    )


def _grain(
    shape: Polygon, placement: Placement, through: Point, words: Polygon | None = None
) -> Iterator[Item]:
    """An arrow with the grain of the piece, its head towards the top of it; broken where the words stand."""
    found = _arrow(shape, placement, through)
    if not found:
        return
    tail, tip = found
    line = LineString([(tail.x, tail.y), (tip.x, tip.y)])
    if words is not None and words.contains(Spot(tip.x, tip.y)):
        return  # its head would lie on the words
    for part in shapely.get_parts(line.difference(words) if words is not None else line):
        (x0, y0), (x1, y1) = part.coords
        yield Stroke(polyline([Point(x0, y0), Point(x1, y1)]), "grain")
    yield arrow_head(tip, tail.to(tip), ARROW)


def _arrow(shape: Polygon, placement: Placement, through: Point) -> tuple[Point, Point] | None:
    """Tail and tip of an arrow through a point well inside the shape; None where it would be too short."""
    if not shape.contains(Spot(through.x, through.y).buffer(ROOM * 2)):
        return None
    turn = math.radians(placement.angle)
    ux, uy = math.cos(turn), math.sin(turn)
    left, bottom, right, top = shape.bounds
    reach = math.hypot(right - left, top - bottom)
    line = LineString(
        [(through.x - ux * reach, through.y - uy * reach), (through.x + ux * reach, through.y + uy * reach)]
    )
    parts = shapely.get_parts(shape.intersection(line))
    runs = [part for part in parts if isinstance(part, LineString) and not part.is_empty]
    if not runs:
        return None
    (x0, y0), (x1, y1) = max(runs, key=lambda part: part.length).coords
    if (x1 - x0) * ux + (y1 - y0) * uy < 0:
        (x0, y0), (x1, y1) = (x1, y1), (x0, y0)
    tail = Point(x0 + (x1 - x0) * 0.2, y0 + (y1 - y0) * 0.2)
    tip = Point(x1 - (x1 - x0) * 0.2, y1 - (y1 - y0) * 0.2)
    return (tail, tip) if tail.distance(tip) > 3 * ARROW else None
