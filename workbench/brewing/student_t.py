"""Quantiles of Student's t distribution, without scipy at run time."""

from __future__ import annotations

import math
from functools import lru_cache

__all__ = ["quantile"]

_PRECISE = 1e-15


@lru_cache(maxsize=256)
def quantile(p: float, freedom: int) -> float:
    """What a t variate of so many degrees of `freedom` stays below with probability `p`; no units.

    Valid for p of 0.001 to 0.999 and 1 to 1,000 degrees, to 1e-9 of scipy's. ValueError outside 0 < p < 1 and for less
    than one degree.
    """
    if not 0.0 < p < 1.0 or freedom < 1:
        raise ValueError(f"no quantile of Student's t at {p:g} for {freedom} degrees of freedom")
    if p < 0.5:
        return -quantile(1.0 - p, freedom)
    # Over the angle the share within ±t rises ever more slowly, so that Newton's steps from 0 run towards the root and
    # never past it: there is no bracket to keep.
    angle, height = (
        0.0,
        2.0 / math.sqrt(math.pi) * math.exp(math.lgamma(0.5 * freedom + 0.5) - math.lgamma(0.5 * freedom)),
    )
    for _ in range(100):
        step = (2.0 * p - 1.0 - _within(angle, freedom)) / (height * math.cos(angle) ** (freedom - 1))
        angle += step
        if step < _PRECISE:
            break
    return math.sqrt(freedom) * math.tan(angle)


def _within(angle: float, freedom: int) -> float:
    """The share of the distribution within ±t, t = √freedom·tan(angle): a finite sum for whole degrees of freedom.

    (Abramowitz & Stegun, 26.7.3 and 26.7.4, from memory.)
    """
    odd = freedom % 2
    cosine = math.cos(angle)
    total, term = 0.0, cosine if odd else 1.0
    for power in range(odd, freedom - 1, 2):
        total += term
        term *= cosine * cosine * (power + 1) / (power + 2)
    total *= math.sin(angle)
    return 2.0 / math.pi * (angle + total) if odd else total
