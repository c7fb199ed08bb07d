"""The cool-down: how fast the wort nears its bath, from readings, and when it will have come down to a temperature.

Newton's law of cooling, T = Tb + e^(a - k·t) in a bath that stays at Tb. Weighted least squares on ln(T - Tb) with
weights (T - Tb)², so that every reading is as sure as the next in kelvin; errors as of any linear fit, carried over to
the time by the delta method (standard). All limits here leave 5 % outside on either side. Recommended, without a
source: which readings count, that none is taken as surer than 0.1 K, how a change is told, how batches differ.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Literal, NamedTuple

from workbench.brewing import student_t
from workbench.brewing.spread import Z90, Range

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

__all__ = ["USUAL_PER_MIN", "Cooling", "Curve", "Rate", "Reach", "Reading", "WhyNot", "cooling", "learnt", "reach"]

WhyNot = Literal["target-below-bath", "too-few", "not-cooling"]

# A flask of some 1.2 kg of wort in ice water, from left alone to what 2 mm of glass let through: computed from film
# coefficients that are assumed (recommended).
USUAL_PER_MIN = Range(0.05, 0.13, 0.36)

_LIMIT = 0.95
_ABOVE_BATH_K = 1.0  # nearer to the bath a reading tells more of the thermometer than of the rate
_TARGET_ABOVE_BATH_K = 0.5
_SUREST_K = 0.1
_AT_ONCE_MIN = 1e-3  # readings as near in time as this have no slope
_LEAST_PER_MIN, _MOST_PER_MIN = 1e-6, 100.0  # at the least nothing cools within a year
_BETWEEN_BATCHES = 0.15  # deviation of ln k: hands, ice and depth of the bath are never quite the same
_HIGHEST_LN = 50.0  # far above any temperature, far below where the exponential overflows


class Reading(NamedTuple):
    """A temperature of the wort: minutes since the flask went into the bath, and °C."""

    minutes: float
    celsius: float


class Rate(NamedTuple):
    """A rate of cooling k and its standard error, both per minute."""

    k_per_min: float
    se_per_min: float


class Reach(NamedTuple):
    """When a temperature is reached, in minutes since the flask went into the bath; it may be in the past.

    With the standard error and the half-width of the 90 % band, in minutes; both None below three readings.
    """

    minutes: float
    se_min: float | None = None
    band_min: float | None = None


class Curve(NamedTuple):
    """A cooling curve through `readings` readings, the first at `start_min`: ln of the K above the bath falls straight.

    It is kept by its weighted middle (minutes, ln K), where height and slope do not depend on each other. `weight` (K²)
    is the sum of the weights, `spread` (K²·min²) that of the weighted squares of time about the middle; `s_k` is how
    the readings scatter, K, None below three. `learnt`: the rate comes from earlier batches, not from these readings.
    """

    bath_c: float
    k_per_min: float
    middle_min: float
    middle_ln: float
    weight: float
    spread: float
    s_k: float | None
    readings: int
    start_min: float
    learnt: bool

    @property
    def k_se(self) -> float | None:
        """The standard error of the rate, per minute; None below three readings."""
        return None if self.s_k is None else self.s_k / math.sqrt(self.spread)

    @property
    def deviate(self) -> float:
        """Student's t: how many standard errors away the limits lie, from three readings on."""
        return student_t.quantile(_LIMIT, self.readings - 2)

    def ln_above(self, minutes: float) -> float:
        """The ln of how many K the curve is above the bath, so many minutes after the flask went in."""
        return self.middle_ln - self.k_per_min * (minutes - self.middle_min)

    def ln_se(self, minutes: float) -> float | None:
        """The standard error of `ln_above`; None below three readings."""
        if self.s_k is None:
            return None
        return self.s_k * math.sqrt(1.0 / self.weight + (minutes - self.middle_min) ** 2 / self.spread)

    def celsius(self, minutes: float) -> float:
        """The temperature of the wort, °C, so many minutes after the flask went in."""
        return self.bath_c + _exp(self.ln_above(minutes))

    def band(self, minutes: float) -> tuple[float, float] | None:
        """Between which temperatures, °C, the curve runs there: limits of 90 %; None below three readings."""
        se = self.ln_se(minutes)
        if se is None:
            return None
        ln, half = self.ln_above(minutes), self.deviate * se
        return self.bath_c + _exp(ln - half), self.bath_c + _exp(ln + half)

    def side(self, reading: Reading) -> int:
        """1 for a reading above its prediction limits, -1 below, 0 within them; always 0 for a curve of two readings.

        The limits are of temperature: how sure the curve is there, and how a reading scatters about it.
        """
        se = self.ln_se(reading.minutes)
        if se is None or self.s_k is None:
            return 0
        above = _exp(self.ln_above(reading.minutes))
        off, half = reading.celsius - self.bath_c - above, self.deviate * math.hypot(above * se, self.s_k)
        return (off > half) - (off < -half)


class Cooling(NamedTuple):
    """A cool-down as its readings tell it: the curve it is on, and when that reaches the target, or why it does not.

    Where readings have left a curve, `former` is that curve and `changed_min` the first reading that is not of it.
    """

    curve: Curve | None
    reach: Reach | None
    why_not: WhyNot | None
    former: Curve | None
    changed_min: float | None


