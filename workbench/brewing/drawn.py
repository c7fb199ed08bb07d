"""Cells after each feeding in many of the 512 draws at once: what `starter.cells_out` says of one, in half the time."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from workbench.brewing import growth, kinetics, spread, starter
from workbench.brewing.viability import left_after_cold

if TYPE_CHECKING:
    from collections.abc import Sequence

    from workbench.brewing.starter import Feeding
    from workbench.brewing.viability import Stock

__all__ = ["cells_out"]


class _Columns(NamedTuple):
    """What every draw makes of growth in one motion: factor on new cells, upside of a dense start, hours' factor.

    `plateau`: new cells per gram of a start that is not dense, where they do not depend on it.
    """

    factor: list[float]
    upside: list[float]
    slowness: list[float]
    plateau: list[float] | None


@lru_cache(maxsize=3)
def _columns(motion: str) -> _Columns:
    draws = spread.draws()
    factor = [growth.GROWTH_FACTOR[motion].at(z.growth) for z in draws]
    upside = [growth.dense_upside(motion, z.growth) for z in draws]
    slowness = [growth.TIME_FACTOR.at(z.time) for z in draws]
    plateau = None
    if motion == "stirred":
        plateau = [growth.new_cells_of(growth.DENSE_R, 1.0, motion, f, 0.0) for f in factor]
    return _Columns(factor, upside, slowness, plateau)


def cells_out(
    stocks: Sequence[Stock], feedings: Sequence[Feeding], hours: Sequence[float], draws: Sequence[int]
) -> list[list[float]]:
    """Cells, billions, after each feeding, a list of all draws for each; the plan's hours are held.

    `draws` are places in `spread.draws()`, `stocks` the lots together in each of them.
    """
    cells_b, left_g = [stock.live_b for stock in stocks], [0.0] * len(stocks)
    lags = [math.exp(-starter.h0_at(0, feedings[0], stock.viability)) for stock in stocks] if feedings else []
    outs: list[list[float]] = []
    for index, (feeding, run) in enumerate(zip(feedings, hours, strict=False)):
        if index:
            lags = [math.exp(-starter.h0_at(index, feeding, 1.0))] * len(stocks)
        if feeding.decant:
            cells_b, left_g = [b * growth.CELLS_LEFT_BY_DECANT for b in cells_b], [0.0] * len(stocks)
        if feeding.cold_days:
            deviates = spread.draws()
            cells_b = [b * left_after_cold(feeding.cold_days, deviates[i]) for b, i in zip(cells_b, draws, strict=True)]
        cells_b, left_g = _fed(cells_b, left_g, lags, feeding, run, draws)
        outs.append(cells_b)
    return outs


def _fed(
    cells_b: list[float], left_g: list[float], lags: list[float], feeding: Feeding, run: float, draws: Sequence[int]
) -> tuple[list[float], list[float]]:
    """Cells and what is left of the extract after one feeding; `lags` are exp(-h0)."""
    factors, upsides, slowness, plateau = _columns(feeding.motion)
    x_likely = feeding.rate * run / kinetics.MOTION_HOURS[feeding.motion]
    yield_of, dense_r, ceiling = growth.YIELD_B_PER_G[feeding.motion], growth.DENSE_R, growth.CEILING_B_PER_G
    after_b, after_g = [], []
    for b, g, lag, i in zip(cells_b, left_g, lags, draws, strict=True):
        if b <= 0.0:
            after_b.append(b)
            after_g.append(0.0)
            continue
        extract_g = feeding.extract_g + g
        if plateau is not None and b <= dense_r * extract_g:  # the usual case, without a call
            full = 1.0 + extract_g * plateau[i] / b
        else:  # `growth.new_cells_of`, without its calls
            r = b / extract_g
            per_g = yield_of(r) * factors[i]
            if r > dense_r and upsides[i] > per_g:
                per_g = upsides[i]
            full = 1.0 + (per_g if per_g < ceiling else ceiling) / r  # noqa: FURB136 - a call of min takes its time
        x = x_likely / slowness[i]
        grown = math.expm1(x if x < 50.0 else 50.0) * lag  # noqa: FURB136 - a call of min takes its time
        after_b.append(b * (1.0 + grown) / (1.0 + grown / full))
        after_g.append(extract_g * full / (grown + full))
    return after_b, after_g
