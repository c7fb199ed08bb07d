"""How sure a proposal is: the 512 draws asked once, and the answers used for proposals like it."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from workbench.brewing import drawn, spread, viability

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from workbench.brewing.viability import Stock
    from workbench.plan.kitchen import Kitchen
    from workbench.plan.proposal import Proposal

__all__ = ["Surety"]

_MORE = 1.12  # with more feedings the cells at the start matter less
_BAND = 0.12  # about the draw in question: those beyond it stay beyond it
_CLEAR = 0.06  # from the aim: so far off a glance is enough
_SEEN = 0.15  # so much farther is what was only glanced at
_LEAST = 0.02  # no plan makes up for a lot that may be dead


class Near(NamedTuple):
    """How sure a proposal is that is so far from another: by the cells to the aim and the size of the first feeding."""

    distance: float
    sure: float
    proposal: Proposal


class Surety:
    """For the chance that a kitchen asks for: the cells in the draw that must still reach the aim, to the likely ones.

    A proposal meets its aim with that chance where this times its likely cells reaches the aim.
    """

    def __init__(self, room: Kitchen) -> None:
        self._room = room
        self._at = spread.DRAWS - math.ceil(room.chance * spread.DRAWS - 1e-9)
        self._known: dict[Proposal, float] = {}
        self._seen: dict[Proposal, float] = {}  # by a glance
        self._full: dict[Proposal, list[float]] = {}  # of every draw the cells out, to the likely ones
        self._stocks: dict[float, list[Stock | None]] = {}  # of every draw, by lead
        self._lots = [[(*viability.drawn(lot, z), days) for lot, days in room.stored] for z in spread.draws()]

    def of(self, proposal: Proposal) -> float:
        """For this very proposal, by all draws."""
        if proposal not in self._full:
            self._full[proposal] = self._out(proposal, range(spread.DRAWS))
            self._known[proposal] = _bounded(sorted(self._full[proposal])[self._at])
        return self._known[proposal]

    def about(self, proposal: Proposal) -> float:
        """The same, quicker: of the draws of a proposal like it only those that lie near the one in question."""
        if proposal in self._known:
            return self._known[proposal]
        near = self.nearest(proposal, of=self._full)
        if near is None:
            seen = self.glance(proposal)
            return seen if abs(proposal.ratio * seen - 1.0) > _CLEAR else self.of(proposal)
        low, high = (1.0 - _BAND) * near.sure, (1.0 + _BAND) * near.sure
        theirs = self._full[near.proposal]
        band = sorted(self._out(proposal, [i for i, out in enumerate(theirs) if low <= out <= high]))
        at = self._at - sum(out < low for out in theirs)
        found = band[at] if 0 <= at < len(band) else 0.0
        if not 1.0 - 0.7 * _BAND <= found / near.sure <= 1.0 + 0.7 * _BAND:
            return self.of(proposal)  # not so like it after all
        self._known[proposal] = _bounded(found)
        return self._known[proposal]

    def glance(self, proposal: Proposal) -> float:
        """Roughly, by a quarter of the draws."""
        if proposal not in self._seen:
            outs = sorted(self._out(proposal, range(0, spread.DRAWS, 4)))
            self._seen[proposal] = _bounded(outs[self._at // 4])
        return self._seen[proposal]

    def high(self, feedings: int) -> float | None:
        """The most that is to be expected of so many feedings, three or more, by what is known of fewer."""
        known = [sure for other, sure in self._known.items() if 1 < len(other.choices) <= feedings]
        return _MORE * max(known) if feedings > 2 and known else None

    def nearest(self, proposal: Proposal, of: Iterable[Proposal] | None = None) -> Near | None:
        """What is known of the proposal (of these) that is most like this one; None where there is none."""
        decants = [choice.decant for choice in proposal.choices]
        first_l = proposal.choices[0].portion.wort_l
        best: Near | None = None
        for other in (*self._known, *self._seen) if of is None else of:
            if [choice.decant for choice in other.choices] == decants:
                apart = abs(math.log(other.choices[0].portion.wort_l / first_l))
                distance = abs(other.ratio / proposal.ratio - 1.0) + apart + (0.0 if other in self._known else _SEEN)
                if best is None or distance < best.distance:
                    best = Near(distance, self._known.get(other) or self._seen[other], other)
        return best

    def _out(self, proposal: Proposal, draws: Sequence[int]) -> list[float]:
        """Cells at the end in some draws, to the likely ones."""
        feedings = [choice.feeding for choice in proposal.choices]
        lead_h = 0.0 if self._room.begun else proposal.lead_h
        stocks = [self._stock(lead_h, i) for i in draws]
        return [out_b / proposal.out_b for out_b in drawn.cells_out(stocks, feedings, proposal.planned_h, draws)[-1]]

    def _stock(self, lead_h: float, draw: int) -> Stock:
        """The lots together in one draw, so many hours before the reference hour."""
        stocks = self._stocks.setdefault(lead_h, [None] * spread.DRAWS)
        stock = stocks[draw]
        if stock is None:
            alive = [
                viability.left(cells_b, share, loss, max(0.0, days - lead_h / 24.0))
                for cells_b, share, loss, days in self._lots[draw]
            ]
            stock = stocks[draw] = viability.together(alive)
        return stock


def _bounded(sure: float) -> float:
    """At most 1: the likely cells are to meet the need whatever the draws say."""
    return min(1.0, max(_LEAST, sure))
