"""DXF and JSON for other programs, read back by readers that are not ours."""

from __future__ import annotations

import json
from dataclasses import replace
from io import StringIO

import ezdxf
import numpy as np
import pytest
import shapely
from ezdxf.document import Drawing
from shapely import LineString, Polygon

from clothwise.errors import PaperError
from clothwise.garment.allowance import cutting_line, notch_marks
from clothwise.paper.dxf import ascii_only, nest_dxf, pattern_dxf
from clothwise.paper.geometry import pattern_json

from .paper_pieces import leg, skirt, trousers


def read(text: str) -> Drawing:
    assert text.isascii()
    return ezdxf.read(StringIO(text))


def xy(point) -> tuple[float, float]:  # type: ignore[no-untyped-def]
    return point.x, point.y


def test_the_file_is_clean_for_an_auditor_and_the_same_each_time() -> None:
    text = pattern_dxf(trousers(), body_name="Pilar", made_on="2026-11-25")
    audit = read(text).audit()
    assert audit.errors == []
    assert audit.fixes == []
    assert pattern_dxf(trousers(), body_name="Pilar", made_on="2026-11-25") == text


@pytest.mark.parametrize("garment", [trousers(), skirt()], ids=lambda g: g.name)
def test_every_line_is_true_in_millimetres(garment) -> None:  # type: ignore[no-untyped-def]
    document = read(pattern_dxf(garment, size="M"))
    for piece in garment.pieces:
        block = document.blocks.get(f"{piece.name.upper()}-M")
        (rim,) = block.query('POLYLINE[layer=="1"]')
        assert rim.is_closed
        cut = Polygon([(v.x, v.y) for v in rim.points()])
        wanted = Polygon([(10 * p.x, 10 * p.y) for p in cutting_line(piece)])
        assert cut.symmetric_difference(wanted).area < 1.0
        sewn = shapely.MultiLineString(
            [[(v.x, v.y) for v in line.points()] for line in block.query('POLYLINE[layer=="14"]')]
        )
        for edge in piece.edges:
            if edge.allowance > 0:
                points = np.array([s.at(k / 200) for s in edge.curve.strokes for k in range(201)]) * 10
                assert shapely.dwithin(sewn, shapely.points(points), 0.051).all()
        low, high = (np.array(p) * 10 for p in piece.grain)
        (grain,) = block.query('LINE[layer=="7"]')
        assert np.allclose([xy(grain.dxf.start), xy(grain.dxf.end)], [low, high], atol=1e-3)
        notches = block.query('POINT[layer=="4"]')
        marks = notch_marks(piece)
        assert len(notches) == len(marks)
        ring = LineString(cut.exterior)
        assert all(ring.distance(shapely.Point(xy(n.dxf.location))) < 0.1 for n in notches)


def test_corners_are_turn_points_and_curves_have_curve_points() -> None:
    block = read(pattern_dxf(skirt(), size="M")).blocks.get("PATCH_POCKET-M")
    turns, curved = (len(block.query(f'POINT[layer=="{layer}"]')) for layer in ("2", "3"))
    assert turns >= 4
    block = read(pattern_dxf(trousers(), size="M")).blocks.get("FRONT_LEG-M")
    turns, curved = (len(block.query(f'POINT[layer=="{layer}"]')) for layer in ("2", "3"))
    assert 5 <= turns < curved


def test_what_lies_on_the_fold_has_its_mirror_line_and_darts_a_drill_hole() -> None:
    block = read(pattern_dxf(skirt(), size="M")).blocks.get("SKIRT_FRONT-M")
    (fold,) = block.query('LINE[layer=="6"]')
    assert {round(fold.dxf.start.y), round(fold.dxf.end.y)} == {0, 590}
    (hole,) = block.query('POINT[layer=="13"]')
    assert xy(hole.dxf.location) == pytest.approx((128.0, 480.0))


def test_names_counts_and_units_are_said() -> None:
    document = read(pattern_dxf(trousers(), body_name="Žaneta Łucja", made_on="2026-11-25"))
    outside = {t.dxf.text for t in document.modelspace().query("TEXT")}
    assert {"Style Name: Pull-on trousers", "Units: METRIC", "Sample Size: Zaneta Lucja"} <= outside
    inside = {t.dxf.text for t in document.blocks.get("BACK_LEG-ZANETA_LUCJA").query("TEXT")}
    assert {"Piece Name: Back leg", "Size: Zaneta Lucja", "Quantity: 2", "Annotation: Cut 1 pair"} <= inside
    assert len(document.modelspace().query("INSERT")) == 2


