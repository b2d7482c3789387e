"""Notch pairs: set by walking the seam, so that they meet when it is sewn."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwise.curve import Point, line
from clothwise.errors import GarmentError
from clothwise.garment import Edge, Garment, Notch, Piece, Run, Seam
from clothwise.garment.check import check
from clothwise.garment.notches import notched
from tests.hand_made import bag, legs, skirt, tapered_legs


def places(garment: Garment, piece: str, edge: str) -> dict[str, tuple[float, int]]:
    return {n.sign: (n.at, n.count) for n in garment.piece(piece).edge(edge).notches}


def test_a_pair_stands_at_the_same_distance_from_the_same_end() -> None:
    """The front side seam is walked up from the hem; the back one, turned over, comes down to it."""
    garment = notched(legs(), "side", 60.0, "P", 1, 2)
    length = garment.piece("front_leg").line("side").length()
    assert places(garment, "front_leg", "side")["P"] == (60.0, 1)
    at, count = places(garment, "back_leg", "side")["P"]
    assert at == pytest.approx(length - 60.0)
    assert count == 2
    assert check(garment) == ()


def test_an_edge_sewn_to_its_own_mirror_image_is_notched_once() -> None:
    garment = notched(skirt(), "centre_back", 21.0, "Z")
    assert places(garment, "back", "centre") == {"Z": (21.0, 1)}
    assert check(garment) == ()


def test_a_chain_is_walked_over_its_corners() -> None:
    """40 cm down the left side, then 30 cm of bottom: 55 cm along lies in the middle of the bottom."""
    garment = notched(bag(), "round", 55.0, "M")
    assert places(garment, "front", "bottom") == {"M": (15.0, 1)}
    assert places(garment, "back", "bottom") == {"M": (15.0, 1)}
    assert check(garment) == ()


def frill(ratio: float, ease: float = 0.0) -> Garment:
    """A strip gathered to an edge of 40 cm."""

    def strip(name: str, width: float, edge: str) -> Piece:
        a, b, c, d = Point(0, 0), Point(width, 0), Point(width, 12), Point(0, 12)
        lower, upper = ("hem", edge) if edge == "top" else (edge, "hem")
        return Piece(
            name,
            name,
            (
                Edge(lower, line(a, b), "raw" if lower == "hem" else "seam", 1.0),
                Edge("end", line(b, c), "raw", 1.0),
                Edge(upper, line(c, d), "raw" if upper == "hem" else "seam", 1.0),
                Edge("start", line(d, a), "raw", 1.0),
            ),
            (Point(5, 2), Point(5, 10)),
            "single",
            1,
        )

    long, short = strip("frill", 40.0 * ratio + ease, "top"), strip("skirt", 40.0, "bottom")
    seam = Seam(
        "frill", "Frill", (Run("frill", "top"),), (Run("skirt", "bottom", True),), "gathered", ratio, ease
    )
    return Garment("frilled", "Frilled", (long, short), (seam,), ())


@pytest.mark.parametrize(("ratio", "ease"), [(2.0, 0.0), (1.5, 3.0), (1.0, 2.0), (0.9, 0.0)])
def test_in_a_gathered_seam_the_distance_is_scaled_with_the_cloth(ratio: float, ease: float) -> None:
    garment = notched(frill(ratio, ease), "frill", 0.25 * (40.0 * ratio + ease), "G")
    assert places(garment, "frill", "top")["G"][0] == pytest.approx(0.25 * (40.0 * ratio + ease))
    assert places(garment, "skirt", "bottom")["G"][0] == pytest.approx(40.0 - 10.0)
    assert check(garment) == ()


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(["side", "inseam", "crotch"]), st.floats(0.0, 1.0))
def test_wherever_a_notch_is_asked_for_it_is_sound_or_refused(seam_name: str, share: float) -> None:
    garment = tapered_legs()
    seam = next(s for s in garment.seams if s.name == seam_name)
    at = share * garment.length(seam.a)
    ends = [0.0]
    for run in seam.a:
        ends.append(ends[-1] + garment.length((run,)))
    near = min(abs(at - end) for end in ends)
    if near < 0.99:
        with pytest.raises(GarmentError, match="within 1 cm of a corner"):
            notched(garment, seam_name, at, "X")
    elif near > 1.01:
        assert check(notched(garment, seam_name, at, "X")) == ()


@pytest.mark.parametrize(
    ("seam", "at", "sign", "says"),
    [
        (
            "armhole",
            10.0,
            "X",
            "no seam 'armhole'. Where: garment 'skirt'. Its seams are side, centre_back, pocket.",
        ),
        ("side", -1.0, "X", "lies off it"),
        ("side", 61.0, "X", "A notch 61.0 cm along a seam of 60.0 cm lies off it"),
        ("side", 0.4, "X", "within 1 cm of a corner of piece 'front'"),
        ("side", 20.0, "H", "Edge 'side' of piece 'front' already has a notch 'H'"),
        ("pocket", 10.0, "X", "'pocket_place' of piece 'front' is a line drawn inside the piece"),
    ],
)
def test_a_notch_that_cannot_be_set_is_refused_with_its_reason(
    seam: str, at: float, sign: str, says: str
) -> None:
    with pytest.raises(GarmentError, match=says.replace(".", r"\.")):
        notched(skirt(), seam, at, sign)


def test_notches_of_an_edge_stand_in_their_order() -> None:
    garment = notched(notched(skirt(), "side", 50.0, "B"), "side", 10.0, "C")
    assert [n.at for n in garment.piece("front").edge("side").notches] == [10.0, 40.0, 50.0]


def test_the_garment_given_is_left_as_it_was() -> None:
    before = legs()
    notched(before, "side", 60.0, "P")
    assert before == legs()
    assert replace(before, pieces=before.pieces).piece("front_leg").edge("side").notches[0] == Notch(
        "K", 40.0, 1
    )
