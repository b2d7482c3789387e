"""The rows of the public body data, read into Body values in our vocabulary. For tests and benchmarks only.

The data stand beside the repository and are never part of it; without them every function here
returns an empty tuple, and `available()` says so.

Three parts that share no body: `train` is fitted, `tune` settles scatters and thresholds, `held_out` is only
reported (by benchmarks/bodies.py, first on 2026-11-25). Whoever changes a fit or a threshold after reading
that report draws the parts anew with another seed.

Adults: the proxies are converted as `measurements.csv` of the data says (reasons at the numbers).
Children: two thirds of the columns were measured on a third of the children each, so no child is
complete; what was not measured is simply missing (let `estimate` fill it).
"""

from __future__ import annotations

import csv
import hashlib
from collections.abc import Callable
from functools import lru_cache
from pathlib import Path

from clothwise.body.body import Body, Figure, Measure

BODIES = Path(__file__).resolve().parents[1] / ".." / "shared" / "bodies"

SPLIT_SEED = 25_061_143  # of 2026-11-25; older splits had been looked at while thresholds were chosen
TRAIN, TUNE = 0.45, 0.20  # shares of the bodies of each figure; the rest, 0.35, is held out

WAIST_OF_NAVEL = 0.97  # natural waist girth over navel girth, 5 cm lower
RELAXED_OF_FLEXED = {"F": 0.97, "M": 0.94}  # upper arm hanging over upper arm bent and tense
ACROSS_OF_FOLDS = 0.96  # across back halfway up the arm crease over the breadth at the armpit folds
SHOULDERS_OF_BONES = 1.035  # taped over the nape against the straight breadth of the bones
ELBOW_BEND = 1.25  # cm: the tape over the bent elbow against the straight sleeve seam
ARMPIT_BELOW_MARK = {"F": 3.0, "M": 0.0}  # cm: armpit level below the surveyor's mark (women only)
KNEE_OF_LOWER_THIGH = 0.97  # knee girth over the girth just above it

CHILD_WAIST = {  # natural waist over the other waist: share at 95 cm height, and its change with each cm more
    "F": (0.990, -0.0011),  # girls draw in with growing
    "M": (0.995, 0.0003),
}
CHILD_WAIST_ABOVE_HIP_BONE = 0.018  # of height: half the gap from hip bone to lowest rib, as in adults
CHILD_WAIST_ABOVE_MARK = {"F": 0.027, "M": 0.018}  # of height: brings the other third to the same level
CROTCH_OF_FURROW = 1.035  # crotch height over the height of the buttock fold
KNEECAP_OF_SHIN_BONE = 1.06  # middle of the kneecap over the top of the shin bone
NAPE_ABOVE_BREASTBONE = 0.042  # of height: nape bone above the pit of the neck
CHILD_SPINE_CURVE = 1.03  # tape down the spine over the straight height
NECK_BASE_OF_NECK = 1.11  # girth at the base over girth at the middle of the neck
SHOULDER_OF_BONES = 0.365  # neck point to shoulder point over the breadth of the shoulder bones
# Children: across back over the breadth over both upper arms. In adults it is 0.80, but a child has thin arms:
# the bones take 0.90 of that breadth instead of 0.815, and the across back is 0.98 of the bones, as in adults.
ACROSS_OF_SHOULDERS = 0.88

Row = dict[str, float]


def available() -> bool:
    """Whether the data stand beside the repository."""
    return (BODIES / "ansur2_garment.csv").exists() and (BODIES / "children1977_garment.csv").exists()


@lru_cache
def real_bodies(figure: Figure) -> tuple[Body, ...]:
    """All real bodies of one figure, taped, in the order of the file. Empty when the data are absent."""
    if not available():
        return ()
    sex = "F" if figure in ("woman", "girl") else "M"
    if figure in ("woman", "man"):
        file, convert = "ansur2_garment.csv", _adult
    else:
        file, convert = "children1977_garment.csv", _child
    return tuple(
        Body(
            name=f"{figure} {number}",
            figure=figure,
            measures={name: Measure(round(cm, 3)) for name, cm in convert(row, sex).items()},
            age_years=row["age_years"],
        )
        for number, row in enumerate(_rows(file, sex))
    )


def real_adults() -> tuple[Body, ...]:
    """All women, then all men."""
    return real_bodies("woman") + real_bodies("man")


def estimable(body: Body) -> bool:
    """Whether the house would estimate from its height, bust, waist and hip: all there, a child in range."""
    in_range = not body.child or (body.age_years is not None and body.age_years < 18.5 and body["height"] >= 80)
    return all(name in body for name in ("height", "bust_girth", "waist_girth", "hip_girth")) and in_range


def train(bodies: tuple[Body, ...]) -> tuple[Body, ...]:
    """The bodies that the population model is fitted to."""
    return _part(bodies, 0.0, TRAIN)


