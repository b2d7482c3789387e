"""Where selvedges meet at the centre the under layer runs on: the blade needs its gap there too."""

from __future__ import annotations

import pytest

from clothwise.errors import LayError
from clothwise.lay.planning import plan
from clothwise.lay.problem import TO_CENTRE, LayCloth, LayPiece, LayProblem
from clothwise.lay.verify import faults


def two_pairs(width: float) -> LayProblem:
    strip = ((0.0, 0.0), (width, 0.0), (width, 50.0), (0.0, 50.0))
    pieces = tuple(LayPiece(name, name, strip, 2, mirrored_pair=True) for name in ("front", "back"))
    return LayProblem(pieces, LayCloth(width=40.0), gap=0.3)


def test_pieces_on_either_side_of_the_centre_keep_the_gap():
    made = plan(two_pairs(9.7), TO_CENTRE)  # each band is 10 deep: half a gap at the fold, half at the centre
    assert faults(made) == ()
    assert made.length == pytest.approx(50.0, abs=0.01)


def test_a_piece_that_fills_its_band_is_refused_there():
    with pytest.raises(LayError):
        plan(two_pairs(9.8), TO_CENTRE)
