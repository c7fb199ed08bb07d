"""How many cells of a lot are alive after some days in store.

First-order loss, k at 4 °C per day by kind of lot, three times as fast for every 10 K warmer:
live = cells · viability · exp(-k · 3^((T - 4)/10) · days). The constants are recommended values between a brewery's
slurry data (McCaig & Bendiak 1985) and home counts, which differ several-fold; hence the wide ranges.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from workbench.brewing.spread import LIKELY, Deviates, Range

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = [
    "CELLS_PER_GRAM_DRY",
    "LOSS_PER_DAY",
    "SPENT_BELOW",
    "Lot",
    "Stock",
    "alive",
    "drawn",
    "left",
    "left_after_cold",
    "together",
]

Q10 = 3.0
SPENT_BELOW = 0.01  # a lot of which less than one cell in a hundred lives counts as none
CELLS_PER_GRAM_DRY = Range(5.0, 10.0, 20.0)  # billions; common practice, no source

LOSS_PER_DAY = {
    "pack": Range(0.002, 0.0075, 0.012),
    "kept": Range(0.002, 0.0075, 0.012),
    "counted": Range(0.002, 0.0075, 0.012),
    "slurry": Range(0.002, 0.018, 0.03),
    "dry": Range(0.00003, 0.0001, 0.0003),
}


class Lot(NamedTuple):
    """One lot as it was on the day it was made: billions of cells (dead and alive), the share alive, how it is kept."""

    cells_b: Range
    viability: float
    loss_per_day: Range
    stored_at_c: float


class Stock(NamedTuple):
    """Live cells, billions, and the share of all cells that is alive."""

    live_b: float
    viability: float


def alive(lot: Lot, days: float, z: Deviates = LIKELY) -> Stock:
    """What lives of a lot after `days` (at least 0) in store, at one draw of the uncertain inputs."""
    return left(*drawn(lot, z), days)


def drawn(lot: Lot, z: Deviates) -> tuple[float, float, float]:
    """What the draw makes of a lot: cells when made, the share alive then, and the loss a day where it is kept."""
    loss = lot.loss_per_day.at(z.loss) * Q10 ** ((lot.stored_at_c - 4.0) / 10.0)
    return lot.cells_b.at(z.cells), lot.viability, loss


def left(cells_b: float, share: float, loss_per_day: float, days: float) -> Stock:
    """What lives after `days` of so many cells, of which that share lived."""
    viability = share * math.exp(-loss_per_day * days)
    return Stock(cells_b * viability if viability >= SPENT_BELOW else 0.0, viability)


def left_after_cold(days: float, z: Deviates = LIKELY) -> float:
    """The share of a grown culture that lives after so many days (at least 0) at 4 °C: it keeps as a kept lot does."""
    return math.exp(-LOSS_PER_DAY["kept"].at(z.loss) * days) if days else 1.0


def together(stocks: Sequence[Stock]) -> Stock:
    """Several lots in one flask: cells add up, viability is weighted by live cells (0 where none lives)."""
    if len(stocks) == 1 and stocks[0].live_b > 0.0:
        return stocks[0]
    live_b = sum(stock.live_b for stock in stocks)
    weighted = sum(stock.live_b * stock.viability for stock in stocks)
    return Stock(live_b, weighted / live_b if live_b > 0.0 else 0.0)