@pytest.mark.parametrize(
    ("typed", "written"),
    [("Größe", "Grosse"), ("Ελένη", "Eleni"), ("Соломія", "Solomiya"),
     ("Žaneta", "Zaneta"), ("李", "_"), ("a\nb", "a b"), ("", "_")],
)  # fmt: skip
def test_names_are_spelled_in_plain_letters(typed: str, written: str) -> None:
    assert ascii_only(typed) == written


def test_pieces_do_not_lie_on_each_other_in_the_drawing() -> None:
    document = read(pattern_dxf(trousers(), size="M"))
    laid = []
    for insert in document.modelspace().query("INSERT"):
        (rim,) = document.blocks.get(insert.dxf.name).query('POLYLINE[layer=="1"]')
        at = insert.dxf.insert
        laid.append(Polygon([(v.x + at.x, v.y + at.y) for v in rim.points()]))
    assert laid[0].distance(laid[1]) > 10


SIZES = {str(36 + 2 * i): trousers(wide=26 + 2.0 * i, long=98 + 1.5 * i) for i in range(3)}


def test_a_graded_nest_is_one_file_with_each_piece_and_size_as_a_block_of_its_own() -> None:
    text = nest_dxf(SIZES, made_on="2026-11-25")
    assert nest_dxf(SIZES, made_on="2026-11-25") == text
    document = read(text)
    audit = document.audit()
    assert (audit.errors, audit.fixes) == ([], [])
    inserted = {i.dxf.name: xy(i.dxf.insert) for i in document.modelspace().query("INSERT")}
    assert set(inserted) == {f"{piece}-{size}" for piece in ("FRONT_LEG", "BACK_LEG") for size in SIZES}
    assert "Sample Size: 38" in {t.dxf.text for t in document.modelspace().query("TEXT")}
    right = -1e9
    for piece in ("front_leg", "back_leg"):
        assert len({inserted[f"{piece.upper()}-{size}"] for size in SIZES}) == 1, "nested about one origin"
        spans = []
        for size, garment in SIZES.items():
            block = document.blocks.get(f"{piece.upper()}-{size}")
            assert f"Size: {size}" in {t.dxf.text for t in block.query("TEXT")}
            (rim,) = block.query('POLYLINE[layer=="1"]')
            cut = Polygon([(v.x, v.y) for v in rim.points()])
            wanted = Polygon([(10 * p.x, 10 * p.y) for p in cutting_line(garment.piece(piece))])
            assert cut.symmetric_difference(wanted).area < 1.0
            x, _ = inserted[block.name]
            spans.append((cut.bounds[0] + x, cut.bounds[2] + x))
        assert min(low for low, _ in spans) > right, "no piece lies on another"
        right = max(high for _, high in spans)


def test_a_nest_of_nothing_or_of_unlike_pieces_is_refused() -> None:
    with pytest.raises(PaperError, match="0 sizes"):
        nest_dxf({})
    with pytest.raises(PaperError, match="same pieces"):
        nest_dxf({"36": trousers(), "38": skirt()})
    with pytest.raises(PaperError, match="no piece 'hat'"):
        nest_dxf(SIZES, pieces=["hat"])


def test_refusals() -> None:
    for write in (pattern_dxf, pattern_json):
        with pytest.raises(PaperError, match="no piece 'hat'"):
            write(trousers(), pieces=["hat"])
        with pytest.raises(PaperError, match="no pieces"):
            write(replace(trousers(), pieces=()))


def test_the_json_gives_the_pieces_back() -> None:
    text = pattern_json(trousers(), body_name="Ελένη", made_on="2026-11-25")
    told = json.loads(text)
    assert told["unit"] == "cm"
    assert told["body"] == "Ελένη"
    front = next(p for p in told["pieces"] if p["name"] == "front_leg")
    for edge, own in zip(front["edges"], leg().edges, strict=True):
        assert edge["name"] == own.name
        assert edge["strokes"][0][0] == pytest.approx(own.curve.start, abs=1e-6)
        assert edge["strokes"][-1][-1] == pytest.approx(own.curve.end, abs=1e-6)
        assert [n["at"] for n in edge["notches"]] == [n.at for n in own.notches]
        assert {len(s) for s in edge["strokes"]} <= {2, 4}
