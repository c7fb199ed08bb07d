"""Ranges: an input as low, likely, high; 512 fixed draws of four normal deviates; the range of what comes out.

An input is likely·exp(σz) with σ = ln(high/likely)/1.645 above and ln(likely/low)/1.645 below, so that `low` and `high`
are its 5 % and 95 % points. The draws are a rank-1 lattice (generator 227, 512 points), the same at every run: a figure
does not flicker while a brewer edits. The choice of points is this program's own (recommended).
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import NamedTuple

__all__ = ["DRAWS", "LIKELY", "Z90", "Deviates", "Range", "bounds", "draws"]

DRAWS = 512
_GENERATOR = 227
Z90 = 1.645  # the normal deviate at the ends of a range
_TAIL = 26  # the 26th smallest and largest of 512 leave about 5 % outside on either side


class Range(NamedTuple):
    """An input above 0 with its plausible range; 0 is 0 without a range."""

    low: float
    likely: float
    high: float

    def at(self, z: float) -> float:
        """The input at normal deviate z; z = 0 is the likely value."""
        if self.likely <= 0.0:
            return 0.0
        if z > 0.0:
            return self.likely * math.exp(math.log(self.high / self.likely) / Z90 * z)
        if z < 0.0:
            return self.likely * math.exp(math.log(self.likely / self.low) / Z90 * z)
        return self.likely


class Deviates(NamedTuple):
    """One draw: standard normal deviates, each common to all lots and feedings."""

    cells: float = 0.0
    loss: float = 0.0
    growth: float = 0.0
    time: float = 0.0


LIKELY = Deviates()


@lru_cache(maxsize=1)
def draws() -> tuple[Deviates, ...]:
    """The 512 draws: z_j(i) = Φ⁻¹(((i·227^j mod 512) + 0.5) / 512)."""
    from statistics import NormalDist

    quantile = [NormalDist().inv_cdf((k + 0.5) / DRAWS) for k in range(DRAWS)]
    return tuple(Deviates(*(quantile[i * _GENERATOR**j % DRAWS] for j in range(4))) for i in range(DRAWS))


def bounds(values: list[float], likely: float) -> tuple[float, float]:
    """Low and high of 512 outcomes: the 26th from either end, widened to hold the likely one."""
    ordered = sorted(values)
    return min(ordered[_TAIL - 1], likely), max(ordered[-_TAIL], likely)
