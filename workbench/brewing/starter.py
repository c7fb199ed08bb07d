"""A starter: feedings one after another in the same flask, each growing what the one before left.

Cells are in billions, extract in grams, hours in hours. A feeding on top takes over the extract that the one before has
not used yet; a decant pours spent wort off and takes 5 % of the cells along.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from workbench.brewing import growth, kinetics
from workbench.brewing.spread import LIKELY, Deviates
from workbench.brewing.viability import left_after_cold

if TYPE_CHECKING:
    from collections.abc import Sequence

    from workbench.brewing.viability import Stock

__all__ = ["Fed", "Feeding", "cells_out", "feed", "feed_all", "h0_at"]

HARDLY_GROWS = 1.02  # at or below this out per in no time to finish can be told
DEFAULT_HOURS = 12.0  # how long such a feeding is left, unless the brewer says
LONGEST_HOURS = 336.0


class Feeding(NamedTuple):
    """Fresh wort for the yeast: its extract, how the flask is moved, the growth rate at its temperature (1/h).

    `decant`: spent wort is poured off first. `hours`: as long as the brewer says; None: as long as growth takes.
    `cold_days`: so long the culture stood cold before it, beyond a rest; it then loses cells.
    """

    extract_g: float
    decant: bool
    motion: str
    rate: float
    hours: float | None = None
    cold_days: float = 0.0


class Fed(NamedTuple):
    """One feeding reckoned.

    `hours` is the time to 95 % of the growth, None where it cannot be told (`slow`: for cold or heat; else because
    hardly anything grows); `run_hours` is how long it is left; `out_b` what is there then.
    """

    cells_in_b: float
    extract_g: float
    inoculum: float
    growth: float | None
    h0: float
    hours: float | None
    slow: bool
    run_hours: float | None
    share: float | None
    out_b: float | None

    @property
    def free_hours(self) -> float | None:
        """How long it is left where the brewer has not said; None where that cannot be told."""
        return None if self.growth is None else _free_hours(self.hours, slow=self.slow)


def feed_all(stock: Stock, feedings: Sequence[Feeding], planned: Sequence[float | None] | None = None) -> list[Fed]:
    """The likely course of all feedings; it stops after the first whose outcome cannot be told.

    `planned`: hours that each is left; None: the brewer's, else the unrounded hours that growth takes.
    """
    done: list[Fed] = []
    cells_b, left_g = stock.live_b, 0.0
    for index, feeding in enumerate(feedings):
        if feeding.decant:
            cells_b, left_g = cells_b * growth.CELLS_LEFT_BY_DECANT, 0.0
        if feeding.cold_days:
            cells_b *= left_after_cold(feeding.cold_days)
        hours = planned[index] if planned is not None else feeding.hours
        fed = feed(cells_b, feeding.extract_g + left_g, feeding, h0_at(index, feeding, stock.viability), hours)
        done.append(fed)
        if fed.out_b is None or fed.share is None:
            break
        cells_b, left_g = fed.out_b, fed.extract_g * (1.0 - fed.share)
    return done


def h0_at(index: int, feeding: Feeding, viability: float) -> float:
    """The lag term of feeding `index` from 0; `viability` is that of the lots."""
    if index == 0:
        return kinetics.h0_of_stored(viability)
    return kinetics.H0_AFTER_DECANT if feeding.decant else kinetics.H0_ON_TOP


def feed(cells_b: float, extract_g: float, feeding: Feeding, h0: float, hours: float | None) -> Fed:
    """One feeding: `cells_b` that are in by then on `extract_g`, what was left over counted; `hours` as for all."""
    r = cells_b / extract_g
    if cells_b <= 0.0:
        return Fed(cells_b, extract_g, r, None, h0, None, slow=False, run_hours=hours, share=None, out_b=None)
    factor = 1.0 + growth.new_cells_b(cells_b, extract_g, feeding.motion) / cells_b
    full_hours, slow = _full_hours(factor, h0, feeding)
    run = hours if hours is not None else _free_hours(full_hours, slow=slow)
    if run is None or r < growth.MIN_R:  # no time, or too thin a start, to say what comes of it
        return Fed(cells_b, extract_g, r, factor, h0, full_hours, slow, run, None, None)
    curve = kinetics.after_hours(factor, h0, feeding.rate, feeding.motion, run)
    return Fed(cells_b, extract_g, r, factor, h0, full_hours, slow, run, curve.share, cells_b * curve.out_per_in)


def _free_hours(full_hours: float | None, *, slow: bool) -> float | None:
    return DEFAULT_HOURS if full_hours is None and not slow else full_hours


def _full_hours(factor: float, h0: float, feeding: Feeding) -> tuple[float | None, bool]:
    """Hours to 95 % of the growth, or None, and whether it is the temperature that forbids them."""
    if factor <= HARDLY_GROWS:
        return None, False
    if feeding.rate <= 0.0:
        return None, True
    hours = kinetics.hours_to_share(factor, h0, feeding.rate, feeding.motion)
    return (None, True) if hours > LONGEST_HOURS else (hours, False)


def cells_out(stock: Stock, feedings: Sequence[Feeding], hours: Sequence[float], z: Deviates = LIKELY) -> list[float]:
    """Cells after each feeding at one draw of the uncertain inputs, with the plan's hours held."""
    outs: list[float] = []
    cells_b, left_g = stock.live_b, 0.0
    slowness = growth.TIME_FACTOR.at(z.time)
    for index, (feeding, run) in enumerate(zip(feedings, hours, strict=False)):
        if feeding.decant:
            cells_b, left_g = cells_b * growth.CELLS_LEFT_BY_DECANT, 0.0
        if feeding.cold_days:
            cells_b *= left_after_cold(feeding.cold_days, z)
        if cells_b > 0.0:
            left_g += feeding.extract_g
            factor = 1.0 + growth.new_cells_b(cells_b, left_g, feeding.motion, z.growth) / cells_b
            h0 = h0_at(index, feeding, stock.viability)
            curve = kinetics.after_hours(factor, h0, feeding.rate / slowness, feeding.motion, run)
            cells_b, left_g = cells_b * curve.out_per_in, left_g * (1.0 - curve.share)
        else:
            left_g = 0.0
        outs.append(cells_b)
    return outs
