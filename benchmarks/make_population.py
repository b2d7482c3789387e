"""Make src/clothwise/body/population.json: means and covariances of the logarithms of body measures.

Run from the repository's root, with the public body data beside it:  python -m benchmarks.make_population

Seen are only the training halves (every second body), so that `benchmarks.bodies` can prove the
estimates on bodies the model has never met. No row of the data goes into the file, only parameters.
Adults: plain means and covariances. Children: the expectation-maximisation for gaps (Dempster, Laird
and Rubin 1977), since two thirds of the columns were measured on a third of the children each;
columns never measured on the same child keep only the link that runs through the shared ones.
"""

from __future__ import annotations

import json
import math
import sys
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from tests.real_bodies import BODIES, WAIST_OF_NAVEL, available, real_bodies, training

from clothwise.body.body import Body, Figure

TARGET = Path(__file__).resolve().parents[1] / "src" / "clothwise" / "body" / "population.json"

Array = NDArray[np.float64]

CORE = ("height", "bust_girth", "waist_girth", "hip_girth")
CORE_THERE = ("height", "bust_girth", "waist_girth_navel", "hip_girth")  # as the reference model names it
WIDE_CORE = ("height", "waist_girth", "hip_girth")
EM_ROUNDS = 40  # further rounds move no scatter by a hundredth of itself
UNBENT = ("age_years", "height")  # what the others bend with
WILD = 6.0  # standard deviations: a child's entry further than this from its other entries is left out
RIDGE = 1e-6  # of log variance, (0.1 %)^2: a tape reads no finer, and the matrix stays well conditioned

# Measures that stand in for another in the children's data carry their own scatter: log sd, from adults.
CHILD_SCATTER = {"back_waist_length": 0.03, "across_back": 0.05, "inside_leg": 0.012, "waist_to_knee": 0.012}
CHILD_COPIES = {"neck_base_girth": ("neck_girth", 0.04), "shoulder_length": ("across_shoulder", 0.06)}


def main() -> int:
    """Write the file; 1 when the data are not there."""
    if not available():
        print("The public body data do not stand beside the repository: nothing made.", file=sys.stderr)
        return 1
    reference = json.loads((BODIES / "body_model.json").read_text())
    figures = {
        "woman": _adult("woman", reference["adult"]["F"]),
        "man": _adult("man", reference["adult"]["M"]),
        "girl": _child("girl"),
        "boy": _child("boy"),
    }
    TARGET.write_text(_compact({"format": 1, "unit": UNIT, "made_by": MADE_BY, "figures": figures}))
    print(f"{TARGET.name}: {TARGET.stat().st_size / 1024:.0f} KB")
    return 0


UNIT = "mean and covariance (lower triangle, row by row) of the natural logarithm of cm (age: of years)"
MADE_BY = "benchmarks/make_population.py, from the training halves; parameters only, no row of the data"
ADULT_SOURCE = "US Army survey of 2010-12 (NATICK/TR-15/007), public release; proxies in tests/real_bodies.py"
CHILD_SOURCE = "Snyder et al. 1977 (UM-HSRI-77-17, US CPSC, published by NIST); proxies in tests/real_bodies.py"
WIDE_SOURCE = (
    "NHANES 2017-18, adults, exam weights (public domain); waist there at the hip bone, taken as navel"
)


def _adult(figure: Figure, reference: dict[str, object]) -> dict[str, object]:
    bodies = training(real_bodies(figure))
    names = tuple(bodies[0].measures)
    logs = np.log(np.array([[body[name] for name in names] for body in bodies]))
    mean, covariance = logs.mean(axis=0), np.cov(logs.T) + RIDGE * np.eye(len(names))
    extra = {}
    for name, source, (slope, constant, scatter) in _by_regression(figure, reference):
        names, mean, covariance = _append(names, mean, covariance, name, slope, constant, scatter)
        extra[name] = source
    return {
        "n": len(bodies),
        "ages": [17, 58],
        "source": ADULT_SOURCE,
        "by_regression_on_height_bust_waist_hip": extra,
        **_parameters(names, mean, covariance),
        "wide": _wide_core(reference["population_core"]),  # type: ignore[arg-type]
    }


Regression = tuple[Array, float, float]  # slopes on the logs of CORE, constant, scatter


