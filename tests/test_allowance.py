"""Cutting lines: seams join cleanly, turns lie flat and reach, and nothing is cut too narrow."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import GEOSException
from shapely.geometry import Point as Spot
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from clothwise.errors import GarmentError
from clothwise.garment import Piece, allowance
from clothwise.garment.allowance import cutting_line, unfolded_cutting_line
from clothwise.tolerance import ALLOWANCE, FLATTEN, HEM_FOLDED
from tests.cut_pieces import leg, panel
from tests.folding import folded
from tests.hand_made import skirt

HEM_SHORT = 0.1  # cm: a turn that reaches this near the end of what it lies on is caught by its stitching


def shape_of(piece: Piece) -> Polygon:
    return Polygon(piece.polygon(tolerance=FLATTEN / 10))


def holds_everywhere(piece: Piece) -> Polygon:
    """What must be true of every cutting line (invariant A9 and more). Gives the cut shape."""
    points = cutting_line(piece)
    cut = Polygon(points)
    drawn = shape_of(piece)
    assert cut.is_valid
    assert cut.exterior.is_ccw
    assert points[0] != points[-1]
    assert drawn.difference(cut.buffer(2 * FLATTEN)).is_empty  # contains the piece
    ring = cut.exterior
    for edge in piece.edges:
        middle = Spot(edge.curve.at_length(edge.curve.length() / 2))
        if edge.kind != "fold":
            assert ring.distance(middle) >= edge.allowance - ALLOWANCE
            assert ring.distance(middle) <= edge.allowance + FLATTEN
        else:
            assert ring.distance(middle) <= 1e-9
    assert min(p.distance(q) for p, q in pairwise([*points, points[0]])) > 1e-3
    return cut


def lies_flat(piece: Piece, name: str) -> None:
    """The turn folded by hand on the whole cut shape."""
    edge = piece.edge(name)
    curve = edge.curve
    if piece.fold is not None:
        image = curve.mirrored(piece.fold.curve.start, piece.fold.curve.start_tangent).reversed()
        curve = curve.then(image) if curve.end == image.start else image.then(curve)
    result = folded(Polygon(unfolded_cutting_line(piece)), curve, edge.allowance)
    assert result.protrudes <= 0.02 < HEM_FOLDED
    assert result.short <= 0.02 < HEM_SHORT


# ---- turns lie flat ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "piece",
    [
        leg(),
        leg(lean_deg=9.0, hem=5.0, seam=1.0),
        leg(lean_deg=-6.0, hem_width=34.0),
        leg(sag_deg=5.0),
        leg(waist_slope_deg=12.0, casing=6.0),
        leg(length=40.0, hem_width=28.0, hem=2.5),
        panel(),
        panel(flare=25.0, hem=2.5),
        panel(flare=25.0, hem=4.0, lifted=False),
        panel(flare=0.0),
        panel(flare=40.0, half=18.0, hem=1.5, casing=3.0),
    ],
    ids=lambda piece: piece.name,
)
def test_hem_and_casing_fold_flat_and_reach(piece: Piece) -> None:
    holds_everywhere(piece)
    lies_flat(piece, "hem")
    lies_flat(piece, "waist")


def test_the_folding_test_sees_an_unmirrored_hem() -> None:
    """The judge itself: a turn cut on along the side seams is caught as short on a tapered leg."""
    piece = leg(lean_deg=9.0)
    hem = piece.edge("hem")
    straight_on = shape_of(piece).buffer(1.5, join_style="mitre")
    below = Polygon([(0, -104), (30, -104), (30, -99), (0, -99)])
    naive = straight_on.union(
        below.intersection(Polygon([(4 + 0.4 - 1.5, -104), (24 - 0.4 + 1.5, -104), (25.5, -100), (2.5, -100)]))
    )
    result = folded(naive, hem.curve, hem.allowance)
    assert result.short > 0.3


@given(
    lean=st.floats(-12, 12),
    width=st.floats(12, 40),
    sag=st.sampled_from([0.0, 2.0, 6.0]),
    slope=st.floats(0, 14),
    hem=st.floats(1, 6),
    seam=st.floats(0.6, 2),
)
@settings(max_examples=40, deadline=None)
def test_any_leg_folds_flat(
    lean: float, width: float, sag: float, slope: float, hem: float, seam: float
) -> None:
    piece = leg(lean_deg=lean, hem_width=width, sag_deg=sag, waist_slope_deg=slope, hem=hem, seam=seam)
    holds_everywhere(piece)
    lies_flat(piece, "hem")
    lies_flat(piece, "waist")


@given(half=st.floats(11, 40), flare=st.floats(0, 30), hem=st.floats(1, 5), lifted=st.booleans())
@settings(max_examples=30, deadline=None)
def test_any_panel_on_the_fold_folds_flat(half: float, flare: float, hem: float, lifted: bool) -> None:
    piece = panel(half=half, flare=flare, hem=hem, lifted=lifted)
    holds_everywhere(piece)
    lies_flat(piece, "hem")
    lies_flat(piece, "waist")


def test_no_part_of_the_allowance_is_lost_when_a_union_leaves_one_out(monkeypatch: pytest.MonkeyPatch) -> None:
    """The geometry library did so on one real man's trouser back: a whole edge was cut without allowance."""
    piece = skirt().pieces[0]
    whole = Polygon(cutting_line(piece))
    real = allowance.union_all

    def leaves_one_out(parts: list[BaseGeometry], **grid: float) -> BaseGeometry:
        return real(parts, **grid) if grid or len(parts) < 3 else real([*parts[:2], *parts[3:]])

    monkeypatch.setattr(allowance, "union_all", leaves_one_out)
    monkeypatch.setattr(allowance, "_cutting_line", allowance._cutting_line.__wrapped__)  # not a kept one
    assert Polygon(cutting_line(piece)).symmetric_difference(whole).area < 0.01


def test_a_piece_that_crosses_itself_gets_a_sentence_and_no_crash(monkeypatch: pytest.MonkeyPatch) -> None:
    def fails(parts: list[BaseGeometry], **grid: float) -> BaseGeometry:
        raise GEOSException("side location conflict")

    monkeypatch.setattr(allowance, "union_all", fails)
    monkeypatch.setattr(allowance, "_cutting_line", allowance._cutting_line.__wrapped__)  # not a kept one
    with pytest.raises(GarmentError, match="No cutting line can be drawn") as refusal:
        cutting_line(skirt().pieces[0])
    assert refusal.value.mend
