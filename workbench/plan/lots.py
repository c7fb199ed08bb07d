"""The session's lots as the science takes them: cells when made, with their range, and days in store."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import TYPE_CHECKING

from workbench.brewing.spread import Range
from workbench.brewing.viability import CELLS_PER_GRAM_DRY, LOSS_PER_DAY, Lot

if TYPE_CHECKING:
    from workbench.session.model import Lot as SessionLot

__all__ = ["DEFAULT_PACK_B", "days_in_store", "made_at", "stored"]

DEFAULT_PACK_B = 100.0
# plausible factors on the cells when made (recommended)
_PACK, _PACK_UNSTATED, _SLURRY, _KEPT, _COUNTED = (0.9, 1.1), (0.7, 2.0), (0.6, 1.5), (0.7, 1.4), (0.8, 1.25)


def stored(lot: SessionLot) -> Lot | None:
    """The lot when it was made, or None where its kind, day or cells are not known."""
    cells_b = _cells_b(lot)
    if lot.kind is None or lot.made_on is None or cells_b is None:
        return None
    return Lot(cells_b, lot.viability, LOSS_PER_DAY[lot.kind], lot.stored_at_c)


def _cells_b(lot: SessionLot) -> Range | None:
    match lot.kind:
        case "pack":
            each_b, factors = (lot.cells_b, _PACK) if lot.cells_b is not None else (DEFAULT_PACK_B, _PACK_UNSTATED)
            return _around(each_b * lot.packs, factors)
        case "dry":
            grams = None if lot.mass_g is None else lot.mass_g * lot.packs
            if grams is None:
                return None
            per_g = CELLS_PER_GRAM_DRY
            return Range(per_g.low * grams, per_g.likely * grams, per_g.high * grams)
        case "slurry":
            volume_ml = None if lot.volume_l is None else 1000.0 * lot.volume_l
            return None if volume_ml is None else _around(volume_ml * lot.density_b_per_ml, _SLURRY)
        case "kept" | "counted":
            return _stated(lot, _KEPT if lot.kind == "kept" else _COUNTED)
    return None


def _around(likely_b: float, factors: tuple[float, float]) -> Range:
    return Range(likely_b * factors[0], likely_b, likely_b * factors[1])


def _stated(lot: SessionLot, factors: tuple[float, float]) -> Range | None:
    """Cells as written, with the range written beside them or the usual one."""
    if lot.cells_b is None:
        return None
    usual = _around(lot.cells_b, factors)
    low_b = lot.cells_low_b or usual.low
    high_b = lot.cells_high_b or usual.high
    return Range(min(low_b, lot.cells_b), lot.cells_b, max(high_b, lot.cells_b))


def made_at(lot: SessionLot) -> datetime | None:
    """The day a lot was made, at 00:00 UTC."""
    if lot.made_on is None:
        return None
    return datetime(lot.made_on.year, lot.made_on.month, lot.made_on.day, tzinfo=UTC)


def days_in_store(lot: SessionLot, at: datetime) -> float:
    """Days from the day it was made to `at`; negative where that day is still to come."""
    made = made_at(lot)
    return 0.0 if made is None else (at - made).total_seconds() / 86400.0
