"""Make src/clothwise/body/population.json: means and covariances of the logarithms of body measures.

Run from the repository's root, with the public body data beside it:  python -m benchmarks.make_population

Three parts of the data, drawn by `tests.real_bodies`: means and covariances are fitted to `train`; the
scatters are then evened on `train` and `tune`, each body judged by a fit that has not seen it; `held_out`
is never read here, so that `benchmarks.bodies` can prove the estimates on bodies nothing was fitted to.
No row of the data goes into the file, only parameters.

Adults: plain means and covariances. Children: the expectation-maximisation for gaps (Dempster, Laird
and Rubin 1977), since two thirds of the columns were measured on a third of the children each;
columns never measured on the same child keep only the link that runs through the shared ones.

Even scatter: survey data have longer tails than a normal spread, so the scatter that remains beside
height, bust, waist and hip is multiplied, measure by measure, until nine in ten bodies lie within 1.645
of it; the links between measures stay. Children scatter more in proportion the smaller they are: the
fan, fitted first, takes that out. (The idea of split-conformal intervals: Vovk et al. 2005.)
"""

from __future__ import annotations

import json
import math
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import minimize
from tests.real_bodies import (
    BODIES,
    SPLIT_SEED,
    TRAIN,
    TUNE,
    WAIST_OF_NAVEL,
    available,
    estimable,
    real_bodies,
    train,
    tune,
)

from benchmarks.bodies_reference import CORE_THERE, parameters
from clothwise.body.body import Body, Figure
from clothwise.body.model import CORE, Model, condition, likely
from clothwise.body.population import Z90

TARGET = Path(__file__).resolve().parents[1] / "src" / "clothwise" / "body" / "population.json"

Array = NDArray[np.float64]

WIDE_CORE = ("height", "waist_girth", "hip_girth")
EM_ROUNDS = 40  # further rounds move no scatter by a hundredth of itself
UNBENT = ("age_years", "height")  # what the others bend with
WILD = 6.0  # standard deviations: a child's entry further than this from its other entries is left out
RIDGE = 1e-6  # of log variance, (0.1 %)^2: a tape reads no finer, and the matrix stays well conditioned

NINE_IN_TEN = 0.9
FOLDS = 5  # parts of the training bodies, each judged by a fit to the others
OUTLIER = 3.0  # scatters: a body further out counts as this far when the fan is fitted
AGES: dict[Figure, tuple[float, float]] = {
    "woman": (17, 58), "man": (17, 58), "girl": (2, 18), "boy": (2, 18)
}  # years  # fmt: skip
ADULTS: tuple[Figure, ...] = ("woman", "man")
CHILDREN: tuple[Figure, ...] = ("girl", "boy")

# Measures that stand in for another in the children's data carry their own scatter: log sd, from adults.
CHILD_SCATTER = {"back_waist_length": 0.03, "across_back": 0.05}
CHILD_COPIES = {"neck_base_girth": ("neck_girth", 0.04), "shoulder_length": ("across_shoulder", 0.06)}


def main() -> int:
    """Write the file; 1 when the data are not there."""
    if not available():
        print("The public body data do not stand beside the repository: nothing made.", file=sys.stderr)
        return 1
    reference = json.loads((BODIES / "body_model.json").read_text())
    adults = {figure: _misses(figure) for figure in ADULTS}
    children = {figure: _misses(figure) for figure in CHILDREN}
    fans = _fans(children)
    scales = _scales(adults, {}) | _scales(children, fans)
    figures = {
        "woman": _adult("woman", reference["adult"]["F"], scales["woman"]),
        "man": _adult("man", reference["adult"]["M"], scales["man"]),
        "girl": _child("girl", scales["girl"], fans),
        "boy": _child("boy", scales["boy"], fans),
    }
    whole = {"format": 2, "unit": UNIT, "made_by": MADE_BY, "parts": PARTS, "figures": figures}
    TARGET.write_text(_compact(whole))
    print(f"{TARGET.name}: {TARGET.stat().st_size / 1024:.0f} KB")
    return 0


