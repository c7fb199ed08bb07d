"""The session's lots as the science takes them: cells when made, with their range, and days in store."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import TYPE_CHECKING

from workbench.brewing import counts
from workbench.brewing.spread import Range
from workbench.brewing.viability import CELLS_PER_GRAM_DRY, LOSS_PER_DAY, Lot

if TYPE_CHECKING:
    from workbench.session.model import Lot as SessionLot

__all__ = [
    "DEFAULT_PACK_B",
    "cells_when_made",
    "counted_per_ml",
    "days_in_store",
    "live_by_stain",
    "made_at",
    "stored",
    "viability",
]

DEFAULT_PACK_B = 100.0
# plausible factors on the cells when made (recommended)
_PACK, _PACK_UNSTATED, _SLURRY, _KEPT, _COUNTED = (0.9, 1.1), (0.7, 2.0), (0.6, 1.5), (0.7, 1.4), (0.8, 1.25)


def stored(lot: SessionLot) -> Lot | None:
    """The lot when it was made, or None where its kind, day or cells are not known."""
    cells_b = cells_when_made(lot)
    if lot.kind is None or lot.made_on is None or cells_b is None:
        return None
    return Lot(cells_b, viability(lot), LOSS_PER_DAY[lot.kind], lot.stored_at_c)


def viability(lot: SessionLot) -> float:
    """The live share when it was made: as typed, else by the stain, else all of them."""
    if lot.viability is not None:
        return lot.viability
    live = live_by_stain(lot)
    return 1.0 if live is None else live / sum(lot.squares)


def live_by_stain(lot: SessionLot) -> int | None:
    """How many of the cells found under the microscope took no stain; None where they were not counted."""
    if lot.kind != "counted" or lot.stained is None or not any(lot.squares):
        return None
    return sum(lot.squares) - lot.stained


def counted_per_ml(lot: SessionLot) -> Range | None:
    """Billions of cells per mL, dead and alive, by the raw count of a counted lot, with the count's own limits."""
    if lot.kind != "counted" or not lot.squares:
        return None
    each_b = counts.cells_per_ml(1.0, len(lot.squares), lot.square_ul, lot.dilution) / 1e9
    return _scaled(counts.counted(lot.squares), each_b)


def cells_when_made(lot: SessionLot) -> Range | None:
    """Billions of cells in all, dead and alive; None where they are not known."""
    match lot.kind:
        case "pack":
            each_b, factors = (lot.cells_b, _PACK) if lot.cells_b is not None else (DEFAULT_PACK_B, _PACK_UNSTATED)
            return _around(each_b * lot.packs, factors)
        case "dry":
            return None if lot.mass_g is None else _scaled(CELLS_PER_GRAM_DRY, lot.mass_g * lot.packs)
        case "slurry":
            volume_ml = None if lot.volume_l is None else 1000.0 * lot.volume_l
            return None if volume_ml is None else _around(volume_ml * lot.density_b_per_ml, _SLURRY)
        case "kept":
            return None if lot.cells_b is None else _limited(lot, _around(lot.cells_b, _KEPT))
        case "counted":
            return _counted(lot) if lot.cells_b is None else _limited(lot, _around(lot.cells_b, _COUNTED))
    return None


def _scaled(each: Range, by: float) -> Range:
    return Range(each.low * by, each.likely * by, each.high * by)


def _around(likely_b: float, factors: tuple[float, float]) -> Range:
    return Range(likely_b * factors[0], likely_b, likely_b * factors[1])


def _counted(lot: SessionLot) -> Range | None:
    """Cells in all of the jar that was sampled."""
    per_ml = counted_per_ml(lot)
    if per_ml is None or lot.volume_l is None:
        return None
    return _limited(lot, _scaled(per_ml, 1000.0 * lot.volume_l))


def _limited(lot: SessionLot, usual: Range) -> Range:
    """With the limits that are written for the lot, else the usual ones."""
    low_b = lot.cells_low_b or usual.low
    high_b = lot.cells_high_b or usual.high
    return Range(min(low_b, usual.likely), usual.likely, max(high_b, usual.likely))


def made_at(lot: SessionLot) -> datetime | None:
    """The day a lot was made, at 00:00 UTC."""
    if lot.made_on is None:
        return None
    return datetime(lot.made_on.year, lot.made_on.month, lot.made_on.day, tzinfo=UTC)


def days_in_store(lot: SessionLot, at: datetime) -> float:
    """Days from the day it was made to `at`; negative where that day is still to come."""
    made = made_at(lot)
    return 0.0 if made is None else (at - made).total_seconds() / 86400.0
