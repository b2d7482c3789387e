"""A flat front: how much of a pull-on waist can stay without elastic, with elastic round the back.

The whole edge must pass the hips, so the front cannot simply be narrowed to the waist: what lies flat in
front pushes the side seams towards the back, and the elastic has less length left to stretch. Where the
whole front may lie flat, the elastic runs from side seam to side seam; where the hips are much wider than
the waist only the middle of the front stays flat and the elastic runs past the side seams up to a mark.

    F, B   flat widths of the whole front and back edge [cm]
    f      of the front, what stays flat [cm]
    g      girth of the body at the finished waist [cm]

Source: house rule, 2026-11; the limits at their lines. Not sewn yet.
"""

from __future__ import annotations

from clothwise.body import Body
from clothwise.curve import NoSolution, solve
from clothwise.draft.waist import Elastic, elastic
from clothwise.errors import ChoiceError
from clothwise.tolerance import SOLVE

SIDE_BACK = 2.0  # cm: a side seam may lie this much behind the middle of the body at the waist
ELASTIC_GIVES = 1.9  # times its length: firm waist elastic stretches about so far without tiring
MOST_FLAT = 0.75  # of the waist may be flat at most: the elastic needs a back to work in
NEAR_SIDE = 1.0  # cm: elastic that would end nearer to the side seam than this ends in it
LEAST_FLAT = 0.12  # of the waist: a flat piece narrower than this is not worth its two ends of elastic


def flat_elastic(body: Body, girth: float, width: float, front: float, back: float) -> Elastic:
    """The widest flat front that still wears well, and its elastic.

    front, back  flat widths of the whole front and back waist edge [cm]
    Raises ChoiceError when too little of the front could stay flat.
    """
    flat = min(_by_side_seam(girth, front, back), _by_stretch(body, girth, width, front))
    if front - flat < 2 * NEAR_SIDE:
        flat = front
    if flat < LEAST_FLAT * girth:
        raise ChoiceError(
            f"A hip {body['hip_girth'] - girth:.0f} cm wider than the waist lets no pull-on front lie flat.",
            where="choice 'waist'",
            mend="Choose elastic all round; a truly flat front would need an opening.",
        )
    return elastic(body, girth, width, flat)


def _by_side_seam(girth: float, front: float, back: float) -> float:
    """The flat width at which the side seams lie SIDE_BACK behind the middle; at most the whole front.

    The front takes f flat and the rest of its edge drawn in like the back's: f + (F - f)(g - f)/(F + B - f).
    """

    def worn(flat: float) -> float:
        return flat + (front - flat) * (girth - flat) / (front + back - flat)

    most = min(front, girth)
    wanted = girth / 2 + 2 * SIDE_BACK
    if worn(most) <= wanted:
        return most
    try:
        return solve(worn, wanted, 0.0, most, tolerance=SOLVE)
    except NoSolution:
        return 0.0


def _by_stretch(body: Body, girth: float, width: float, front: float) -> float:
    """The flat width at which the elastic must stretch ELASTIC_GIVES times to pass the hips."""

    def stretch(flat: float) -> float:
        return elastic(body, girth, width, flat).stretch

    most = min(front, MOST_FLAT * girth)
    if stretch(most) <= ELASTIC_GIVES:
        return most
    if stretch(0.0) >= ELASTIC_GIVES:
        return 0.0
    return solve(stretch, ELASTIC_GIVES, 0.0, most, tolerance=SOLVE)