UNIT = "mean and covariance (lower triangle, row by row) of the natural logarithm of cm (age: of years)"
MADE_BY = (
    "benchmarks/make_population.py, from the training and tuning parts; parameters only, no row of the data"
)
PARTS = (
    f"seed {SPLIT_SEED}: {TRAIN:.0%} of the bodies fitted, {TUNE:.0%} more for scatters and thresholds, the "
    "rest held out; tests/real_bodies.py"
)
ADULT_SOURCE = "US Army survey of 2010-12 (NATICK/TR-15/007), public release; proxies in tests/real_bodies.py"
CHILD_SOURCE = "Snyder et al. 1977 (UM-HSRI-77-17, US CPSC, published by NIST); proxies in tests/real_bodies.py"
WIDE_SOURCE = (
    "NHANES 2017-18, adults, exam weights (public domain); waist there at the hip bone, taken as navel"
)


def _adult(figure: Figure, reference: dict[str, Any], scale: dict[str, float]) -> dict[str, object]:
    fit = _even(_fit(figure, train(real_bodies(figure))), scale)
    names, mean, covariance = fit.measures, fit.mean, fit.covariance
    extra = {}
    for name, source, (slope, constant, scatter) in _by_regression(figure, reference):
        names, mean, covariance = _append(names, mean, covariance, name, slope, constant, scatter)
        extra[name] = source
    return {
        "n": fit.n,
        "ages": list(AGES[figure]),
        "source": ADULT_SOURCE,
        "by_regression_on_height_bust_waist_hip": extra,
        **_parameters(names, mean, covariance),
        "wide": _wide_core(reference["population_core"]),
    }


# ---- fitting -----------------------------------------------------------------------------------


def _fit(figure: Figure, bodies: tuple[Body, ...]) -> Model:
    """Plain means and covariances of the logs for adults; with bends, and around the gaps, for children."""
    if figure not in CHILDREN:
        names = tuple(bodies[0].measures)
        logs = np.log(np.array([[body[name] for name in names] for body in bodies]))
        about, bends = 0.0, np.zeros((2, len(names)))
        mean, covariance = logs.mean(axis=0), np.cov(logs.T) + RIDGE * np.eye(len(names))
    else:
        names = ("age_years", *sorted({name for body in bodies for name in body} - set(CHILD_COPIES)))
        logs = np.log(np.array([_row(body, names) for body in bodies]))
        about, bends = _bend(names, logs)
        mean, covariance = _gap_em(logs)
        logs[_wild(logs, mean, covariance)] = np.nan
        mean, covariance = _gap_em(logs)
    fans = np.zeros((2, len(names)))
    return Model(figure, len(bodies), AGES[figure], names, mean, covariance, about, bends, fans)


# ---- even scatter ------------------------------------------------------------------------------

# Of one measure: how far each body lies from what its height, bust, waist and hip make likely. Log
# heights, from the height about which the model bends, and misses in scatters of the model.
Misses = dict[str, tuple[Array, Array]]
Fan = tuple[float, float]
LEVEL: Fan = (0.0, 0.0)


def _misses(figure: Figure) -> Misses:
    """Over `train` and `tune`, each body judged by a fit that has not seen it. Reads nothing else."""
    seen = train(real_bodies(figure))
    pairs = [(_fit(figure, seen), tune(real_bodies(figure)))]
    for part in range(FOLDS):
        others = tuple(body for number, body in enumerate(seen) if number % FOLDS != part)
        pairs.append((_fit(figure, others), seen[part::FOLDS]))
    found: dict[str, list[tuple[float, float]]] = {}
    for fit, bodies in pairs:
        known = condition(fit, CORE)
        for body in filter(estimable, bodies):
            logs = np.log([body[name] for name in CORE])
            for name, middle, scatter in zip(known.rest, *likely(fit, known, CORE, logs), strict=True):
                if name in body:
                    miss = (math.log(body[name]) - middle) / scatter
                    found.setdefault(name, []).append((float(logs[0]) - fit.about, miss))
    return {name: (np.array(pairs)[:, 0], np.array(pairs)[:, 1]) for name, pairs in found.items()}


def _fans(children: dict[Figure, Misses]) -> dict[str, Fan]:
    """How the misses fan out with height, girls and boys together: they hardly differ in that."""
    fans = {}
    for name in children["girl"]:
        off, miss = (np.concatenate([misses[name][i] for misses in children.values()]) for i in (0, 1))
        fans[name] = _fan(off, np.minimum(np.abs(miss), OUTLIER))
    return fans