def cooling(readings: Iterable[Reading], bath_c: float, target_c: float, learnt_k: float | None = None) -> Cooling:
    """The cool-down to `target_c`, °C, in a bath of `bath_c`, by its readings in any order.

    What was read before the bath or less than 1 K above it does not count. One reading needs the rate learnt, per
    minute; two give a curve without errors. From the fifth on, as they came in, two in a row beyond the same limit of
    those before them begin a new curve, which is watched likewise; what scatters by 0.5 K has one false change in eight
    cool-downs of nine readings, by 0.1 K one in 150. Valid for -100 to 1,000 °C and up to 100,000 minutes either way;
    ValueError outside, and for a learnt rate outside 1e-6 to 100.
    """
    came = sorted(readings)
    _check(came, bath_c, target_c, learnt_k)
    counted = [it for it in came if it.minutes >= 0.0 and it.celsius - bath_c >= _ABOVE_BATH_K - 1e-9]
    start, former = 0, None
    for end in range(1, len(counted) + 1):
        left = _left(counted[start:end], bath_c)
        if left is not None:
            start, former = end - 2, left
    changed_min = None if former is None else counted[start].minutes
    curve = _fitted(counted[start:], bath_c, learnt_k if former is None else None)
    found = reach(curve, bath_c, target_c)
    if isinstance(found, Reach):
        return Cooling(curve, found, None, former, changed_min)
    return Cooling(curve, None, found, former, changed_min)


def reach(curve: Curve | None, bath_c: float, target_c: float) -> Reach | WhyNot:
    """When the wort comes to `target_c`, °C; or why that cannot be said: too warm a bath, no curve, one that stands."""
    if target_c <= bath_c + _TARGET_ABOVE_BATH_K:
        return "target-below-bath"
    if curve is None:
        return "too-few"
    if curve.k_per_min < _LEAST_PER_MIN:
        return "not-cooling"
    minutes = curve.middle_min + (curve.middle_ln - math.log(target_c - bath_c)) / curve.k_per_min
    ln_se = curve.ln_se(minutes)
    if ln_se is None:
        return Reach(minutes)
    se_min = ln_se / curve.k_per_min
    return Reach(minutes, se_min, curve.deviate * se_min)


def learnt(earlier: Sequence[Rate], usual: Range = USUAL_PER_MIN) -> Rate | None:
    """The rate to expect from those of earlier batches, cooled alike in the same flask; None where there are none.

    A normal prior times the data, on ln k, by inverse variances (standard). Recommended are the prior, `usual`, and how
    batches differ: as these do, but by no less than 15 %. The next one will differ as well, so that the error is never
    below that. ValueError for a rate outside 1e-6 to 100 per minute, or an error not above 0.
    """
    for k, se in earlier:
        if not (_LEAST_PER_MIN <= k <= _MOST_PER_MIN and 0.0 < se < math.inf):
            raise ValueError(f"no rate of cooling is {k:g} ± {se:g} per minute")
    if not earlier:
        return None
    logs = [math.log(k) for k, _ in earlier]
    middle = sum(logs) / len(logs)
    between = max(_BETWEEN_BATCHES**2, sum((ln - middle) ** 2 for ln in logs) / max(1, len(logs) - 1))
    logs.append(math.log(usual.likely))
    weights = [1.0 / (between + (se / k) * (se / k)) for k, se in earlier]
    weights.append((Z90 / math.log(usual.high / usual.likely)) ** 2)
    k = math.exp(_mean(weights, logs))
    return Rate(k, k * math.sqrt(1.0 / sum(weights) + between))


def _check(readings: Iterable[Reading], bath_c: float, target_c: float, learnt_k: float | None) -> None:
    for minutes, celsius in (*readings, (0.0, bath_c), (0.0, target_c)):
        if not (abs(minutes) <= 1e5 and -100.0 <= celsius <= 1000.0):
            raise ValueError(f"no cool-down has {celsius:g} °C at {minutes:g} min")
    if learnt_k is not None and not _LEAST_PER_MIN <= learnt_k <= _MOST_PER_MIN:
        raise ValueError(f"no rate of cooling is {learnt_k:g} per minute")


def _left(readings: Sequence[Reading], bath_c: float) -> Curve | None:
    """The curve of all but the last two readings, where both of these left it to the same side; else None.

    It takes three readings before them, since a curve of fewer has no limits.
    """
    curve = _fitted(readings[:-2], bath_c)
    if curve is None:
        return None
    return curve if {curve.side(reading) for reading in readings[-2:]} in ({1}, {-1}) else None


def _fitted(readings: Sequence[Reading], bath_c: float, learnt_k: float | None = None) -> Curve | None:
    """The curve through the readings; where they are of one moment, by the learnt rate, or None."""
    at_once = not readings or readings[-1].minutes - readings[0].minutes < _AT_ONCE_MIN
    if not readings or (at_once and learnt_k is None):
        return None
    logs = [math.log(it.celsius - bath_c) for it in readings]
    weights = [(it.celsius - bath_c) ** 2 for it in readings]
    middle_min, middle_ln = _mean(weights, [it.minutes for it in readings]), _mean(weights, logs)
    points = [(w, it.minutes - middle_min, ln - middle_ln) for w, it, ln in zip(weights, readings, logs, strict=True)]
    spread = sum(w * x * x for w, x, _ in points)
    n, s_k = len(readings), None
    k = learnt_k if at_once and learnt_k is not None else -sum(w * x * y for w, x, y in points) / spread
    if n > 2 and not at_once:
        s_k = max(_SUREST_K, math.sqrt(sum(w * (y + k * x) ** 2 for w, x, y in points) / (n - 2)))
    return Curve(bath_c, k, middle_min, middle_ln, sum(weights), spread, s_k, n, readings[0].minutes, learnt=at_once)


def _mean(weights: Sequence[float], values: Sequence[float]) -> float:
    return sum(w * value for w, value in zip(weights, values, strict=True)) / sum(weights)


def _exp(ln: float) -> float:
    return math.exp(min(ln, _HIGHEST_LN))
