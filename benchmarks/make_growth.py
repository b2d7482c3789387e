"""Make src/clothwise/size/growth.json: how large children are at each age, from 2 to 18 years.

Run from the repository's root, with the public body data beside it:  python -m benchmarks.make_growth

For each figure and measure: mean and standard deviation of the natural logarithm of cm at each birthday,
by a straight line fitted about it with weights that fade over BANDWIDTH years. Only these figures go into
the file, no row of the data. The survey met each child once: it says how large children are, not how
evenly one child grows; what `growth` assumes of that is its own and stands there.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

import numpy as np
from tests.real_bodies import available, real_bodies

from clothwise.body.body import Body

TARGET = Path(__file__).resolve().parents[1] / "src" / "clothwise" / "size" / "growth.json"
MEASURES = (
    "height bust_girth waist_girth hip_girth thigh_girth arm_length inside_leg back_waist_length waist_to_ankle"
).split()
AGES = tuple(range(2, 19))  # years
BANDWIDTH = 0.75  # years, standard deviation of the weights
RARE = 3.5  # standard deviations: an entry further out is a slip of the survey and is left out
SOURCE = (
    "derived from the survey of US children of 1977 (UM-HSRI-77-17, made for the US CPSC, published by NIST); "
    "mean and standard deviation of the natural logarithm of cm, by age in years"
)


def main() -> int:
    """Write the file; 1 when the data are not there."""
    if not available():
        print("The public body data do not stand beside the repository: nothing made.", file=sys.stderr)
        return 1
    figures = {figure: _figure(real_bodies(figure)) for figure in ("girl", "boy")}
    text = json.dumps({"made_by": "benchmarks/make_growth.py", "source": SOURCE, "ages": AGES, **figures})
    TARGET.write_text(
        text.replace("}, ", "},\n ").replace('"girl"', '\n"girl"').replace('"boy"', '\n"boy"') + "\n"
    )
    print(f"{TARGET.name}: {TARGET.stat().st_size / 1024:.1f} KB")
    return 0


def _figure(children: tuple[Body, ...]) -> dict[str, dict[str, list[float]]]:
    return {measure: _by_age(children, measure) for measure in MEASURES}


def _by_age(children: tuple[Body, ...], measure: str) -> dict[str, list[float]]:
    have = [child for child in children if measure in child and child.age_years is not None]
    age = np.array([child.age_years for child in have], dtype=float)
    log = np.log([child[measure] for child in have])
    means, spreads = [], []
    for year in AGES:
        kept = np.ones(len(age), dtype=bool)
        for _ in range(2):
            weight = np.exp(-0.5 * ((age - year) / BANDWIDTH) ** 2) * kept
            slope, mean = np.polyfit(age - year, log, 1, w=np.sqrt(weight))
            off = log - (mean + slope * (age - year))
            spread = float(np.sqrt(weight @ off**2 / weight.sum()))
            kept = np.abs(off) < RARE * max(spread, 0.02)
        means.append(float(mean))
        spreads.append(spread)
    rising = np.maximum.accumulate(means)  # growing up, a mean that falls is noise of the survey
    return {"mean": [round(v, 4) for v in rising.tolist()], "spread": [round(v, 4) for v in spreads]}


if __name__ == "__main__":
    sys.exit(main())
