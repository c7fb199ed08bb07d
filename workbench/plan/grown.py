"""What a feeding grows, as figures: cells in and out, and the hours it takes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.brewing import growth, spread
from workbench.brewing.viability import left_after_cold
from workbench.plan import words
from workbench.plan.model import Figure, Reason
from workbench.plan.sources import ASKED, BARANYI, GROWTH_STILL, GROWTH_STIRRED, GROWTH_SWIRLED, RECKONED, STORAGE

if TYPE_CHECKING:
    from workbench.brewing.starter import Fed
    from workbench.plan.made import Made

__all__ = ["cells_in", "cells_out", "hours", "hours_range"]

GROWTH_SOURCE = {"stirred": GROWTH_STIRRED, "swirled": GROWTH_SWIRLED, "still": GROWTH_STILL}


def cells_in(made: Made, fed: Fed | None, before: Fed | None, cold_days: float = 0.0) -> Figure:
    """Live cells when this wort goes in, after `cold_days` in the cold beyond a rest."""
    if fed is None:
        return Figure(None, "B", Reason("what the yeast is at this hour is not known", ASKED))
    before_b = before.out_b if before is not None else None
    if before_b is None:
        says = f"{words.cells(fed.cells_in_b)} alive of all lots at this hour"
    else:
        says = f"{words.cells(before_b)} from the feeding before"
    if cold_days > 0.0:
        says += f", × {left_after_cold(cold_days):.3f} by {cold_days:.1f} days in the cold beyond the rest"
    if made.asked.decant:
        says += f", × {growth.CELLS_LEFT_BY_DECANT:g} by the decant"
    if made.asked.decant or cold_days > 0.0:
        says += f": {words.cells(fed.cells_in_b)}"
    return Figure(fed.cells_in_b, "B", Reason(says, STORAGE if before_b is None else RECKONED))


def cells_out(made: Made, fed: Fed | None, drawn_b: list[float] | None) -> Figure:
    """Cells when it ends, with their range over the draws."""
    source = GROWTH_SOURCE[made.asked.motion]
    if fed is None or fed.out_b is None or fed.growth is None or fed.run_hours is None:
        return Figure(None, "B", Reason("no count can be given here", source))
    low, high = spread.bounds(drawn_b, fed.out_b) if drawn_b else (None, None)
    left_g = fed.extract_g - (made.extract_g or 0.0)
    more = f" + {words.grams(left_g)} left over" if left_g > 0.05 else ""
    says = (
        f"{words.cells(fed.cells_in_b)} on {words.grams(made.extract_g or 0.0)}{more} of extract "
        f"(r = {fed.inoculum:.2f} B/g), {made.asked.motion}: up to × {fed.growth:.2f}; "
        f"{100 * (fed.share or 0):.0f} % of it done in {words.hours(fed.run_hours)} = {words.cells(fed.out_b)}"
    )
    unsure = "the growth of this yeast in this flask; beyond r = 1.07 the fall is extrapolated"
    return Figure(fed.out_b, "B", Reason(says, source, "r of 0.02 to 1.07 B/g, SG 1.020 to 1.060", unsure), low, high)


def hours(made: Made, fed: Fed | None) -> Figure:
    """Hours to 95 % of the growth, with their range."""
    span = hours_range(fed)
    if fed is None or fed.hours is None or fed.growth is None or span is None:
        why = "too cold or too warm to tell" if fed is not None and fed.slow else "hardly anything to grow"
        return Figure(None, "h", Reason(why if fed is not None else "needs the yeast", BARANYI))
    says = (
        f"95 % of the growth × {fed.growth:.2f} at {made.asked.temperature_c:g} °C, {made.asked.motion}, "
        f"lag h0 = {fed.h0:.2f}: {words.hours(fed.hours)}"
    )
    factor = growth.TIME_FACTOR
    unsure = f"× {factor.low:g} to × {factor.high:g}"
    return Figure(fed.hours, "h", Reason(says, BARANYI, "4 to 34 °C", unsure), *span)


def hours_range(fed: Fed | None) -> tuple[float, float] | None:
    """The plausible range of those hours."""
    if fed is None or fed.hours is None:
        return None
    return growth.TIME_FACTOR.low * fed.hours, growth.TIME_FACTOR.high * fed.hours