def _by_regression(figure: Figure, reference: dict[str, object]) -> list[tuple[str, str, Regression]]:
    """Measures that only smaller surveys hold, through what the reference model knows of them."""
    if figure == "woman":
        asran = "ASRAN 2015, 113 women"
        return [
            ("under_bust_girth", asran, _regress(reference, {"under_bust_girth": 1.0})),
            ("shoulder_neck_point_to_bust_point", f"{asran}, from the nape", _neck_point_to_bust(reference)),
        ]
    air_force = "USAF 1967, 2420 men"
    return [
        ("armscye_girth", air_force, _regress(reference, {"armscye_girth": 1.0})),
        ("elbow_girth", air_force, _regress(reference, {"elbow_girth": 1.0})),
    ]


def _neck_point_to_bust(reference: dict[str, object]) -> Regression:
    """Nape to bust point less a quarter of the neck base, made straight in logs about the mean body."""
    names, mean, _ = _reference(reference)
    whole = math.exp(mean[names.index("nape_to_bust_point")])
    behind = math.exp(mean[names.index("neck_base_girth")]) / 4
    front = whole - behind
    parts = {"nape_to_bust_point": whole / front, "neck_base_girth": -behind / front}
    return _regress(reference, parts, constant=math.log(front))


def _reference(reference: dict[str, object]) -> tuple[list[str], Array, Array]:
    names: list[str] = reference["vars"]  # type: ignore[assignment]
    covariance = np.zeros((len(names), len(names)))
    covariance[np.tril_indices(len(names))] = reference["cov_lower"]
    return names, np.array(reference["mean"]), covariance + np.tril(covariance, -1).T


def _regress(
    reference: dict[str, object], parts: dict[str, float], constant: float | None = None
) -> Regression:
    """log(measure), a weighted sum of logs of the reference model, on the logs of our core."""
    names, mean, covariance = _reference(reference)
    weights = np.zeros(len(names))
    for name, weight in parts.items():
        weights[names.index(name)] = weight
    core = [names.index(name) for name in CORE_THERE]
    slope = np.linalg.solve(covariance[np.ix_(core, core)], covariance[core] @ weights)
    scatter = float(weights @ covariance @ weights - slope @ covariance[core] @ weights)
    at_mean = float(weights @ mean) if constant is None else constant
    shift = np.array([0.0, 0.0, math.log(WAIST_OF_NAVEL), 0.0])
    return slope, at_mean - float(slope @ (mean[core] + shift)), math.sqrt(scatter)


def _append(
    names: tuple[str, ...],
    mean: Array,
    covariance: Array,
    name: str,
    slope: Array,
    constant: float,
    scatter: float,
) -> tuple[tuple[str, ...], Array, Array]:
    core = [names.index(known) for known in CORE]
    column = covariance[:, core] @ slope
    corner = slope @ covariance[np.ix_(core, core)] @ slope + scatter**2
    grown = np.block([[covariance, column[:, None]], [column[None, :], np.array([[corner]])]])
    return (*names, name), np.append(mean, constant + slope @ mean[core]), grown


def _wide_core(core: dict[str, list[object]]) -> dict[str, object]:
    """The general population, larger than soldiers: mean and covariance of height, waist and hip."""
    mean = np.array(core["mean"], dtype=float) + np.array([0.0, math.log(WAIST_OF_NAVEL), 0.0])
    return {"source": WIDE_SOURCE, **_parameters(WIDE_CORE, mean, np.array(core["cov"], dtype=float))}


def _child(figure: Figure) -> dict[str, object]:
    bodies = training(real_bodies(figure))
    kept = sorted({name for body in bodies for name in body} - set(CHILD_COPIES))
    names = ("age_years", *kept)
    logs = np.log(np.array([_row(body, names) for body in bodies]))
    about, curve = _bend(names, logs)
    mean, covariance = _gap_em(logs)
    logs[_wild(logs, mean, covariance)] = np.nan
    mean, covariance = _gap_em(logs)
    for name, scatter in CHILD_SCATTER.items():
        covariance[names.index(name), names.index(name)] += scatter**2
    for name, (original, scatter) in CHILD_COPIES.items():
        names, mean, covariance = _copy(names, mean, covariance, bodies, name, original, scatter)
    bends = dict(zip(names, curve.T.tolist(), strict=False))
    bends |= {name: bends[original] for name, (original, _) in CHILD_COPIES.items()}
    return {
        "n": len(bodies),
        "ages": [2, 18],
        "bend_about_log_height": about,
        "bend_square": [round(bends[name][0], 5) for name in names],
        "bend_cube": [round(bends[name][1], 5) for name in names],
        "source": CHILD_SOURCE,
        "own_scatter_added": {
            **CHILD_SCATTER,
            **{name: scatter for name, (_, scatter) in CHILD_COPIES.items()},
        },
        **_parameters(names, mean, covariance + RIDGE * np.eye(len(names))),
    }


