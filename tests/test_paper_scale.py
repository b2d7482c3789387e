"""True size, proved by others: pdfium reads the sheets back, poppler draws them, both are measured."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pypdfium2 as pdfium
import pytest
import shapely
from shapely import LineString, MultiLineString, prepare

from clothwise.curve import Cubic, Curve, Point
from clothwise.garment import Garment
from clothwise.paper.arrange import arranged
from clothwise.paper.caption import Caption
from clothwise.paper.pattern import pattern_pdf, print_pattern
from clothwise.paper.piece import draw_pieces
from clothwise.paper.sheets import Sheet, sheet

from . import paper_reading as read
from .paper_pieces import skirt, trousers

PAPERS = (
    sheet("A4"),
    sheet("Letter", overlap=0.0),
    sheet("A4 and Letter", orientation="landscape"),
    sheet("A3", margin=1.3, overlap=1.7),
    sheet((25.0, 33.0), orientation="portrait"),
)
names = lambda paper: f"{paper.name} {paper.overlap:g}"  # noqa: E731


@pytest.mark.parametrize("paper", PAPERS, ids=names)
def test_every_sheet_has_true_squares_in_cm_and_inches(paper: Sheet) -> None:
    pdf = pdfium.PdfDocument(pattern_pdf(skirt(), paper=paper))
    for number, page in enumerate(pdf):
        found = read.squares(page)
        cm = [s for s in found if max(abs(v - w) for v, w in zip(s, s[::-1], strict=True)) < 0.005]
        for side in (10.0 if number == 0 else 5.0, 5.08):
            best = min(max(abs(s[0] - side), abs(s[1] - side)) for s in cm)
            assert best <= 0.005, f"sheet {number}: {side} cm square is {best:.4f} cm off"


@pytest.mark.parametrize("paper", PAPERS, ids=names)
def test_squares_lie_inside_the_printed_window_and_apart(paper: Sheet) -> None:
    pdf = pdfium.PdfDocument(pattern_pdf(trousers(), paper=paper))
    for page in pdf:
        width, height = (v / read.CM for v in page.get_size())
        boxes = [r for r in read.strokes(page, in_forms=False) if len(r) == 5]
        squares = [
            r for r in boxes if abs(np.ptp(r[:, 0]) - np.ptp(r[:, 1])) < 0.005 and np.ptp(r[:, 0]) < 10.1
        ]
        assert len(squares) == 2
        for ring in squares:
            low, high = ring.min(axis=0), ring.max(axis=0)
            assert (low >= paper.margin - 1e-3).all()
            assert (high <= np.array([width, height]) - paper.margin + 1e-3).all()
        one, other = (LineString(r).convex_hull for r in squares)
        assert one.distance(other) > 0.2


@pytest.mark.skipif(not read.HAS_POPPLER, reason="pdftoppm is not installed")
def test_ten_centimetres_measure_ten_centimetres_on_the_printed_raster(tmp_path: Path) -> None:
    """At 300 dpi the rim of the 10 cm square lies 100 mm apart, both ways, within 0.2 mm."""
    data = pattern_pdf(skirt(), paper=sheet("A4"), body_name="Juno")
    page = pdfium.PdfDocument(data)[0]
    box = next(
        r for r in read.strokes(page, in_forms=False) if len(r) == 5 and abs(np.ptp(r[:, 0]) - 10) < 0.01
    )
    grey = read.rasters(data, tmp_path / "p", 300, 1, 1)[0]
    per_cm = 300 / 2.54
    for axis in (0, 1):
        middle = box.mean(axis=0)
        at = box[:4, 1 - axis].mean() - 3.0  # a line of pixels through the square, off its words
        if axis == 0:
            line = grey[round(grey.shape[0] - at * per_cm), :].astype(float)
            rims = box[:, 0].min(), box[:, 0].max()
        else:
            line = grey[:, round(at * per_cm)][::-1].astype(float)
            rims = box[:, 1].min(), box[:, 1].max()
        found = []
        for rim in rims:
            near = np.arange(round((rim - 0.3) * per_cm), round((rim + 0.3) * per_cm))
            dark = 255 - line[near]
            found.append(float((near + 0.5) @ dark / dark.sum()) / per_cm)
        assert abs(found[1] - found[0] - 10.0) <= 0.02, (axis, found, middle)


def curves_of(garment: Garment) -> list[tuple[int, Curve]]:
    """All edges of each piece, by its place in the garment."""
    return [(i, edge.curve) for i, piece in enumerate(garment.pieces) for edge in piece.edges]


def sampled(curve: Curve) -> np.ndarray:
    """At least 200 points on every stroke, by the curve's own formula."""
    points = []
    for stroke in curve.strokes:
        steps = read.CHORDS if isinstance(stroke, Cubic) else 20
        points += [stroke.at(k / steps) for k in range(steps + 1)]
    return np.array(points)


@pytest.mark.parametrize("garment", [trousers(wide=36, long=112), skirt()], ids=lambda g: g.name)
@pytest.mark.parametrize("paper", PAPERS[:4], ids=names)
def test_sheets_put_together_at_their_pitch_give_back_every_outline(garment: Garment, paper: Sheet) -> None:
    """Each point of every line is, within 0.1 mm, on each sheet that shows its place, and on one at least."""
    drawn = draw_pieces(garment, Caption(garment.title))
    arrangement = arranged([d.outline for d in drawn], paper)
    grid = arrangement.grid
    pdf = pdfium.PdfDocument(print_pattern(garment, paper=paper).data)
    assert len(pdf) == len(grid.tiles) + 1
    wanted = [(i, sampled(curve)) for i, curve in curves_of(garment)]
    wanted += [(i, np.array(d.outline)) for i, d in enumerate(drawn)]
    on_plane = [np.array([arrangement.carries[i](Point(*p)) for p in points]) for i, points in wanted]
    seen = [np.zeros(len(points), dtype=bool) for points in on_plane]
    m = paper.margin
    for number, tile in enumerate(grid.tiles, start=1):
        left, bottom, right, top = grid.window(tile)
        ink = MultiLineString([r for r in read.strokes(pdf[number], in_forms=True) if len(r) > 1])
        prepare(ink)
        for points, hits in zip(on_plane, seen, strict=True):
            x, y = points[:, 0], points[:, 1]
            inside = (x >= left) & (x <= right) & (y >= bottom) & (y <= top)
            places = shapely.points(points[inside] + (m - left, m - bottom))
            assert shapely.dwithin(ink, places, 0.01).all(), (tile.label, shapely.distance(ink, places).max())
            hits |= inside
    assert all(hits.all() for hits in seen)
