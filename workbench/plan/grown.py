"""What a feeding grows, as figures: cells in and out, and the hours it takes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.brewing import growth, kinetics
from workbench.brewing.viability import left_after_cold
from workbench.plan import shares, words
from workbench.plan.model import Figure, Reason
from workbench.plan.sources import BARANYI, GROWTH_STILL, GROWTH_STIRRED, GROWTH_SWIRLED, MISSING, RECKONED, STORAGE

if TYPE_CHECKING:
    from workbench.brewing.starter import Fed
    from workbench.plan.culture import Outcomes
    from workbench.plan.made import Made
    from workbench.session.model import BeerType

__all__ = ["HOLDS", "cells_in", "cells_out", "hours", "hours_range"]

GROWTH_SOURCE = {"stirred": GROWTH_STIRRED, "swirled": GROWTH_SWIRLED, "still": GROWTH_STILL}
HOLDS = "r of 0.02 to 1.07 B/g, SG 1.020 to 1.060"
"""Where the counts of a feeding hold."""


def cells_in(made: Made, fed: Fed | None, before: Fed | None, cold_days: float = 0.0) -> Figure:
    """Live cells when this wort goes in, after `cold_days` in the cold beyond a rest."""
    if fed is None:
        return Figure(None, "B", Reason("what the yeast is at this hour is not known", MISSING))
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
    source, valid = (STORAGE, "some weeks at 1 to 25 °C") if before_b is None else (RECKONED, HOLDS)
    return Figure(fed.cells_in_b, "B", Reason(says, source, valid))


def cells_out(made: Made, fed: Fed | None, drawn: Outcomes, index: int) -> Figure:
    """Cells when it ends, with their range over the draws; `index` is the feeding's, from 0."""
    source = GROWTH_SOURCE[made.asked.motion]
    if fed is None or fed.out_b is None or fed.growth is None or fed.run_hours is None:
        return Figure(None, "B", Reason("no count can be given here", source))
    left_g = fed.extract_g - (made.extract_g or 0.0)
    more = f" + {words.grams(left_g)} left over" if left_g > 0.05 else ""
    new_b_per_g = (fed.growth - 1.0) * fed.inoculum
    says = (
        f"r = {words.cells(fed.cells_in_b)} / ({words.grams(made.extract_g or 0.0)}{more} of extract) = "
        f"{fed.inoculum:.2f} B/g; {made.asked.motion}, that grows {new_b_per_g:.2f} B/g, up to × {fed.growth:.2f}; "
        f"× {fed.out_b / fed.cells_in_b:.2f} after {words.hours(fed.run_hours)} = {words.cells(fed.out_b)}"
    )
    why = Reason(
        says, source, HOLDS, "beyond r = 1.07 the fall is extrapolated" if fed.inoculum > growth.DENSE_R else ""
    )
    columns = (outcomes.out_b for outcomes in (drawn, drawn.swung))
    return shares.estimate(fed.out_b, "B", why, *(column[index] if index < len(column) else [] for column in columns))


def hours(made: Made, fed: Fed | None, kind: BeerType) -> Figure:
    """Hours to 95 % of the growth, with their range, for yeast of this kind."""
    span = hours_range(fed)
    if fed is None or fed.hours is None or fed.growth is None or span is None:
        why = "too cold or too warm to tell" if fed is not None and fed.slow else "hardly anything to grow"
        return Figure(None, "h", Reason(why if fed is not None else "needs the yeast", BARANYI))
    asked = made.asked
    rate, slower = kinetics.rate_per_h(asked.temperature_c, kind), kinetics.MOTION_HOURS[asked.motion]
    a = (1.0 + 0.95 * (fed.growth - 1.0)) / 0.05
    warm = f"{rate:.3f} per h ({asked.temperature_c:g} °C)"
    says = (
        f"95 % of the growth to × {fed.growth:.2f}: A = (1 + 0.95 × {fed.growth - 1.0:.2f}) / 0.05 = {a:.1f}; "
        f"{slower:g} ({asked.motion}) × ln(1 + e^{fed.h0:.2f} × (A - 1)) / {warm} = "
        f"{words.hours(fed.hours)}"
    )
    factor = growth.TIME_FACTOR
    unsure = f"the time, × {factor.low:g} to × {factor.high:g}"
    return Figure(fed.hours, "h", Reason(says, BARANYI, "4 to 34 °C", unsure), *span)


def hours_range(fed: Fed | None) -> tuple[float, float] | None:
    """The plausible range of those hours."""
    if fed is None or fed.hours is None:
        return None
    return growth.TIME_FACTOR.low * fed.hours, growth.TIME_FACTOR.high * fed.hours
