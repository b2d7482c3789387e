"""What each sheet carries besides the pieces: its frame, join marks, its name, test squares.

Each sheet is trimmed at its left and upper edge where a neighbour lies there, and laid over that neighbour.
Half of every join mark lies on either side of the join, inside both windows, so both halves stay visible.
Coordinates here are the page's: cm from its lower left corner, y up.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from clothwise.curve import Point, Vector, line
from clothwise.errors import PaperError
from clothwise.paper import font
from clothwise.paper.drawing import Carry, Drawing, Item, Stroke, Words, polygon, rectangle
from clothwise.paper.grid import Grid, Tile
from clothwise.paper.squares import InkMap, Side, both_squares

MARK = 0.55  # cm: half the height and half the width of a join mark
SHARES = (0.5, 0.45, 0.55, 0.4, 0.6, 0.35, 0.65, 0.3, 0.7)  # of the edge: where the mark may stand
NUMBER = 0.27  # cm: type in a join mark
HINT = 0.22  # cm: type in the margin; if a printer loses it, nothing is lost
HINT_OFF = 0.18  # cm from the frame


@dataclass(frozen=True, slots=True)
class Join:
    """Where two sheets meet: the later one is trimmed there and laid over the earlier.

    number  the same in both halves of its mark
    at      middle of the mark on the taped paper, on the later sheet's trimmed edge
    """

    number: int
    earlier: Tile
    later: Tile
    at: Point

    @property
    def sideways(self) -> bool:
        """Neighbours in a row; else one above the other."""
        return self.earlier.row == self.later.row


def joins(grid: Grid, ink: InkMap) -> tuple[Join, ...]:
    """All joins between printed sheets, each mark where it covers least. Numbered as they are taped: row by row
    from left to right, then each row to the one above it."""
    kept = set(grid.tiles)
    pairs = [(tile, Tile(tile.row, tile.column + 1)) for tile in grid.tiles]
    pairs += [(tile, Tile(tile.row + 1, tile.column)) for tile in grid.tiles]
    found: list[Join] = []
    for tile, later in pairs:
        if later in kept:
            at = min(_mark_places(grid, tile, later), key=lambda p: ink.under(p, MARK))
            found.append(Join(len(found) + 1, tile, later, at))
    return tuple(found)


def _mark_places(grid: Grid, tile: Tile, later: Tile) -> list[Point]:
    """Along the later sheet's trimmed edge, from the middle outwards."""
    left, bottom, right, top = grid.window(later)
    if later.row == tile.row:
        return [Point(left, bottom + share * (top - bottom)) for share in SHARES]
    return [Point(left + share * (right - left), top) for share in SHARES]


def chosen_pages(grid: Grid, firsts: Sequence[str], only: Sequence[str]) -> tuple[str, ...]:
    """Names of the pages to print, in their order: all, or those given by name ('B3', 'Map') or by page ('7').

    firsts  names of the pages before the tiles
    Raises  PaperError: a name or number that is no page
    """
    names = [*firsts, *(tile.label for tile in grid.tiles)]
    known = {name.casefold(): name for name in names} | {str(n): name for n, name in enumerate(names, start=1)}
    wanted = {name.strip().casefold() for name in only}
    for name in only:
        if name.strip().casefold() not in known:
            raise PaperError(
                f"There is no sheet '{name}'.",
                where="sheets",
                mend=f"The sheets are {', '.join(names)}; or give the page, 1 to {len(names)}.",
            )
    found = {known[name] for name in wanted}
    return tuple(name for name in names if not wanted or name in found)


def to_page(grid: Grid, tile: Tile) -> Vector:
    """The move from the taped paper to the tile's page."""
    left, bottom, _, _ = grid.window(tile)
    return Vector(grid.sheet.margin - left, grid.sheet.margin - bottom)


