"""The planner's enumeration: every order of feedings on the grid, cut short where bounds tell what comes of it.

A quick reckoning with the lots at one age finds the promising ones; `proposal.reckon` gives each its exact course.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from workbench.brewing import growth, kinetics, starter, timing
from workbench.plan.kitchen import FITS_L, MOST_RATIO
from workbench.plan.proposal import LEAST_GROWTH, Choice, Proposal, limits_l

if TYPE_CHECKING:
    from workbench.plan.hunt import Hunt
    from workbench.plan.portion import Portion

__all__ = ["search", "some"]

_NEARLY = 1.02  # how far over a bound a rough reckoning may be
_LOG_19 = math.log(19.0)  # the growth to 95 % takes ln(1 + 19·e^h0·G) / rate


class _State(NamedTuple):
    """Where some feedings lead."""

    cells_b: float
    left_g: float
    content_l: float
    hours: float
    each_h: tuple[float, ...]  # of every feeding, not rounded
    extract_g: float
    grows: bool  # without doubt enough, each of them
    portions: tuple[Portion, ...]


def some(hunt: Hunt, least: float) -> list[Proposal]:
    """The first orders of feedings found that come to `least` of the aim, roughly reckoned; empty where none does."""
    return _Branch(hunt, least, least, any_will_do=True).run()


def search(hunt: Hunt, least: float, enough: float) -> list[Proposal]:
    """Orders of feedings that end with `least` to `enough` of the aim or just above, roughly reckoned.

    Their hours are not rounded, but their leads are as if they were. For each choice of the earlier feedings the
    smallest last ones. None is much longer than the best so far, or than the shortest that is surely enough.
    """
    branch = _Branch(hunt, least, enough)
    return [course for course in branch.run() if course.lead_h <= branch.best_h + 1.0]


class _Branch:
    """One search: what it has found so far, and the bounds that cut it short."""

    def __init__(self, hunt: Hunt, least: float, enough: float, *, any_will_do: bool = False) -> None:
        self.any_will_do = any_will_do
        kitchen, places, pattern, self.best_h, self.work, self.wish = hunt
        self.kitchen, self.places, self.pattern = kitchen, places, pattern
        self.least, self.enough = least, enough
        self.last = len(places) - 1
        self.last_l = [portion.wort_l for portion in places[-1]]
        self.last_g = [portion.feeding.extract_g for portion in places[-1]]
        some = [portion.feeding for portions in places for portion in portions[:1]]
        self.motions = {feeding.motion for feeding in some}
        g_per_l = max(p.feeding.extract_g / p.wort_l for ps in places for p in ps[:1])
        poured_off = [place for place, decant in enumerate(pattern) if decant]
        self.last_flask = max(poured_off, default=0)  # from this feeding on nothing is poured off any more
        at_end_l = kitchen._replace(most_poured_l=kitchen.most_poured_l * _NEARLY).most_at_end_l(least)
        limits = limits_l(kitchen, places, pattern)
        self.most_l = [most_l if n < self.last_flask else min(most_l, at_end_l) for n, most_l in enumerate(limits)]
        self.full_g = [g_per_l * most_l for most_l in self.most_l]
        self.aim_b = kitchen.wanted_b(self.most_l[-1])
        self.hours_per_e = min(kinetics.MOTION_HOURS[f.motion] / f.rate if f.rate > 0.0 else 1e9 for f in some)
        self.rests_h = kitchen.rests_h(pattern)
        self.found: list[Proposal] = []
        self.h0: list[float] = []
        self.base_h: list[float] = []

    def run(self) -> list[Proposal]:
        """All that is found. The lots are taken as old as they are at a likely lead."""
        fresh = self.kitchen.stock(0.0)
        if fresh.live_b <= 0.0 or math.isinf(self.aim_b):
            return []
        self._lag(fresh.viability)
        lead_h = 0.0 if self.kitchen.begun else self._least_hours(0, fresh.live_b) + 0.5 * (self.last + 1)
        stock = self.kitchen.stock(lead_h)
        self._lag(stock.viability)
        self.stock = stock
        self._extend(_State(stock.live_b, 0.0, self.kitchen.liquid_l, self.rests_h, (), 0.0, grows=True, portions=()))
        return self.found

    def _lag(self, viability: float) -> None:
        """The lag term of each feeding, and the hours that they and those after them take though nothing grew."""
        feedings = [Choice(ps[0], decant).feeding for ps, decant in zip(self.places, self.pattern, strict=True)]
        self.h0 = [starter.h0_at(index, feeding, viability) for index, feeding in enumerate(feedings)]
        each_h = [
            self.hours_per_e * (h0 + _LOG_19) if feeding.hours is None else feeding.hours
            for feeding, h0 in zip(feedings, self.h0, strict=True)
        ]
        self.base_h = [sum(each_h[index:]) for index in range(len(each_h))]

    def _extend(self, state: _State) -> None:
        index = len(state.portions)
        if (self.any_will_do and self.found) or self._hopeless(index, state):
            return
        if index == self.last:
            self._finish(state)
            return
        for portion in self.places[index]:
            grown = self._grow(state, portion)
            if grown is not None:
                self._extend(grown)
            elif self._content_l(state, portion) > self.most_l[index] + FITS_L:
                break

    def _hopeless(self, index: int, state: _State) -> bool:
        """Whether full flasks from here still fall short, or it takes longer than the best so far."""
        most_b = flask_b = state.cells_b
        for place in range(index, self.last + 1):
            if self.pattern[place] and place:
                most_b *= growth.CELLS_LEFT_BY_DECANT
            full_g = self.full_g[place]
            if place == index or self.pattern[place]:  # feedings on top share one flask
                flask_b = most_b + full_g * max(_best_yield(most_b / full_g, motion) for motion in self.motions)
            most_b = min(flask_b, max(_most_from(most_b, full_g, motion) for motion in self.motions))
        if most_b < self.least * self.aim_b or state.extract_g > self.kitchen.most_extract_g:
            return True
        hours = state.hours + self._least_hours(index, state.cells_b)
        return hours > self.best_h + (1.0 if self.last < 2 else 0.0)

    def _least_hours(self, index: int, cells_b: float) -> float:
        """No order of feedings takes less from here on."""
        wanted = self.least * self.aim_b / cells_b if cells_b > 0.0 else 1.0
        return self.base_h[index] + (self.hours_per_e * math.log(wanted) if wanted > 1.0 else 0.0)

    def _content_l(self, state: _State, portion: Portion) -> float:
        return self.kitchen.content_l(state.content_l, portion.wort_l, decant=self.pattern[len(state.portions)])

    def _grow(self, state: _State, portion: Portion) -> _State | None:
        """One feeding more, or None where it does not fit or hardly grows."""
        index = len(state.portions)
        self.work.done += 4
        decant = self.pattern[index]
        content_l = self._content_l(state, portion)
        if content_l > self.most_l[index] + FITS_L:
            return None
        if index and portion.given is None and portion.wort_l > MOST_RATIO * state.content_l + FITS_L:
            return None
        feeding, cells_b, left_g = portion.feeding, state.cells_b, state.left_g
        if decant:
            cells_b, left_g = cells_b * growth.CELLS_LEFT_BY_DECANT, 0.0
        extract_g = feeding.extract_g + left_g
        if cells_b < growth.MIN_R * extract_g:
            return None
        factor = 1.0 + growth.new_cells_b(cells_b, extract_g, feeding.motion) / cells_b
        exact_h = self._hours(portion, factor, self.h0[index])
        if exact_h is None:
            return None
        hours = exact_h if feeding.hours is not None else timing.whole_hours(exact_h)
        curve = kinetics.after_hours(factor, self.h0[index], feeding.rate, feeding.motion, hours)
        return _State(
            cells_b * curve.out_per_in,
            extract_g * (1.0 - curve.share),
            content_l,
            state.hours + hours,
            (*state.each_h, exact_h),
            state.extract_g + feeding.extract_g,
            state.grows and (portion.given is not None or factor >= LEAST_GROWTH * _NEARLY**2),
            (*state.portions, portion),
        )

    @staticmethod
    def _hours(portion: Portion, factor: float, h0: float) -> float | None:
        """Hours for a growth of `factor`, not rounded; None where it is poor or cannot be told."""
        feeding = portion.feeding
        if feeding.hours is not None:
            return feeding.hours
        if portion.given is not None and factor <= starter.HARDLY_GROWS:
            return starter.DEFAULT_HOURS
        if (portion.given is None and factor < LEAST_GROWTH / _NEARLY**2) or feeding.rate <= 0.0:
            return None
        hours = kinetics.hours_to_share(factor, h0, feeding.rate, feeding.motion)
        return hours if hours <= starter.LONGEST_HOURS else None

    def _finish(self, state: _State) -> None:
        """The smallest last feedings that reach the aim, by bisection: cells out grow with the wort."""
        portions = self.places[self.last]
        stands = portions[0].given is not None
        room_l = self.most_l[self.last] - self._content_l(state, portions[0]) + portions[0].wort_l
        high = bisect_right(self.last_l, room_l + FITS_L)
        if self.last and not stands:
            high = min(high, bisect_right(self.last_l, MOST_RATIO * state.content_l + FITS_L))
        high = min(high, bisect_right(self.last_g, self.kitchen.most_extract_g - state.extract_g + FITS_L))
        low, end = 0, high
        while low < high:
            middle = (low + high) // 2
            grown = self._grow(state, portions[middle])
            if grown is not None and self._ratio(grown) >= self.least:
                high = middle
            else:
                low = middle + 1
        for portion in portions[low:end]:
            grown = self._grow(state, portion)
            if grown is not None and self._note(grown):
                break

    def _ratio(self, grown: _State) -> float:
        """Cells to the aim."""
        return grown.cells_b / self.kitchen.wanted_b(grown.content_l)

    def _note(self, grown: _State) -> bool:
        """Keep what all feedings come to, if it is not too much or too late; whether it is enough without doubt."""
        ratio, kitchen = self._ratio(grown), self.kitchen
        enough = ratio >= self.enough and grown.grows
        poured_l = kitchen.poured_l(grown.cells_b, grown.content_l)
        if poured_l <= kitchen.most_poured_l * _NEARLY + FITS_L and grown.hours <= self.best_h + 1.0:
            choices = tuple(map(Choice, grown.portions, self.pattern))
            hours, each_h = self._aged(grown)
            self.found.append(Proposal(choices, hours, each_h, grown.cells_b, grown.content_l, ratio))
            if enough and not self.wish.thrifty:
                self.best_h = min(self.best_h, grown.hours)
        return enough

    def _aged(self, grown: _State) -> tuple[float, tuple[float, ...]]:
        """Lead and hours of each feeding with the lots as old as they then are: it is the first that this tells on."""
        first, first_h = grown.portions[0].feeding, grown.each_h[0]
        if self.kitchen.begun or first.hours is not None or first.rate <= 0.0:
            return grown.hours, grown.each_h
        stock = self.kitchen.stock(grown.hours)
        younger = math.log(stock.live_b / self.stock.live_b) if stock.live_b > 0.0 else 0.0
        less_lag = self.h0[0] - starter.h0_at(0, first, stock.viability)
        aged_h = first_h - (younger + less_lag) * kinetics.MOTION_HOURS[first.motion] / first.rate
        hours = grown.hours + timing.whole_hours(aged_h) - timing.whole_hours(first_h)
        return hours, (aged_h, *grown.each_h[1:])


def _most_from(cells_b: float, extract_g: float, motion: str) -> float:
    """The most cells that one feeding makes of so many: without air they double but a few times."""
    if motion == "stirred":
        return math.inf
    if motion == "still":
        return growth.STILL_OUT_PER_IN * cells_b
    shy_b = (growth.STILL_OUT_PER_IN - 1.0) * cells_b  # of the two whose geometric mean is taken
    return cells_b + math.sqrt(shy_b * growth.STIRRED_PLATEAU_B_PER_G * extract_g)


def _best_yield(r: float, motion: str) -> float:
    """The best yield at this inoculum or any denser one, B/g: it rises up to a peak, without air, and falls."""
    here = growth.yield_b_per_g(r, motion)
    return here if motion == "stirred" or r >= growth.DENSE_R else max(here, _peak(motion))


@lru_cache(maxsize=3)
def _peak(motion: str) -> float:
    return max(growth.yield_b_per_g(r, motion) for r, _ in growth.STILL_KNOTS)
