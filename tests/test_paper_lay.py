"""The lay plan's picture: every outline that is cut stands on it once, where the plan puts it."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pypdfium2
import pytest
from lxml import etree
from shapely.geometry import LineString, Point, Polygon
from shapely.ops import unary_union

from clothwise.lay.cutting import cutting_sequence, stages
from clothwise.lay.placement import Placement
from clothwise.lay.plan import LayPlan
from clothwise.lay.planning import plan
from clothwise.lay.problem import (
    FOLDED,
    SINGLE,
    TO_CENTRE,
    LayCloth,
    Layering,
    LayPiece,
    LayProblem,
    MatchPoint,
    Repeat,
    partial_fold,
    remnant,
)
from clothwise.lay.verify import faults
from clothwise.lay.verify_matching import place_of_stripes
from clothwise.paper.drawing import Drawing, Stroke, Words
from clothwise.paper.lay import lay_drawing, lay_pdf, lay_svg

from .laid_by_hand import rectangle

LEG = ((4, 0), (26, 0), (29, 40), (32, 70), (29, 78), (28, 100), (2, 98), (0, 60))
OUTLINE = tuple((float(x), float(y)) for x, y in LEG)
HALF = ((0.0, 0.0), (18.0, 0.0), (22.0, 40.0), (0.0, 45.0))
PIECES = (
    LayPiece("leg", "Leg", OUTLINE, 2, mirrored_pair=True),
    LayPiece("front", "Front", HALF, 1, on_fold=True, fold_edge=((0.0, 0.0), (0.0, 45.0))),
)
CLOTH = LayCloth(width=140.0, length=200.0)


def planned(layering: Layering, pieces: tuple[LayPiece, ...] = PIECES) -> LayPlan:
    return plan(LayProblem(pieces, CLOTH, gap=0.3), layering, effort="quick")


@pytest.mark.parametrize("layering", [SINGLE, FOLDED, TO_CENTRE, partial_fold(60.0)], ids=str)
def test_every_cut_is_made_once_where_nothing_else_lies(layering: Layering):
    made = planned(layering)
    pieces = {piece.name: piece for piece in PIECES}
    shown = stages(made)
    assert sum(len(stage.cuts) for stage in shown) == made.cuts
    for stage in shown:
        shapes = [Polygon(laid.outline_on_cloth(pieces[laid.piece])) for laid in stage.cuts]
        for shape in shapes:
            _, low, _, high = shape.bounds
            assert stage.table.low - 0.1 <= low
            assert high <= stage.table.high + 0.1
        assert all(one.intersection(two).area < 0.01 for one in shapes for two in shapes if one is not two)
    if len(shown) > 1:  # opened out, nothing is cut where a hole is by then
        holes = unary_union(
            [Polygon(p.carry(pieces[p.piece].whole_outline)) for p in made.placements if p.fold is not None]
        )
        for laid in shown[1].cuts:
            assert Polygon(laid.outline_on_cloth(pieces[laid.piece])).intersection(holes).area < 0.01


def test_the_sequence_says_how_to_fold_what_to_cut_and_when_to_open_out():
    pieces = (*PIECES, LayPiece("belt", "Belt", rectangle(8.0, 90.0)))
    first, second = cutting_sequence(planned(FOLDED, pieces))
    assert first.startswith("Fold the cloth lengthwise")
    assert "Leg" in first
    assert "through both layers" in first
    assert second == "Open the cloth out, right side up. Cut Belt through one layer."
    (only,) = cutting_sequence(planned(SINGLE, pieces))
    assert only.startswith("Lay the cloth open, right side up. Cut ")
    assert "Leg twice (once with the paper turned over)" in only


@pytest.mark.parametrize("layering", [SINGLE, FOLDED], ids=str)
def test_outlines_are_drawn_to_the_scale_of_the_bar(layering: Layering):
    drawing = lay_drawing(planned(layering), "Trousers", 25.0)
    scale = scale_of(drawing)
    cut = [item for item in drawing if isinstance(item, Stroke) and item.pen == "cut"]
    longest = max(item.path.bounds()[2] - item.path.bounds()[0] for item in cut)
    assert longest / scale == pytest.approx(100.0, abs=0.1)


def test_in_a_single_layer_one_leg_lies_face_down_and_is_hatched():
    drawing = lay_drawing(planned(SINGLE, PIECES[:1]), "Trousers", 25.0)
    says = [w.text for w in drawing.words()]
    assert sum("face down, once" in text for text in says) == 1
    assert sum(text.endswith(": once") for text in says) == 1
    hatched = [item.path for item in drawing if isinstance(item, Stroke) and item.pen == "hatch"]
    down = next(w for w in drawing.words() if "face down" in w.text).place
    shapes = [
        Polygon(item.path.flattened(tolerance=0.01))
        for item in drawing
        if isinstance(item, Stroke) and item.pen == "cut"
    ]
    turned_over = next(shape for shape in shapes if shape.contains(Point(down.x, down.y)))
    assert len(hatched) > 20
    assert all(turned_over.buffer(0.01).contains(LineString([path.start, path.end])) for path in hatched)


def test_a_half_laid_on_the_flap_is_seen_where_it_comes_to_lie():
    made = planned(FOLDED, PIECES[1:])
    (half,) = made.placements
    over = replace(half, mirrored=not half.mirrored, angle=-half.angle % 360, dy=140.0 - half.dy)
    flap, under = sorted((half, over), key=lambda p: Polygon(p.outline_on_cloth(PIECES[1])).centroid.y)
    (stage,) = stages(replace(made, placements=(flap,)))
    (shown,) = stage.cuts
    same = Polygon(shown.outline_on_cloth(PIECES[1])).symmetric_difference(
        Polygon(under.outline_on_cloth(PIECES[1]))
    )
    assert same.area < 0.01


def test_a_single_piece_on_the_bare_part_is_cut_before_the_cloth_is_opened():
    belt = LayPiece("belt", "Belt", rectangle(8.0, 90.0))
    problem = LayProblem((PIECES[0], belt), CLOTH)
    leg = Placement("leg", 0, False, 0.0, 0.0, 40.0 + 32.0, "double", 0)
    twin = replace(leg, copy=1, mirrored=True, dy=80.0 - leg.dy)
    bare = LayPlan(
        problem, partial_fold(40.0), (leg, twin, Placement("belt", 0, False, 0.0, 0.0, 120.0)), 100.0
    )
    assert faults(bare) == ()
    (stage,) = stages(bare)
    assert [cut.piece for cut in stage.cuts] == ["leg", "belt"]
    under = replace(bare, placements=(leg, twin, Placement("belt", 0, False, 0.0, 101.0, 20.0)), length=191.0)
    assert faults(under) == ()
    assert [len(stage.cuts) for stage in stages(under)] == [1, 1]


def test_the_opened_cloth_shows_every_hole_that_was_cut_before():
    belt, tab = LayPiece("belt", "Belt", rectangle(8.0, 90.0)), LayPiece("tab", "Tab", rectangle(6.0, 20.0))
    problem = LayProblem((PIECES[0], belt, tab), CLOTH)
    leg = Placement("leg", 0, False, 0.0, 0.0, 40.0 + 32.0, "double", 0)
    twin = replace(leg, copy=1, mirrored=True, dy=80.0 - leg.dy)
    single = (Placement("belt", 0, False, 0.0, 0.0, 120.0), Placement("tab", 0, False, 0.0, 0.0, 20.0))
    made = LayPlan(problem, partial_fold(40.0), (leg, twin, *single), 100.0)
    assert [[cut.piece for cut in stage.cuts] for stage in stages(made)] == [["leg", "belt"], ["tab"]]
    drawing = lay_drawing(made, "Trousers", 25.0)
    holes = [item for item in drawing if isinstance(item, Stroke) and item.pen == "seam"]
    areas = sorted(Polygon(hole.path.flattened(tolerance=0.01)).area / scale_of(drawing) ** 2 for hole in holes)
    one_leg = Polygon(OUTLINE).area
    assert areas == pytest.approx([8.0 * 90.0, one_leg, one_leg], rel=0.01)


@pytest.mark.parametrize("length", [30.0, 52.0, 90.0, 400.0])
@pytest.mark.parametrize("layering", [SINGLE, TO_CENTRE, partial_fold(30.0, 30.0)], ids=str)
def test_nothing_runs_off_the_paper_and_headings_do_not_meet(layering: Layering, length: float):
    panel = LayPiece("panel", "Panel", rectangle(28.0, length), 2, mirrored_pair=True)
    neckband = LayPiece("neckband", "Neckband", rectangle(6.0, min(length, 40.0)))
    made = plan(LayProblem((panel, neckband), LayCloth(140.0, 500.0), gap=0.3), layering, effort="quick")
    drawing = lay_drawing(made, "Panels", 19.0)
    for item in drawing:
        if isinstance(item, Words):
            assert max(x for x, _ in item.corners()) < 19.1, item.text
        elif isinstance(item, Stroke):
            assert item.path.bounds()[2] < 19.1
    heads = [
        word for word in drawing if isinstance(word, Words) and word.bold and word.text[:2] in ("1.", "2.")
    ]
    shapes = [Polygon(head.corners()) for head in heads]
    assert all(not a.intersects(b) for a in shapes for b in shapes if a is not b)


def test_pieces_carry_the_numbers_of_the_pattern_and_the_facts_stand_above():
    made = planned(FOLDED)
    words = [w.text for w in lay_drawing(made, "Trousers", 25.0).words()]
    assert "1  Leg" in words
    assert "2  Front" in words
    facts = next(text for text in words if text.startswith("Folded lengthwise"))
    assert f"{made.length / 100:.2f} m" in facts
    assert f"{200 - made.length:.0f} cm left over" in facts


def test_words_inside_a_piece_stay_inside_it():
    for layering in (SINGLE, FOLDED):
        drawing = lay_drawing(planned(layering), "Trousers", 25.0)
        cut = [item for item in drawing if isinstance(item, Stroke) and item.pen == "cut"]
        shapes = [Polygon(item.path.flattened(tolerance=0.01)) for item in cut]
        for word in (item for item in drawing if isinstance(item, Words) and item.anchor == "middle"):
            assert any(shape.buffer(0.02).contains(Polygon(word.corners())) for shape in shapes), word.text


def test_the_files_can_be_read_by_others():
    made = planned(FOLDED)
    svg = etree.fromstring(lay_svg(made, 'Trousers <for> "Marit"').encode())
    assert re.fullmatch(r"[\d.]+mm", svg.get("width"))
    document = pypdfium2.PdfDocument(lay_pdf(made, "Trousers"))
    page = document[0]
    assert [round(side / 72 * 25.4) for side in page.get_size()] == [297, 210]
    text = page.get_textpage().get_text_range()
    assert "Leg" in text
    assert "selvedge on selvedge" in text
    assert math.isclose(made.length, planned(FOLDED).length)
    document.close()


def test_flaws_are_crossed_out_and_a_remnant_is_drawn_by_its_outline():
    corners = ((0.0, 0.0), (150.0, 0.0), (150.0, 60.0), (100.0, 110.0), (0.0, 110.0))
    flaw = ((120.0, 10.0), (130.0, 10.0), (130.0, 20.0), (120.0, 20.0))
    problem = LayProblem(PIECES[1:], remnant(corners, flaws=[flaw]))
    drawing = lay_drawing(plan(problem, SINGLE, effort="quick"), "Yoke", 25.0)
    scale = scale_of(drawing)
    crossed = [item.path for item in drawing if isinstance(item, Stroke) and item.pen == "cloth"]
    assert len(crossed) > 10
    for path in crossed:
        left, low, right, high = (side / scale for side in path.bounds())
        assert 119.9 < left <= right < 130.1
        assert 9.9 < low <= high < 20.1
    outlines = [Polygon(item.path.flattened(tolerance=0.01)) for item in drawing if closed_cut(item)]
    assert any(abs(shape.area / scale**2 - Polygon(corners).area) < 1 for shape in outlines)
    words = " ".join(word.text for word in drawing.words())
    assert "a remnant of 150 x 110 cm" in words
    assert "flaws, which no piece touches" in words


@pytest.mark.parametrize("layering", [SINGLE, FOLDED], ids=str)
def test_stripes_stand_where_the_pieces_want_them(layering: Layering):
    leg = replace(PIECES[0], match=(MatchPoint((15.0, 4.0), "side"),))
    cloth = LayCloth(140.0, repeat=Repeat(10.0, 7.0, stripe=0.0))
    made = plan(LayProblem((leg,), cloth), layering, effort="quick")
    drawing = lay_drawing(made, "Trousers", 25.0)
    scale = scale_of(drawing)
    lines = [item.path.bounds() for item in drawing if isinstance(item, Stroke) and item.pen == "trim"]
    low = 70.0 if layering == FOLDED else 0.0
    across = sorted(bounds[1] / scale + low for bounds in lines if bounds[3] - bounds[1] < 0.001)
    along = sorted(bounds[0] / scale for bounds in lines if bounds[2] - bounds[0] < 0.001)
    assert across == pytest.approx([7.0 * k for k in range(round(low / 7), 21)])
    first = (
        place_of_stripes(made, 0) if made.problem.cloth.repeat.bar is None else made.problem.cloth.repeat.bar
    )
    assert [x % 10 for x in along] == pytest.approx([first % 10] * len(along), abs=1e-6)
    words = " ".join(word.text for word in drawing.words())
    assert "they meet at side" in words


def scale_of(drawing: Drawing) -> float:
    """Paper over cloth, read from the scale bar."""
    bar = next(item for item in drawing if isinstance(item, Stroke) and item.pen == "square")
    said = next(w for w in drawing.words() if w.text.endswith("cm of cloth"))
    left, _, right, _ = bar.path.bounds()
    return (right - left) / float(said.text.split()[0])


def closed_cut(item: object) -> bool:
    return isinstance(item, Stroke) and item.pen == "cut" and item.closed
