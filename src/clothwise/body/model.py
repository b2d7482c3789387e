"""The population as plain numbers: logarithms of measures, their means and covariances, by figure.

Body measures multiply rather than add, so their logarithms are close to normal. Whoever knows some
of the measures of a body finds the likely rest by conditioning: a straight line in the logarithms,
with a scatter around it. `population.json` holds the parameters, where they come from, and the name
of the script that made them.

    mean, covariance   of the logs of all measures of the model, less their bend and with even scatter
    bend               children's proportions change with growing: square and cube of log height
    fan                small children scatter more in proportion: factor on what scatters about the line
                       that height, bust, waist and hip give, the exponential of a square in log height
    given              the measures that are known; rest: all the others
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cached_property, lru_cache
from importlib import resources
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.special import chdtri

from clothwise.body.body import Figure

Array = NDArray[np.float64]

CORE = ("height", "bust_girth", "waist_girth", "hip_girth")  # the usual four to estimate from
TAIL = 0.01  # of real bodies lie further out than this; there the data begin to run thin


@dataclass(frozen=True, eq=False)
class Model:
    """Means and covariances of log measures for one figure. `ages` is the range the data hold, years."""

    figure: Figure
    n: int
    ages: tuple[float, float]
    measures: tuple[str, ...]
    mean: Array
    covariance: Array
    about: float  # log height about which the logs bend and fan
    bends: Array  # factors of square and cube, a column to each measure; nothing for adults
    fans: Array  # factors of log height and its square in the log of the fan; nothing for adults

    @cached_property
    def level(self) -> bool:
        """Whether nothing bends or fans: adults."""
        return not (self.bends.any() or self.fans.any())

    def bend(self, measures: tuple[str, ...], log_height: Array | float | None) -> Array:
        """By how much the logs of these measures lie off the straight line at this height.

        One row to a height; the mean bend when the height is not known.
        """
        bends = self.bends[:, self.index(measures)]
        if log_height is None:
            at = self.measures.index("height")
            powers = np.array([self.covariance[at, at], 0.0])
        else:
            off = np.asarray(log_height, dtype=np.float64) - self.about
            powers = np.stack([off**2, off**3], axis=-1)
        return np.asarray(powers @ bends, dtype=np.float64)

    def log_fan(self, measures: tuple[str, ...], log_height: Array | float | None) -> Array:
        """Log of the factor on the scatter of these measures at this height; one row to a height."""
        if log_height is None:
            return np.zeros(len(measures))
        off = np.asarray(log_height, dtype=np.float64) - self.about
        powers = np.stack([off, off**2], axis=-1)
        return np.asarray(powers @ self.fans[:, self.index(measures)], dtype=np.float64)

    def straight(self, measures: tuple[str, ...], logs: Array) -> Array:
        """Logs of measures, one body to a row or one body, as the mean and covariance know them."""
        if self.level:
            return logs
        log_height = logs[..., measures.index("height")] if "height" in measures else None
        flat = logs - self.bend(measures, log_height)
        return self._fanned(measures, flat, -self.log_fan(measures, log_height))

    def bent(self, measures: tuple[str, ...], straight: Array) -> Array:
        """The other way round: logs of measures from what the mean and covariance know. Height is there."""
        log_height = straight[..., measures.index("height")]
        fanned = self._fanned(measures, straight, self.log_fan(measures, log_height))
        return np.asarray(fanned + self.bend(measures, log_height), dtype=np.float64)

    def _fanned(self, measures: tuple[str, ...], flat: Array, log_fan: Array) -> Array:
        """What scatters about the line of the core, multiplied; without a whole core, nothing is."""
        if not log_fan.any() or not set(CORE) <= set(measures):
            return flat
        line = self.line(measures, flat[..., [measures.index(name) for name in CORE]])
        return np.asarray(line + (flat - line) * np.exp(log_fan), dtype=np.float64)

    def line(self, measures: tuple[str, ...], core: Array) -> Array:
        """The likely logs of measures, without bend, for the logs of the core without bend."""
        at = self.index(CORE)
        slope = _slope(self, CORE)[:, self.index(measures)]
        return np.asarray(self.mean[self.index(measures)] + (core - self.mean[at]) @ slope, dtype=np.float64)

    def index(self, measures: tuple[str, ...]) -> list[int]:
        """Where these measures stand in the mean and the covariance."""
        return [self.measures.index(name) for name in measures]


@dataclass(frozen=True, eq=False)
class Conditioned:
    """What a set of given measures says of the others.

    slope      log rest on log given, both from their means
    scatter    log standard deviation of the rest that remains
    precision  inverse covariance of the given, for their distance from the mean
    rare       squared distance that only TAIL of real bodies exceed
    """

    rest: tuple[str, ...]
    mean_given: Array
    mean_rest: Array
    slope: Array
    scatter: Array
    precision: Array
    rare: float

    def likely(self, given: Array) -> Array:
        """Log of the likely rest, for the log of the given."""
        return np.asarray(self.mean_rest + (given - self.mean_given) @ self.slope, dtype=np.float64)

    def distance2(self, given: Array) -> float:
        """Squared Mahalanobis distance of the log of the given from the mean body."""
        off = given - self.mean_given
        return float(off @ self.precision @ off)


@lru_cache(maxsize=64)
def _slope(whole: Model, given: tuple[str, ...]) -> Array:
    """Of all measures of a model on the given ones."""
    at = whole.index(given)
    return np.asarray(np.linalg.solve(whole.covariance[np.ix_(at, at)], whole.covariance[at]), dtype=np.float64)


@lru_cache
def model(figure: Figure) -> Model:
    """The model of one figure."""
    return _read(figure)[0]


@lru_cache
def wide_model(figure: Figure) -> Model:
    """The same with height, waist and hip spread as in the general population (NHANES), adults only.

    The surveys behind the model measured soldiers. The links between measures are kept, but height,
    waist and hip vary as among everybody; children were surveyed at large and need no widening.
    """
    narrow, wide = _read(figure)
    if wide is None:
        return narrow
    core = narrow.index(wide.measures)
    covariance = narrow.covariance
    slope = _slope(narrow, wide.measures)
    left_over = covariance - covariance[:, core] @ slope
    return Model(
        figure=figure,
        n=narrow.n,
        ages=narrow.ages,
        measures=narrow.measures,
        mean=narrow.mean + (wide.mean - narrow.mean[core]) @ slope,
        covariance=left_over + slope.T @ wide.covariance @ slope,
        about=narrow.about,
        bends=narrow.bends,
        fans=narrow.fans,
    )


@lru_cache(maxsize=4096)
def conditioned(figure: Figure, given: tuple[str, ...]) -> Conditioned:
    """The model of one figure, conditioned on the given measures."""
    return condition(model(figure), given)


def condition(whole: Model, given: tuple[str, ...]) -> Conditioned:
    """What the given measures say of the others, in any model."""
    rest = tuple(name for name in whole.measures if name not in given)
    known, unknown = whole.index(given), whole.index(rest)
    precision: Array = np.linalg.inv(whole.covariance[np.ix_(known, known)]).astype(np.float64)
    slope = precision @ whole.covariance[np.ix_(known, unknown)]
    left_over = whole.covariance[np.ix_(unknown, unknown)] - whole.covariance[np.ix_(unknown, known)] @ slope
    return Conditioned(
        rest=rest,
        mean_given=whole.mean[known],
        mean_rest=whole.mean[unknown],
        slope=slope,
        scatter=np.sqrt(np.diag(left_over)),
        precision=precision,
        rare=float(chdtri(len(given), TAIL)),
    )


def likely(whole: Model, known: Conditioned, given: tuple[str, ...], logs: Array) -> tuple[Array, Array]:
    """Logs of the likely rest and their scatter, for the logs of the given measures of one body."""
    straight = whole.straight(given, logs)
    log_height = float(logs[given.index("height")]) if "height" in given else None
    fan = np.exp(whole.log_fan(known.rest, log_height))
    rest = known.likely(straight)
    if set(CORE) <= set(given):
        line = whole.line(known.rest, straight[[given.index(name) for name in CORE]])
        rest = line + (rest - line) * fan
    return rest + whole.bend(known.rest, log_height), known.scatter * fan


@lru_cache
def _read(figure: Figure) -> tuple[Model, Model | None]:
    text = resources.files("clothwise.body").joinpath("population.json").read_text("utf-8")
    found = json.loads(text)["figures"][figure]
    youngest, oldest = found["ages"]
    narrow = _parameters(figure, found["n"], (youngest, oldest), found)
    wide = _parameters(figure, found["n"], narrow.ages, found["wide"]) if "wide" in found else None
    return narrow, wide


def _parameters(figure: Figure, n: int, ages: tuple[float, float], found: dict[str, Any]) -> Model:
    measures = tuple(str(name) for name in found["measures"])
    lower = np.zeros((len(measures), len(measures)))
    lower[np.tril_indices(len(measures))] = found["covariance_lower"]
    straight = [0.0] * len(measures)
    return Model(
        figure=figure,
        n=n,
        ages=ages,
        measures=measures,
        mean=np.array(found["mean"]),
        covariance=lower + np.tril(lower, -1).T,
        about=found.get("about_log_height", 0.0),
        bends=np.array([found.get("bend_square", straight), found.get("bend_cube", straight)]),
        fans=np.array([found.get("fan_slope", straight), found.get("fan_square", straight)]),
    )
