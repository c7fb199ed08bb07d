"""How fast a starter grows: a rate by temperature, a lag, and the logistic curve of Baranyi and Roberts (1994).

Rates are per hour, temperatures °C. The cardinal temperatures of ale yeast are Salvado et al. 2011 (optimum and
maximum; minimum from memory); the lager set and both optimum rates are recommended values.
"""

from __future__ import annotations

import math
from typing import NamedTuple

__all__ = [
    "H0_AFTER_DECANT",
    "H0_ON_TOP",
    "LIVELY",
    "MOTION_HOURS",
    "Curve",
    "h0_of_stored",
    "hours_to_share",
    "rate_per_h",
]

# optimum rate 1/h, then the minimum, optimum and maximum temperature
CARDINAL = {"ale": (0.40, 2.8, 32.3, 45.4), "lager": (0.34, 2.0, 28.5, 35.5)}
MOTION_HOURS = {"stirred": 1.0, "swirled": 1.25, "still": 1.5}  # recommended
H0_AFTER_DECANT = 1.3  # h0 = rate × lag, from lag times in malt wort (Merritt 1966)
LIVELY = 0.7  # from this viability on yeast from store lags no more than fresh
H0_ON_TOP = 0.3  # yeast still at work has hardly any lag
_FULL_SHARE = 0.95


def rate_per_h(temperature_c: float, yeast: str) -> float:
    """Growth rate by the cardinal temperature model (Rosso et al. 1993); 0 outside the minimum and maximum."""
    best, low, top, high = CARDINAL[yeast]
    t = temperature_c
    if not low < t < high:
        return 0.0
    below = (top - low) * ((top - low) * (t - top) - (top - high) * (top + low - 2.0 * t))
    return best * (t - high) * (t - low) ** 2 / below


def is_too_cold(temperature_c: float, yeast: str) -> bool:
    """Whether yeast that hardly grows here does so for cold (else for heat)."""
    return temperature_c < CARDINAL[yeast][2]


def h0_of_stored(viability: float) -> float:
    """Lag term of yeast from store: 1.3 where 70 % or more live, rising to 2.5 at 30 % (recommended)."""
    return H0_AFTER_DECANT if viability >= LIVELY else H0_AFTER_DECANT + 1.2 * min(1.0, (LIVELY - viability) / 0.4)


def hours_to_share(growth: float, h0: float, rate: float, motion: str, share: float = _FULL_SHARE) -> float:
    """Hours until `share` of the growth is done; `growth` is full out/in, above 1, `rate` 1/h above 0."""
    a = (1.0 + share * (growth - 1.0)) / (1.0 - share)
    return MOTION_HOURS[motion] * math.log(1.0 + math.exp(h0) * (a - 1.0)) / rate


class Curve(NamedTuple):
    """Where growth stands after some hours: cells out per cell in, and the share of all growth that is done."""

    out_per_in: float
    share: float


def after_hours(growth: float, h0: float, rate: float, motion: str, hours: float) -> Curve:
    """Growth after `hours`; the inverse of `hours_to_share`. `rate` may be 0: nothing grows."""
    x = min(rate * hours / MOTION_HOURS[motion], 50.0)  # past 50 nothing changes and exp would overflow
    a = 1.0 - math.exp(-h0) + math.exp(x - h0)
    return Curve(a / (1.0 + (a - 1.0) / growth), (a - 1.0) / (a - 1.0 + growth))
