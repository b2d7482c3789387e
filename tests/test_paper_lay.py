"""The lay plan's picture: every outline that is cut stands on it once, where the plan puts it."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pypdfium2
import pytest
from lxml import etree
from shapely.geometry import LineString, Point, Polygon

from clothwise.lay.plan import LayPlan
from clothwise.lay.planning import plan
from clothwise.lay.problem import FOLDED, SINGLE, TO_CENTRE, LayCloth, Layering, LayPiece, LayProblem, folds_of
from clothwise.paper.drawing import Stroke, Words
from clothwise.paper.lay import lay_drawing, lay_pdf, lay_svg, table_of, visible

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


@pytest.mark.parametrize("layering", [SINGLE, FOLDED, TO_CENTRE], ids=str)
def test_every_cut_stands_on_the_table_once(layering: Layering):
    made = planned(layering)
    table = table_of(folds_of(layering, 140.0), 140.0)
    seen = visible(made, table)
    assert len(seen) == made.cuts
    pieces = {piece.name: piece for piece in PIECES}
    shapes = [Polygon(laid.outline_on_cloth(pieces[laid.piece])) for laid in seen]
    for shape in shapes:
        _, low, _, high = shape.bounds
        assert table.low - 0.1 <= low
        assert high <= table.high + 0.1
    if layering != SINGLE:
        assert all(one.intersection(two).area < 0.01 for one in shapes for two in shapes if one is not two)


@pytest.mark.parametrize("layering", [SINGLE, FOLDED], ids=str)
def test_outlines_are_drawn_to_the_scale_of_the_bar(layering: Layering):
    drawing = lay_drawing(planned(layering), "Trousers", 25.0)
    bar = next(item for item in drawing if isinstance(item, Stroke) and item.pen == "square")
    said = next(w for w in drawing.words() if w.text.endswith("cm of cloth"))
    left, _, right, _ = bar.path.bounds()
    scale = (right - left) / float(said.text.split()[0])
    cut = [item for item in drawing if isinstance(item, Stroke) and item.pen == "cut"]
    longest = max(item.path.bounds()[2] - item.path.bounds()[0] for item in cut)
    assert longest / scale == pytest.approx(100.0, abs=0.1)


def test_in_a_single_layer_one_leg_lies_face_down_and_is_hatched():
    drawing = lay_drawing(planned(SINGLE, PIECES[:1]), "Trousers", 25.0)
    says = [w.text for w in drawing.words()]
    assert sum(text.startswith("face down") for text in says) == 1
    assert says.count("once") == 1
    hatched = [item.path for item in drawing if isinstance(item, Stroke) and item.pen == "hatch"]
    down = next(w for w in drawing.words() if w.text.startswith("face down")).place
    shapes = [
        Polygon(item.path.flattened(tolerance=0.01))
        for item in drawing
        if isinstance(item, Stroke) and item.pen == "cut"
    ]
    turned_over = next(shape for shape in shapes if shape.contains(Point(down.x, down.y)))
    assert len(hatched) > 20
    assert all(turned_over.buffer(0.01).contains(LineString([path.start, path.end])) for path in hatched)


def test_what_lies_on_the_flap_is_seen_where_it_comes_to_lie():
    made = planned(FOLDED, PIECES[:1])
    table = table_of(folds_of(FOLDED, 140.0), 140.0)
    shapes = {
        p: Polygon(p.outline_on_cloth(PIECES[0])) for p in (replace(p, how="single") for p in made.placements)
    }
    flap, under = sorted(shapes, key=lambda p: shapes[p].centroid.y)
    assert shapes[flap].bounds[3] <= 70 <= shapes[under].bounds[1]  # one on the flap, its mirror image below
    (shown,) = visible(replace(made, placements=(flap,)), table)
    assert Polygon(shown.outline_on_cloth(PIECES[0])).symmetric_difference(shapes[under]).area < 0.01


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