def tune(bodies: tuple[Body, ...]) -> tuple[Body, ...]:
    """The bodies that thresholds, scatters and cut-offs are chosen on; none of them is fitted or reported."""
    return _part(bodies, TRAIN, TRAIN + TUNE)


def held_out(bodies: tuple[Body, ...]) -> tuple[Body, ...]:
    """The bodies that are only reported: nothing in the house was fitted to them or chosen by them."""
    return _part(bodies, TRAIN + TUNE, 1.0)


def _part(bodies: tuple[Body, ...], start: float, end: float) -> tuple[Body, ...]:
    return tuple(body for body in bodies if start <= _lot(body.name) < end)


def _lot(name: str) -> float:
    """Where a body falls between 0 and 1, drawn from the seed and its name alone, whatever the order."""
    drawn = hashlib.sha256(f"{SPLIT_SEED}: {name}".encode()).digest()
    return float(int.from_bytes(drawn[:6], "big") / 2**48)


@lru_cache
def _rows(file: str, sex: str) -> tuple[Row, ...]:
    with (BODIES / file).open(newline="") as lines:
        return tuple(
            {name: float(text) for name, text in row.items() if name not in ("id", "sex") and text}
            for row in csv.DictReader(lines)
            if row["sex"] == sex
        )


def _adult(row: Row, sex: str) -> Row:
    same = (
        "height bust_girth hip_girth neck_base_girth neck_girth head_girth shoulder_length back_waist_length "
        "wrist_girth waist_to_hip waist_to_knee waist_to_ankle inside_leg body_rise thigh_girth calf_girth "
        "ankle_girth foot_length bust_height"
    ).split()
    return {name: row[name] for name in same} | {
        "waist_girth": WAIST_OF_NAVEL * row["waist_girth_navel"],
        "across_shoulder": SHOULDERS_OF_BONES * row["shoulder_breadth_bones"],
        "across_back": ACROSS_OF_FOLDS * row["across_back"],
        "armscye_depth": row["underarm_depth"] + ARMPIT_BELOW_MARK[sex],
        "upper_arm_girth": RELAXED_OF_FLEXED[sex] * row["upper_arm_girth_flexed"],
        "arm_length": row["arm_length_straight"] + ELBOW_BEND,
        "waist_to_floor": row["inside_leg"] + row["body_rise"],
        "crotch_length_total": row["crotch_length"],
        "knee_girth": KNEE_OF_LOWER_THIGH * row["lower_thigh_girth"],
        "foot_heel_girth": row["heel_girth"],
        "nape_to_floor": row["nape_height"],
    }


def _child(row: Row, sex: str) -> Row:
    """What was measured on this child: a core on all, the rest on one third or the other."""
    found: Row = {}

    def put(name: str, formula: Callable[[], float]) -> None:
        try:
            found[name] = formula()
        except KeyError:
            return  # a column this child was not measured for

    same = "height hip_girth neck_girth head_girth upper_arm_girth wrist_girth thigh_girth calf_girth".split()
    found.update({name: row[name] for name in (*same, "ankle_girth", "foot_length") if name in row})
    put("bust_girth", lambda: row["chest_girth"])
    at_95, with_height = CHILD_WAIST[sex]
    put("waist_girth", lambda: (at_95 + with_height * (row["height"] - 95)) * row["waist_girth"])
    put("waist_girth", lambda: row["natural_waist_girth"])
    put("neck_base_girth", lambda: NECK_BASE_OF_NECK * row["neck_girth"])
    put("across_shoulder", lambda: SHOULDERS_OF_BONES * row["shoulder_breadth_bones"])
    put("shoulder_length", lambda: SHOULDER_OF_BONES * row["shoulder_breadth_bones"])
    put("across_back", lambda: ACROSS_OF_SHOULDERS * row["shoulder_breadth_outer"])
    put("arm_length", lambda: row["arm_length_bones"])
    put("inside_leg", lambda: CROTCH_OF_FURROW * row["gluteal_furrow_height"])
    put("nape_to_floor", lambda: row["suprasternal_height"] + NAPE_ABOVE_BREASTBONE * row["height"])
    put("waist_to_floor", lambda: row["waist_height"] + CHILD_WAIST_ABOVE_MARK[sex] * row["height"])
    put("waist_to_floor", lambda: row["iliac_crest_height"] + CHILD_WAIST_ABOVE_HIP_BONE * row["height"])
    put("waist_to_hip", lambda: found["waist_to_floor"] - row["hip_height"])
    put("waist_to_knee", lambda: found["waist_to_floor"] - KNEECAP_OF_SHIN_BONE * row["knee_height_tibiale"])
    put("waist_to_ankle", lambda: found["waist_to_floor"] - row["ankle_height_sphyrion"])
    put("body_rise", lambda: found["waist_to_floor"] - found["inside_leg"])
    put("back_waist_length", lambda: CHILD_SPINE_CURVE * (found["nape_to_floor"] - found["waist_to_floor"]))
    return found
