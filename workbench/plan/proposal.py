"""Some feedings chosen, and what comes of them: hours, cells, what then stands in the flasks."""

from __future__ import annotations

import math
from itertools import product
from typing import TYPE_CHECKING, NamedTuple

from workbench.brewing import starter, timing
from workbench.plan.kitchen import FITS_L, MOST_RATIO
from workbench.session.model import Step

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from workbench.brewing.starter import Fed, Feeding
    from workbench.plan.kitchen import Kitchen
    from workbench.plan.portion import Portion

__all__ = ["LEAST_GROWTH", "Choice", "Proposal", "as_steps", "limits_l", "patterns_of", "reckon", "richest"]

LEAST_GROWTH = 1.1  # a feeding that grows less is not worth its wort


class Choice(NamedTuple):
    """One feeding chosen: its wort, and whether spent wort is poured off first."""

    portion: Portion
    decant: bool

    @property
    def feeding(self) -> Feeding:
        """As the science takes it."""
        return self.portion.feeding._replace(decant=self.decant)


class Proposal(NamedTuple):
    """What comes of some choices: hours with rests, cells at the end, what stands in the flasks, cells to the aim."""

    choices: tuple[Choice, ...]
    lead_h: float
    planned_h: tuple[float, ...]
    out_b: float
    content_l: float
    ratio: float

    @property
    def extract_g(self) -> float:
        """Of all feedings."""
        return sum(choice.portion.feeding.extract_g for choice in self.choices)

    def rank(self, *, thrifty: bool = False) -> tuple[float, float, int, float]:
        """Least of all hours with rests, then extract, decants, size of the first feeding; thrifty: extract first."""
        decants, first_l = sum(choice.decant for choice in self.choices), self.choices[0].portion.wort_l
        hours_and_extract = self.lead_h, round(self.extract_g, 6)
        return *(hours_and_extract[::-1] if thrifty else hours_and_extract), decants, first_l


def _grows_enough(fed: Fed, portion: Portion) -> bool:
    """Whether a feeding of the planner's own grows enough, in hours that can be told."""
    if fed.out_b is None or fed.growth is None:
        return False
    return portion.given is not None or (fed.growth >= LEAST_GROWTH and fed.hours is not None)


def reckon(kitchen: Kitchen, choices: tuple[Choice, ...], guess_h: float = 0.0) -> Proposal | None:
    """The course of some choices, as the plan has it; None where the outcome of one is poor or cannot be told.

    With a guess of the lead it is found in half the time, and once in a blue moon an hour is rounded otherwise.
    """
    feedings = [choice.feeding for choice in choices]
    rests_h = kitchen.rests_h([choice.decant for choice in choices])
    given = [feeding.hours for feeding in feedings]
    hours = timing.planned_hours(kitchen.stock, feedings, given, rests_h, begun=kitchen.begun, guess=guess_h)
    planned_h = tuple(h for h in hours if h is not None)
    if len(planned_h) < len(choices):
        return None
    lead_h = sum(planned_h) + rests_h
    fed = starter.feed_all(kitchen.stock(0.0 if kitchen.begun else lead_h), feedings, planned_h)
    if not all(_grows_enough(f, c.portion) for f, c in zip(fed, choices, strict=False)):
        return None
    out_b, content_l = fed[-1].out_b or 0.0, kitchen.liquid_l
    for choice in choices:
        content_l = kitchen.content_l(content_l, choice.portion.wort_l, decant=choice.decant)
    return Proposal(choices, lead_h, planned_h, out_b, content_l, out_b / kitchen.wanted_b(content_l))


def as_steps(choices: Sequence[Choice]) -> tuple[Step, ...]:
    """Choices as feedings of a session; the brewer's own as they stand."""
    return tuple(
        portion.given
        or Step(
            wort_l=portion.wort_l,
            top_up_l=portion.top_up_l,
            decant=decant,
            gravity_w=portion.gravity_w,
            hours_s=None if portion.feeding.hours is None else 3600.0 * portion.feeding.hours,
        )
        for portion, decant in choices
    )


def patterns_of(kitchen: Kitchen, places: Sequence[Sequence[Portion]]) -> Iterator[tuple[bool, ...]]:
    """Before which feedings spent wort is poured off: the first only where a kept lot brings more than is left."""
    ways: list[tuple[bool, ...]] = []
    for index, portions in enumerate(places):
        stands = len(portions) == 1 and portions[0].given is not None
        free = (False, True) if index or kitchen.liquid_l > kitchen.left_l else (False,)
        ways.append((portions[0].feeding.decant,) if stands else free)
    return product(*ways)


def limits_l(kitchen: Kitchen, places: Sequence[Sequence[Portion]], pattern: Sequence[bool]) -> list[float]:
    """What may stand in the flasks after each feeding: the fill limit, with the brewer's own feedings too.

    Where these overfill the flasks by themselves it is the least that can be: as much as with the smallest others.
    """
    own_l = least_l = kitchen.liquid_l
    limits: list[float] = []
    for n, (portions, decant) in enumerate(zip(places, pattern, strict=True)):
        stands = portions[0].given is not None
        smallest = portions[0] if stands else (kitchen.later if n else kitchen.first)[0]
        own_l = kitchen.content_l(own_l, smallest.wort_l if stands else 0.0, decant=decant)
        least_l = kitchen.content_l(least_l, smallest.wort_l, decant=decant)
        limits.append(least_l if stands and own_l > kitchen.fill_l + FITS_L else kitchen.fill_l)
    return limits


def richest(
    kitchen: Kitchen, places: Sequence[Sequence[Portion]], pattern: tuple[bool, ...], *, rising: float = 1.0
) -> tuple[Choice, ...] | None:
    """The fullest flasks with one pattern of decants: feedings on top of one another share them out.

    `rising`: how many times the one before each of those is. What goes into the beer is not more than may, and no
    later feeding is much larger than what it meets.
    """
    content_l, choices = kitchen.liquid_l, list[Choice]()
    limits = limits_l(kitchen, places, pattern)
    for n, decant in enumerate(pattern):
        most_l = MOST_RATIO * content_l if n else math.inf
        content_l = kitchen.content_l(content_l, 0.0, decant=decant)
        end = next((k for k, other in enumerate(pattern[n + 1 :], n + 1) if other), len(pattern))
        at_end_l = math.inf if end < len(pattern) else kitchen.most_at_end_l()
        standing_l = [portions[0].wort_l for portions in places[n:end] if portions[0].given is not None]
        shares = sum(rising**k for k in range(end - n - len(standing_l)))
        room_l = min(most_l, (min(limits[end - 1], at_end_l) - content_l - sum(standing_l)) / max(1.0, shares))
        fits = [portion for portion in places[n] if portion.wort_l <= room_l + FITS_L or portion.given is not None]
        if not fits or content_l + fits[-1].wort_l > limits[n] + FITS_L:
            return None
        choices.append(Choice(fits[-1], decant))
        content_l += fits[-1].wort_l
    return tuple(choices)
