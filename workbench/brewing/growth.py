"""How many new cells a feeding grows, by how the flask is moved.

New cells per gram of extract, y, fall with the inoculum r = live cells in (billions) / extract (g):

* stirred: 1.4 up to r = 1.073, then straight down to 0 at 3.06 (recommended; the plateau from memory of home trials)
* still: linear in ln r through the knots of the published table (White & Zainasheff 2010, read as quoted elsewhere)
* swirled: the geometric mean of the two (recommended; no published figures found)

Valid for r of 0.02 to 1.073; beyond that the fall is extrapolated. Wort of SG 1.020 to 1.060.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from itertools import pairwise

from workbench.brewing.spread import Range

__all__ = [
    "CEILING_B_PER_G",
    "CELLS_LEFT_BY_DECANT",
    "DENSE_R",
    "GROWTH_FACTOR",
    "MIN_R",
    "TIME_FACTOR",
    "dense_upside",
    "new_cells_b",
    "new_cells_of",
    "yield_b_per_g",
]

STIRRED_PLATEAU_B_PER_G = 1.4
DENSE_R = 1.073  # where the still table's yield begins to fall
EMPTY_R = 3.06  # where a straight line through its last two rows reaches zero
STILL_KNOTS = ((0.0536, 0.268), (0.268, 0.472), (0.536, 0.563), (1.073, 0.558), (2.145, 0.257), (3.06, 0.0))
STILL_OUT_PER_IN = 6.0  # without air about 2.6 doublings
CEILING_B_PER_G = 4.3  # no wort in a flask yields more cells per gram of sugar
CELLS_LEFT_BY_DECANT = 0.95  # recommended, 5 to 10 % go with the spent wort
MIN_R = 0.002  # below this no count is given

GROWTH_FACTOR = {
    "stirred": Range(0.65, 1.0, 1.45),
    "swirled": Range(0.6, 1.0, 1.6),
    "still": Range(0.7, 1.0, 1.5),
}
TIME_FACTOR = Range(0.7, 1.0, 1.6)
# Where the fall is extrapolated, the optimistic end of the range: up to this many new cells per gram.
_DENSE_UPSIDE_B_PER_G = {"stirred": 1.0, "swirled": 0.85, "still": 0.7}


def _stirred_yield(r: float) -> float:
    if r <= DENSE_R:
        return STIRRED_PLATEAU_B_PER_G
    return max(0.0, STIRRED_PLATEAU_B_PER_G * (EMPTY_R - r) / (EMPTY_R - DENSE_R))


# between two knots y = a + b·ln r; beyond the last nothing
_KNOT_R = [r for r, _ in STILL_KNOTS]
_FIRST_R = _KNOT_R[0]
_SLOPES = [(y1 - y0) / math.log(r1 / r0) for (r0, y0), (r1, y1) in pairwise(STILL_KNOTS)]
_LINES = [(y - slope * math.log(r), slope) for (r, y), slope in zip(STILL_KNOTS, _SLOPES, strict=False)]


def _swirled_yield(r: float) -> float:
    return math.sqrt(_scarce_yield(r) * (STIRRED_PLATEAU_B_PER_G if r <= DENSE_R else _stirred_yield(r)))


def _scarce_yield(r: float) -> float:
    """Without air: what the table says; below its first row so few cells cannot double so often as to reach that."""
    if r <= _FIRST_R:
        return (STILL_OUT_PER_IN - 1.0) * r
    if r >= EMPTY_R:
        return 0.0
    at_1, slope = _LINES[bisect_left(_KNOT_R, r) - 1]
    return at_1 + slope * math.log(r)


YIELD_B_PER_G = {"stirred": _stirred_yield, "swirled": _swirled_yield, "still": _scarce_yield}
"""By motion: likely new cells, billions per gram of extract, at inoculum r (B/g, above 0)."""


def yield_b_per_g(r: float, motion: str) -> float:
    """Likely new cells, billions per gram of extract, at inoculum r (B/g, above 0)."""
    return YIELD_B_PER_G[motion](r)


def dense_upside(motion: str, z: float) -> float:
    """New cells per gram that a dense start may grow all the same, B/g, at deviate z of the growth multiplier."""
    return _DENSE_UPSIDE_B_PER_G[motion] * min(1.0, max(0.0, z) / 1.645)


def new_cells_b(cells_in_b: float, extract_g: float, motion: str, z: float = 0.0) -> float:
    """New cells, billions, that `extract_g` grams grow from `cells_in_b`, at deviate z of the growth multiplier."""
    if not z:
        return extract_g * YIELD_B_PER_G[motion](cells_in_b / extract_g)
    return new_cells_of(cells_in_b, extract_g, motion, GROWTH_FACTOR[motion].at(z), dense_upside(motion, z))


def new_cells_of(cells_in_b: float, extract_g: float, motion: str, factor: float, upside: float) -> float:
    """The same at a multiplier, and with an upside in B/g that holds for a dense start."""
    r = cells_in_b / extract_g
    per_g = YIELD_B_PER_G[motion](r) * factor
    if r > DENSE_R and upside > per_g:
        per_g = upside
    return extract_g * (per_g if per_g < CEILING_B_PER_G else CEILING_B_PER_G)  # noqa: FURB136
