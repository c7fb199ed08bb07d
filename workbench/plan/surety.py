"""How sure a proposal is: the 512 draws asked once, and the answers used for proposals like it."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from workbench.brewing import spread, starter, viability

if TYPE_CHECKING:
    from workbench.brewing.viability import Stock
    from workbench.plan.kitchen import Kitchen
    from workbench.plan.proposal import Proposal

__all__ = ["Surety"]

_LEAST = 0.02  # no plan makes up for a lot that may be dead


class Surety:
    """For the chance that a kitchen asks for: the cells in the draw that must still reach the aim, to the likely ones.

    A proposal meets its aim with that chance where this times its likely cells reaches the aim.
    """

    def __init__(self, room: Kitchen) -> None:
        self._room = room
        self._at = spread.DRAWS - math.ceil(room.session.batch.chance * spread.DRAWS - 1e-9)
        self._known: dict[Proposal, float] = {}
        self._stocks: dict[float, list[Stock]] = {}  # of every draw, by lead

    def of(self, proposal: Proposal) -> float:
        """For this very proposal."""
        if proposal not in self._known:
            feedings = [choice.feeding for choice in proposal.choices]
            outs = [
                starter.cells_out(stock, feedings, proposal.planned_h, z)[-1]
                for z, stock in zip(spread.draws(), self._drawn(proposal.lead_h), strict=True)
            ]
            self._known[proposal] = max(_LEAST, sorted(outs)[self._at] / proposal.out_b)
        return self._known[proposal]

    def guess(self, proposal: Proposal) -> float | None:
        """As the known proposal that is most like this one has it; None where there is none."""
        decants = [choice.decant for choice in proposal.choices]
        first_l = proposal.choices[0].portion.wort_l

        def distance(other: Proposal) -> float:
            return abs(other.ratio / proposal.ratio - 1.0) + abs(math.log(other.choices[0].portion.wort_l / first_l))

        alike = [other for other in self._known if [choice.decant for choice in other.choices] == decants]
        return self._known[min(alike, key=distance)] if alike else None

    def _drawn(self, lead_h: float) -> list[Stock]:
        """The lots together in every draw, so many hours before the reference hour."""
        lead_h = 0.0 if self._room.begun else lead_h
        if lead_h not in self._stocks:
            ages = [(lot, max(0.0, days - lead_h / 24.0)) for lot, days in self._room.stored]
            self._stocks[lead_h] = [
                viability.together([viability.alive(lot, age, z) for lot, age in ages]) for z in spread.draws()
            ]
        return self._stocks[lead_h]
