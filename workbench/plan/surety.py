"""How sure a proposal is: the 512 draws asked once, and the answers used for proposals like it."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from workbench.brewing import drawn, spread
from workbench.plan.hunt import Work

if TYPE_CHECKING:
    from collections.abc import Sequence

    from workbench.plan.kitchen import Kitchen
    from workbench.plan.proposal import Proposal

__all__ = ["Surety"]

_BANDS = ((24, 0.02), (72, 0.0))  # about the draw in question: those beyond it stay beyond it
_SEEN = 0.15  # so much farther is what was only glanced at
_TORN = 0.7  # of the draws a few places on either side: the lower one to the higher
_LEAST = 0.02  # no plan makes up for a lot that may be dead


class _Asked(NamedTuple):
    """What the draws said of a proposal: by the cells to the aim and, as a logarithm, the size of the first feeding.

    `farther`: what is added to every distance; `outs`: the cells out of every draw, to the likely ones, if all were
    asked, and `order`: the draws by these, the worst first.
    """

    ratio: float
    log_first: float
    farther: float
    sure: float
    outs: Sequence[float]
    order: Sequence[int]


class Near(NamedTuple):
    """How sure a proposal is that is so far from another."""

    distance: float
    sure: float


class Surety:
    """For the chance that a kitchen asks for: the cells in the draw that must still reach the aim, to the likely ones.

    A proposal meets its aim with that chance where this times its likely cells reaches the aim.
    """

    def __init__(self, room: Kitchen, work: Work | None = None) -> None:
        self._work = work or Work()
        self._room = room
        self._at = spread.DRAWS - math.ceil(room.chance * spread.DRAWS - 1e-9)
        self._asked: dict[tuple[bool, ...], dict[tuple[float, ...], _Asked]] = {}  # by decants, then by hours and wort

    def of(self, proposal: Proposal) -> float:
        """For this very proposal, by all draws."""
        known = self._known(proposal)
        return known.sure if known is not None and known.outs else self._ask_all(proposal)

    def _ask_all(self, proposal: Proposal) -> float:
        outs = self._out(proposal, drawn.ALL)
        order = sorted(drawn.ALL, key=outs.__getitem__)
        return self._note(proposal, outs[order[self._at]], outs=outs, order=order)

    def about(self, proposal: Proposal) -> float:
        """The same, quicker: of the draws of a proposal like it only those that lie near the one in question."""
        known = self._known(proposal)
        if known is not None and not known.farther:
            return known.sure
        like = self._nearest(proposal, whole=True)
        if like is None:
            return self.of(proposal)
        _, _, _, sure, theirs, order = like[1]
        for band, clear in _BANDS:
            first = max(0, self._at - band)
            draws = order[first : self._at + band + 1]
            low, high = theirs[draws[0]], theirs[draws[-1]]
            found = sorted(self._out(proposal, draws))[self._at - first]
            is_like = sure + 0.7 * (low - sure) <= found <= sure + 0.7 * (high - sure)
            if is_like and abs(proposal.ratio * found - 1.0) >= clear:
                return self._note(proposal, found)
        return self.of(proposal)  # not so like it after all

    def glance(self, proposal: Proposal) -> float:
        """Roughly, by a quarter of the draws, unless those about the one in question lie far apart."""
        known = self._known(proposal)
        if known is not None:
            return known.sure
        outs = sorted(self._out(proposal, range(0, spread.DRAWS, 4)))
        at = self._at // 4
        if outs[max(0, at - 3)] < _TORN * outs[at + 3]:
            return self.of(proposal)
        return self._note(proposal, outs[at], farther=_SEEN)

    def nearest(self, proposal: Proposal) -> Near | None:
        """What is known of the proposal that is most like this one; None where there is none."""
        like = self._nearest(proposal, whole=False)
        return None if like is None else Near(like[0], like[1].sure)

    def _nearest(self, proposal: Proposal, *, whole: bool) -> tuple[float, _Asked] | None:
        """By the distance: the proposal most like this one; `whole`: of those that all draws were asked about."""
        best, least = None, math.inf
        ratio, log_first = proposal.ratio, _log_first(proposal)
        for asked in self._asked.get(_decants(proposal), {}).values():
            distance = abs(asked.ratio / ratio - 1.0) + abs(asked.log_first - log_first) + asked.farther
            if distance < least and (asked.outs or not whole):
                best, least = asked, distance
        return None if best is None else (least, best)

    def _known(self, proposal: Proposal) -> _Asked | None:
        return self._asked.get(_decants(proposal), {}).get(_key(proposal))

    def _note(
        self,
        proposal: Proposal,
        sure: float,
        *,
        farther: float = 0.0,
        outs: Sequence[float] = (),
        order: Sequence[int] = (),
    ) -> float:
        """Keep how sure a proposal is: at most 1, for the likely cells are to meet the need whatever the draws say."""
        sure = min(1.0, max(_LEAST, sure))
        like = self._asked.setdefault(_decants(proposal), {})
        like[_key(proposal)] = _Asked(proposal.ratio, _log_first(proposal), farther, sure, outs, order)
        return sure

    def _out(self, proposal: Proposal, draws: Sequence[int]) -> list[float]:
        """Cells at the end in some draws, to the likely ones."""
        feedings = [choice.feeding for choice in proposal.choices]
        self._work.done += len(draws) * len(feedings)
        aged_days = 0.0 if self._room.begun else proposal.lead_h / 24.0
        lots = [drawn.alive(lot, max(0.0, days - aged_days), draws) for lot, days in self._room.stored]
        outs = drawn.cells_out(drawn.together(lots), feedings, proposal.planned_h, draws)
        return [out_b / proposal.out_b for out_b in outs[-1]]


def _decants(proposal: Proposal) -> tuple[bool, ...]:
    return tuple([choice.decant for choice in proposal.choices])


def _key(proposal: Proposal) -> tuple[float, ...]:
    """What tells a proposal from others with these decants, in one kitchen."""
    return (*proposal.planned_h, *[choice.portion.feeding.extract_g for choice in proposal.choices])


def _log_first(proposal: Proposal) -> float:
    return math.log(proposal.choices[0].portion.wort_l)
