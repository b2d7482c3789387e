"""How far the reference model beside the body data errs on the same bodies, from the same four entries.

`body_model.json` holds means and covariances of log measures of all adults of the survey, so of the
held-out ones too: its errors here are those of a fit to the very bodies it is judged on, and no fit of
the same form can be much better. They tell a miss of a target from the luck of the draw.
"""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray
from tests.real_bodies import (
    ACROSS_OF_FOLDS,
    BODIES,
    ELBOW_BEND,
    RELAXED_OF_FLEXED,
    WAIST_OF_NAVEL,
)

from clothwise.body import Body, Figure
from clothwise.body.model import CORE

CORE_THERE = ("height", "bust_girth", "waist_girth_navel", "hip_girth")  # our core, as it is named there
SEX: dict[Figure, str] = {"woman": "F", "man": "M"}


def reference_errors(figure: Figure, bodies: Sequence[Body]) -> dict[str, float]:
    """Mean error, cm, by measure of ours; nothing for children, whose waist it defines otherwise."""
    if figure not in SEX:
        return {}
    sex = SEX[figure]
    found = json.loads((BODIES / "body_model.json").read_text())["adult"][sex]
    names, mean, covariance = parameters(found)
    core = [names.index(name) for name in CORE_THERE]
    slope = np.linalg.solve(covariance[np.ix_(core, core)], covariance[core])
    given = np.log([[body[name] for name in CORE] for body in bodies])
    given[:, CORE.index("waist_girth")] -= math.log(WAIST_OF_NAVEL)
    likely = np.exp(mean + (given - mean[core]) @ slope)
    errors = {}
    for ours, (theirs, share, more) in (_SAME | _converted(sex)).items():
        guess = share * likely[:, names.index(theirs)] + more
        errors[ours] = float(np.abs(guess - [body[ours] for body in bodies]).mean())
    return errors


def parameters(found: dict[str, Any]) -> tuple[list[str], NDArray[np.float64], NDArray[np.float64]]:
    """Names, means and covariances of the logs, of one sex of the reference model."""
    names = list(found["vars"])
    lower = np.zeros((len(names), len(names)))
    lower[np.tril_indices(len(names))] = found["cov_lower"]
    return names, np.array(found["mean"]), lower + np.tril(lower, -1).T


Conversion = tuple[str, float, float]  # their column; our measure is this share of it, and so much more, cm

_SAME: dict[str, Conversion] = {
    name: (name, 1.0, 0.0)
    for name in (
        "neck_base_girth neck_girth head_girth shoulder_length back_waist_length wrist_girth waist_to_hip "
        "waist_to_knee waist_to_ankle inside_leg body_rise thigh_girth calf_girth ankle_girth foot_length "
        "bust_height"
    ).split()
}


def _converted(sex: str) -> dict[str, Conversion]:
    return {
        "across_back": ("across_back", ACROSS_OF_FOLDS, 0.0),
        "upper_arm_girth": ("upper_arm_girth_flexed", RELAXED_OF_FLEXED[sex], 0.0),
        "arm_length": ("arm_length_straight", 1.0, ELBOW_BEND),
        "crotch_length_total": ("crotch_length", 1.0, 0.0),
        "waist_to_floor": ("waist_height", 1.0, 0.0),
        "nape_to_floor": ("nape_height", 1.0, 0.0),
    }
