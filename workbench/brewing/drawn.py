"""Lots and feedings in many of the 512 draws at once, column by column: what `starter.cells_out` says of each, quicker.

`draws` are places in `spread.draws()`, each once, and all of them in their order; a column has a number for each.
"""

from __future__ import annotations

import math
from functools import lru_cache
from itertools import repeat
from typing import TYPE_CHECKING, NamedTuple

from workbench.brewing import growth, kinetics, spread, starter, viability

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from workbench.brewing.starter import Feeding
    from workbench.brewing.viability import Lot

__all__ = ["ALL", "Stocks", "alive", "cells_out", "together"]

ALL = range(spread.DRAWS)


class Stocks(NamedTuple):
    """Live cells, billions, and the share of all cells that is alive, in each draw."""

    live_b: list[float]
    viability: list[float]


class _Growth(NamedTuple):
    """What every draw makes of growth in one motion: factor on new cells, upside of a dense start.

    `plateau`: new cells per gram of a start that is not dense, where they do not depend on it.
    """

    factor: list[float]
    upside: list[float]
    plateau: list[float] | None


def alive(lot: Lot, days: float, draws: Sequence[int] = ALL) -> Stocks:
    """What lives of a lot after `days` (at least 0) in store."""
    cells_b, loss = (_picked(column, draws) for column in _lot(lot))
    shares = [lot.viability * math.exp(-k * days) for k in loss]
    spent = viability.SPENT_BELOW
    return Stocks([b * share if share >= spent else 0.0 for b, share in zip(cells_b, shares, strict=True)], shares)


def together(each: Sequence[Stocks]) -> Stocks:
    """At least one lot, all in one flask: as `viability.together`, but for the share of a lone lot that is dead."""
    if len(each) == 1:
        return each[0]
    live_b = weighted = [0.0] * len(each[0].live_b)
    for lot in each:
        live_b = [all_b + b for all_b, b in zip(live_b, lot.live_b, strict=True)]
        weighted = [sum_b + b * share for sum_b, b, share in zip(weighted, *lot, strict=True)]
    return Stocks(live_b, [sum_b / b if b > 0.0 else 0.0 for sum_b, b in zip(weighted, live_b, strict=True)])


def cells_out(
    stocks: Stocks, feedings: Sequence[Feeding], hours: Sequence[float], draws: Sequence[int] = ALL
) -> list[list[float]]:
    """Cells, billions, after each feeding; the plan's hours are held."""
    outs: list[list[float]] = []
    cells_b, left_g = stocks.live_b, None
    decants = [feeding.decant for feeding in feedings]
    for index, (feeding, run) in enumerate(zip(feedings, hours, strict=False)):
        if feeding.decant:
            cells_b, left_g = [b * growth.CELLS_LEFT_BY_DECANT for b in cells_b], None
        if feeding.cold_days:
            every, days = spread.draws(), feeding.cold_days
            cells_b = [b * viability.left_after_cold(days, every[i]) for b, i in zip(cells_b, draws, strict=True)]
        extracts_g = repeat(feeding.extract_g) if left_g is None else [feeding.extract_g + left for left in left_g]
        lags = repeat(math.exp(-starter.h0_at(index, feeding, 1.0))) if index else _lags(stocks.viability)
        grown = [k * lag for k, lag in zip(_progress(feeding, run, draws), lags, strict=False)]
        per_g = _per_gram(feeding, cells_b, extracts_g, draws)
        # of b cells that may grow to `full` there are b·(1 + k)·full / (full + k·b): the logistic curve
        columns = zip(cells_b, extracts_g, per_g, grown, strict=False)
        if False in decants[index + 1 : index + 2]:  # what is left feeds on
            shares = [(full := b + g * p) / (full + k * b) for b, g, p, k in columns]
            left_g = [g * share for g, share in zip(extracts_g, shares, strict=False)]
            cells_b = [b * (1.0 + k) * share for b, k, share in zip(cells_b, grown, shares, strict=True)]
        else:
            cells_b = [b * (1.0 + k) * (full := b + g * p) / (full + k * b) for b, g, p, k in columns]
        outs.append(cells_b)
    return outs


def _picked(column: list[float], draws: Sequence[int]) -> list[float]:
    return column if len(draws) == len(column) else [column[i] for i in draws]


@lru_cache(maxsize=8)
def _lot(lot: Lot) -> tuple[list[float], list[float]]:
    """Cells when made and the loss a day."""
    every = [viability.drawn(lot, z) for z in spread.draws()]
    return [cells_b for cells_b, _, _ in every], [loss for _, _, loss in every]


@lru_cache(maxsize=3)
def _growth(motion: str) -> _Growth:
    draws = spread.draws()
    factor = [growth.GROWTH_FACTOR[motion].at(z.growth) for z in draws]
    upside = [growth.dense_upside(motion, z.growth) for z in draws]
    plateau = None
    if motion == "stirred":
        plateau = [growth.new_cells_of(growth.DENSE_R, 1.0, motion, f, 0.0) for f in factor]
    return _Growth(factor, upside, plateau)


@lru_cache(maxsize=1)
def _slowness() -> list[float]:
    return [growth.TIME_FACTOR.at(z.time) for z in spread.draws()]


def _progress(feeding: Feeding, run: float, draws: Sequence[int]) -> list[float]:
    """exp(rate·time) - 1."""
    return _picked(_exponentials(feeding.rate * run / kinetics.MOTION_HOURS[feeding.motion]), draws)


@lru_cache(maxsize=48)  # hours are whole, and the same ones are tried again and again
def _exponentials(likely: float) -> list[float]:
    return [math.expm1(min(likely / slowness, 50.0)) for slowness in _slowness()]


def _lags(shares: Iterable[float]) -> list[float]:
    """exp(-h0) of yeast from store."""
    fresh = math.exp(-kinetics.H0_AFTER_DECANT)
    return [fresh if v >= kinetics.LIVELY else math.exp(-kinetics.h0_of_stored(v)) for v in shares]


def _per_gram(
    feeding: Feeding, cells_b: Sequence[float], extracts_g: Iterable[float], draws: Sequence[int]
) -> list[float]:
    """New cells per gram of extract, B/g: as `growth.new_cells_of`, without its calls."""
    factor, upside, plateau = _growth(feeding.motion)
    if plateau is not None and max(cells_b, default=0.0) <= growth.DENSE_R * feeding.extract_g:
        return _picked(plateau, draws)
    yield_of, dense_r, ceiling = growth.YIELD_B_PER_G[feeding.motion], growth.DENSE_R, growth.CEILING_B_PER_G
    found: list[float] = []
    for b, g, i in zip(cells_b, extracts_g, draws, strict=False):
        r = b / g
        if plateau is not None and r <= dense_r:  # the usual case
            found.append(plateau[i])
            continue
        per_g = yield_of(r) * factor[i] if b > 0.0 else ceiling
        if r > dense_r and upside[i] > per_g:
            per_g = upside[i]
        found.append(per_g if per_g < ceiling else ceiling)  # noqa: FURB136 - a call of min takes its time
    return found