def tile_drawing(grid: Grid, tile: Tile, own_joins: Iterable[Join], ink: InkMap, whose: str) -> Drawing:
    """Frame, joins, test squares and the sheet's name."""
    m = grid.sheet.margin
    across, up = grid.sheet.window
    items: list[Item] = [Stroke(rectangle(m, m, m + across, m + up), "trim", closed=True)]
    way = to_page(grid, tile)
    for join in own_joins:
        items += _join(join, grid, tile, join.at.go(way))
    own = ink.of(grid.window(tile), grid.sheet.overlap, _joined(grid, tile))
    items += both_squares(own, Point(m, m), tile.label, whose)
    return Drawing(f"sheet_{tile.label}", f"Sheet {tile.label}", tuple(items))


def _joined(grid: Grid, tile: Tile) -> frozenset[Side]:
    """Where the sheet meets another."""
    row, column = tile.row, tile.column
    beside: dict[Side, tuple[int, int]] = {
        "left": (row, column - 1),
        "right": (row, column + 1),
        "above": (row - 1, column),
        "below": (row + 1, column),
    }
    return frozenset(side for side, place in beside.items() if grid.has(*place))


def _join(join: Join, grid: Grid, tile: Tile, at: Point) -> Iterator[Item]:
    """The halves of a mark that this sheet shows, the line to lay the neighbour to, a hint in the margin."""
    along = Vector(0.0, 1.0) if join.sideways else Vector(1.0, 0.0)
    over = Vector(1.0, 0.0) if join.sideways else Vector(0.0, -1.0)  # from the earlier sheet to the later
    earlier = tile == join.earlier
    shows_both = earlier and grid.sheet.overlap >= MARK
    if earlier:
        yield from _half(join.number, at, along, over.back())
        if grid.sheet.overlap > 0:
            yield _lay_to(grid, join, at)
    if not earlier or shows_both:
        yield from _half(join.number, at, along, over)
    yield _hint(grid, join, earlier)


def _half(number: int, at: Point, along: Vector, side: Vector) -> Iterator[Item]:
    """A triangle on one side of the join, with the join's number."""
    yield Stroke(polygon(at.go(along, MARK), at.go(along, -MARK), at.go(side, MARK)), "join", closed=True)
    middle = at.go(side, 0.38 * MARK)
    yield Words(str(number), middle.down(font.CAPITAL / 2 * NUMBER), NUMBER, 0.0, "middle", "join")


def _lay_to(grid: Grid, join: Join, at: Point) -> Stroke:
    """On the earlier sheet, where the later one's trimmed edge comes to lie."""
    m = grid.sheet.margin
    across, up = grid.sheet.window
    if join.sideways:
        return Stroke(line(Point(at.x, m), Point(at.x, m + up)), "trim")
    return Stroke(line(Point(m, at.y), Point(m + across, at.y)), "trim")


def _hint(grid: Grid, join: Join, earlier: bool) -> Words:
    """In the margin: what to do at this edge."""
    m = grid.sheet.margin
    across, up = grid.sheet.window
    text = f"{join.later.label} goes here" if earlier else f"trim here, then lay over {join.earlier.label}"
    share = 0.25
    if join.sideways:
        x = m + across + HINT_OFF + HINT * font.ASCENT if earlier else m - HINT_OFF - HINT * font.DESCENT
        return Words(text, Point(x, m + share * up), HINT, 90.0, "middle", "join")
    y = m - HINT_OFF - HINT * font.ASCENT if earlier else m + up + HINT_OFF + HINT * font.DESCENT
    return Words(text, Point(m + share * across, y), HINT, 0.0, "middle", "join")


def row_names(grid: Grid) -> Mapping[int, tuple[Tile, ...]]:
    """The printed sheets of each row, from left to right."""
    rows: dict[int, tuple[Tile, ...]] = {}
    for tile in grid.tiles:
        rows[tile.row] = (*rows.get(tile.row, ()), tile)
    return rows


def moved(carry: Carry, way: Vector) -> Carry:
    return Carry(carry.turn, carry.dx + way.x, carry.dy + way.y)
