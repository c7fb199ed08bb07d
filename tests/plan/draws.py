"""A plan's lots and feedings at any draws of the uncertain inputs, to hold its ranges and shares against."""

from __future__ import annotations

import numpy as np

from workbench.brewing import kinetics
from workbench.brewing.spread import Deviates
from workbench.brewing.starter import Feeding, cells_out
from workbench.brewing.viability import alive, together
from workbench.plan import lots


def at_draws(plan, rows):
    """Cells on hand and after the last feeding, a row for each row of four deviates; the plan's hours are held."""
    kind = plan.session.beer.type
    fed = [
        Feeding(s.extract_g.value, s.decant, s.motion, kinetics.rate_per_h(s.temperature_c.value, kind))
        for s in plan.steps
    ]
    hours = [s.hours_planned for s in plan.steps]
    known = [
        (lots.stored(lot), told.age_days.value) for lot, told in zip(plan.session.yeast, plan.hand.lots, strict=True)
    ]
    found = []
    for row in rows.tolist():
        z = Deviates(*row)
        stock = together([alive(lot, days, z) for lot, days in known])
        found.append((stock.live_b, cells_out(stock, fed, hours, z)[-1]))
    return np.array(found)