def _fan(off: Array, miss: Array) -> Fan:
    """The most likely square in log height for the log of a normal spread."""
    powers = np.vander(off, 3, increasing=True)

    def surprise(factors: Array) -> float:
        log_spread = powers @ factors
        return float(np.sum(log_spread + 0.5 * (miss * np.exp(-log_spread)) ** 2))

    _, slope, square = minimize(surprise, np.zeros(3)).x
    return round(float(slope), 4), round(float(square), 4)


def _scales(misses: dict[Figure, Misses], fans: dict[str, Fan]) -> dict[Figure, dict[str, float]]:
    """By how much to multiply each scatter so that it holds nine in ten.

    Half way between what one sex says and what both say: alone, each is as uncertain as it is different.
    """
    own = {
        figure: {name: _scale(*one, fans.get(name, LEVEL)) for name, one in ones.items()}
        for figure, ones in misses.items()
    }
    return {
        figure: {name: math.sqrt(value * _mean_of(name, own)) for name, value in scale.items()}
        for figure, scale in own.items()
    }


def _scale(off: Array, miss: Array, fan: Fan) -> float:
    level = np.abs(miss) * np.exp(-fan[0] * off - fan[1] * off**2)
    return float(np.quantile(level, NINE_IN_TEN)) / Z90


def _mean_of(name: str, scales: dict[Figure, dict[str, float]]) -> float:
    return float(np.mean([scale[name] for scale in scales.values()]))


def _even(fit: Model, scale: dict[str, float]) -> Model:
    """The model with the scatter beside the core multiplied measure by measure; the links stay."""
    core = fit.index(CORE)
    covariance = fit.covariance
    slope = np.linalg.solve(covariance[np.ix_(core, core)], covariance[core])
    by_core = covariance[:, core] @ slope
    factors = np.array([scale.get(name, 1.0) for name in fit.measures])
    return replace(fit, covariance=by_core + factors[:, None] * (covariance - by_core) * factors)


# ---- measures that only smaller surveys hold ---------------------------------------------------

Regression = tuple[Array, float, float]  # slopes on the logs of CORE, constant, scatter


def _by_regression(figure: Figure, reference: dict[str, Any]) -> list[tuple[str, str, Regression]]:
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


def _neck_point_to_bust(reference: dict[str, Any]) -> Regression:
    """Nape to bust point less a quarter of the neck base, made straight in logs about the mean body."""
    names, mean, _ = parameters(reference)
    whole = math.exp(mean[names.index("nape_to_bust_point")])
    behind = math.exp(mean[names.index("neck_base_girth")]) / 4
    front = whole - behind
    parts = {"nape_to_bust_point": whole / front, "neck_base_girth": -behind / front}
    return _regress(reference, parts, constant=math.log(front))


def _regress(reference: dict[str, Any], parts: dict[str, float], constant: float | None = None) -> Regression:
    """log(measure), a weighted sum of logs of the reference model, on the logs of our core."""
    names, mean, covariance = parameters(reference)
    weights = np.zeros(len(names))
    for name, weight in parts.items():
        weights[names.index(name)] = weight
    core = [names.index(name) for name in CORE_THERE]
    slope: Array = np.linalg.solve(covariance[np.ix_(core, core)], covariance[core] @ weights).astype(
        np.float64
    )
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


def _child(figure: Figure, scale: dict[str, float], fans: dict[str, Fan]) -> dict[str, object]:
    bodies = train(real_bodies(figure))
    fit = _even(_fit(figure, bodies), scale)
    names, mean, covariance = fit.measures, fit.mean, fit.covariance
    for name, scatter in CHILD_SCATTER.items():
        covariance[names.index(name), names.index(name)] += scatter**2
    bends = dict(zip(names, fit.bends.T.tolist(), strict=False))
    for name, (original, scatter) in CHILD_COPIES.items():
        names, mean, covariance = _copy(names, mean, covariance, bodies, name, original, scatter)
        bends[name] = bends[original]
        fans = {**fans, name: fans[original]}
    return {
        "n": len(bodies),
        "ages": list(AGES[figure]),
        "about_log_height": fit.about,
        "bend_square": [round(bends[name][0], 5) for name in names],
        "bend_cube": [round(bends[name][1], 5) for name in names],
        "fan_slope": [fans.get(name, LEVEL)[0] for name in names],
        "fan_square": [fans.get(name, LEVEL)[1] for name in names],
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