def _bend(names: tuple[str, ...], logs: Array) -> tuple[float, Array]:
    """Growing bodies change their proportions: take the square and cube of log height out of all logs.

    Changes `logs`; returns the log height about which they bend, and the factors of square and cube.
    """
    height = logs[:, names.index("height")]
    about = round(float(height.mean()), 6)
    powers = np.vander(height - about, 4, increasing=True)
    curve = np.zeros((2, len(names)))
    for number, name in enumerate(names):
        known = ~np.isnan(logs[:, number])
        if name not in UNBENT:
            curve[:, number] = np.linalg.lstsq(powers[known], logs[known, number], rcond=None)[0][2:]
    logs -= powers[:, 2:] @ curve
    return about, curve


def _row(body: Body, names: tuple[str, ...]) -> list[float]:
    known = {name: measure.cm for name, measure in body.measures.items()}
    return [body.age_years or math.nan] + [known.get(name, math.nan) for name in names[1:]]


def _gap_em(logs: Array) -> tuple[Array, Array]:
    """Mean and covariance of rows with gaps, by expectation-maximisation."""
    mean, covariance = np.nanmean(logs, axis=0), np.diag(np.nanvar(logs, axis=0))
    patterns: dict[bytes, list[int]] = {}
    for number, row in enumerate(~np.isnan(logs)):
        patterns.setdefault(row.tobytes(), []).append(number)
    for _ in range(EM_ROUNDS):
        filled, lost = logs.copy(), np.zeros_like(covariance)
        for rows in patterns.values():
            known = ~np.isnan(logs[rows[0]])
            gap = ~known
            if gap.any():
                slope = np.linalg.solve(covariance[np.ix_(known, known)], covariance[np.ix_(known, gap)])
                filled[np.ix_(rows, gap)] = mean[gap] + (logs[np.ix_(rows, known)] - mean[known]) @ slope
                rest = covariance[np.ix_(gap, gap)] - covariance[np.ix_(gap, known)] @ slope
                lost[np.ix_(gap, gap)] += len(rows) * rest
        mean = filled.mean(axis=0)
        covariance = ((filled - mean).T @ (filled - mean) + lost) / len(logs) + RIDGE * np.eye(len(mean))
    return mean, covariance


def _wild(logs: Array, mean: Array, covariance: Array) -> NDArray[np.bool_]:
    """Entries too far from what the same child's other entries say: slips of the survey."""
    found = np.zeros(logs.shape, dtype=bool)
    for number, row in enumerate(logs):
        known = np.flatnonzero(~np.isnan(row))
        precision = np.linalg.inv(covariance[np.ix_(known, known)])
        z = (precision @ (row[known] - mean[known])) / np.sqrt(np.diag(precision))
        found[number, known] = np.abs(z) > WILD
    return found


def _copy(
    names: tuple[str, ...],
    mean: Array,
    covariance: Array,
    bodies: tuple[Body, ...],
    name: str,
    original: str,
    scatter: float,
) -> tuple[tuple[str, ...], Array, Array]:
    """A measure that is a fixed share of another one in these data, with its own scatter added."""
    share = next(body[name] / body[original] for body in bodies if name in body)
    at = names.index(original)
    column = covariance[:, at]
    corner = np.array([[covariance[at, at] + scatter**2]])
    grown = np.block([[covariance, column[:, None]], [column[None, :], corner]])
    return (*names, name), np.append(mean, mean[at] + math.log(share)), grown


def _parameters(names: tuple[str, ...], mean: Array, covariance: Array) -> dict[str, object]:
    lower = covariance[np.tril_indices(len(names))]
    return {
        "measures": list(names),
        "mean": [round(float(value), 6) for value in mean],
        "covariance_lower": [float(f"{value:.6g}") for value in lower],
    }


def _compact(whole: dict[str, object]) -> str:
    """JSON with one line to a list: small, and a change of the model can still be read."""
    text = json.dumps(whole, indent=1)
    lines: list[str] = []
    inside = False
    for line in text.splitlines():
        bare = line.strip()
        lines[-1:] = (
            [lines[-1] + bare + (" " if bare.endswith(",") else "")] if inside and lines else lines[-1:]
        )
        if not inside:
            lines.append(line)
        inside = (inside or bare.endswith("[")) and not bare.startswith("]")
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    raise SystemExit(main())
