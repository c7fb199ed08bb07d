"""The most that a kitchen can do where no plan meets the need: within its flasks, its powder and its hours."""

from __future__ import annotations

import math
from functools import lru_cache
from itertools import product
from typing import TYPE_CHECKING, NamedTuple

from workbench.plan import fixed, happened
from workbench.plan.kitchen import FITS_L, MOST_RATIO, Kitchen, kitchen, with_top_ups
from workbench.plan.proposal import Choice, Proposal, as_steps, limits_l, patterns_of, reckon, richest
from workbench.plan.surety import Surety

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from workbench.plan.portion import Portion
    from workbench.session.model import Session, Step

__all__ = ["best_effort", "in_time"]

_MOST_STEPS = 3
_POINTS = 16  # of the grid for each of two feedings
_LEAST_HOURS = 4.0  # a feeding is not cut shorter
_WORTH_A_STEP = 1.05  # a feeding more is worth it from this much more cells on


def best_effort(session: Session, keep: tuple[int, ...] = ()) -> tuple[Step, ...] | None:
    """The feedings with which most cells can be had; None where nothing grows here.

    `keep` are the places (from 0) of feedings in the file that stand. Growth is cut short where the hours there are
    (`[day] hours`, a yeast already in) are fewer than it takes; but not that of a locked feeding, which is left as long
    as it stands in the file. Where the need can be met, with the least extract that does it.
    """
    most = _most_of(session, keep)
    return None if most is None else as_steps(most.proposal.choices)


def in_time(session: Session) -> tuple[Step, ...] | None:
    """Feedings that meet the need in the hours there are, if growth that is cut short may do; None where none do."""
    most = _most_of(session, ())
    return as_steps(most.proposal.choices) if most is not None and most.is_enough else None


class _Most(NamedTuple):
    """The most there is to be had, and whether that is enough."""

    proposal: Proposal
    is_enough: bool


@lru_cache(maxsize=32)
def _most_of(session: Session, keep: tuple[int, ...]) -> _Most | None:
    plain = kitchen(session)
    if plain is None:
        return None
    room = with_top_ups(session, plain)
    best: Proposal | None = None
    surety, stand = Surety(room), fixed.portions(session, keep)
    begun = happened.last_begun(session) if session.day.hours_s is None else 0  # its growth is cut short by pitching
    for n in range(max(stand, default=0) + 1, max(_MOST_STEPS, max(stand, default=0) + 1) + 1):
        places = [(stand[i],) if i in stand else room.later if i else room.first for i in range(n)]
        may_cut = n - 1 not in stand or (n == begun and stand[n - 1].feeding.hours is None)
        found = _most(room, places, surety, may_cut=may_cut)
        if found is not None and found.ratio * surety.of(found) >= 1.0:
            return _Most(found, is_enough=True)
        if found is not None and (best is None or found.ratio > _WORTH_A_STEP * best.ratio):
            best = found
    return _Most(best, is_enough=False) if best is not None else None


def _most(room: Kitchen, places: Sequence[Sequence[Portion]], surety: Surety, *, may_cut: bool) -> Proposal | None:
    """The proposal with the most cells, or the least extract that is enough; of like ones the latter."""
    every = (_in_time(room, choices, may_cut=may_cut) for choices in _candidates(room, places))
    found = [proposal for proposal in every if proposal is not None]
    if not found:
        return None
    found.sort(key=lambda p: (_is_much(room, p), p.extract_g, p.lead_h))
    most = max(found, key=lambda p: p.ratio)
    likely = (p for p in found if p.ratio * surety.of(most) >= 1.0)
    enough = next((p for p in likely if p.ratio * surety.about(p) >= 1.0 and p.ratio * surety.of(p) >= 1.0), None)
    return enough or next(p for p in found if p.ratio >= 0.99 * most.ratio)


def _is_much(room: Kitchen, found: Proposal) -> bool:
    """Whether more of it goes into the beer than should, if that can be helped."""
    return room.poured_l(found.out_b, found.content_l) > room.most_poured_l + FITS_L


def _candidates(room: Kitchen, places: Sequence[Sequence[Portion]]) -> Iterator[tuple[Choice, ...]]:
    """Fullest flasks; where powder is short, one or two feedings that make do with it."""
    if not all(places):
        return
    if math.isinf(room.most_extract_g):
        fullest = [richest(room, places, pattern) for pattern in patterns_of(room, places)]
        yield from (choices for choices in fullest if choices is not None)
    if sum(len(portions) > 1 for portions in places) > 2:
        return
    few = [portions[:: max(1, len(portions) // _POINTS)] for portions in places]
    for pattern in patterns_of(room, places):
        limits = limits_l(room, places, pattern)
        for portions in product(*few):
            choices = tuple(map(Choice, portions, pattern))
            if _fits(room, choices, limits):
                yield choices


def _fits(room: Kitchen, choices: tuple[Choice, ...], limits: Sequence[float]) -> bool:
    content_l = room.liquid_l
    for index, ((portion, decant), most_l) in enumerate(zip(choices, limits, strict=True)):
        too_much = index and portion.given is None and portion.wort_l > MOST_RATIO * content_l + FITS_L
        content_l = room.content_l(content_l, portion.wort_l, decant=decant)
        if too_much or content_l > most_l + FITS_L:
            return False
    return sum(choice.portion.feeding.extract_g for choice in choices) <= room.most_extract_g + 1e-9


def _in_time(room: Kitchen, choices: tuple[Choice, ...], *, may_cut: bool) -> Proposal | None:
    """What comes of some choices in the hours there are: the last growth is cut short if need be, and if it may."""
    found = reckon(room, choices)
    if found is None or found.lead_h <= room.most_hours + 1e-9:
        return found
    hours = math.floor(found.planned_h[-1] - (found.lead_h - room.most_hours) + 1e-9)
    if hours < _LEAST_HOURS or not may_cut:
        return None
    portion = choices[-1].portion
    shorter = portion._replace(feeding=portion.feeding._replace(hours=float(hours)))
    return _in_time(room, (*choices[:-1], choices[-1]._replace(portion=shorter)), may_cut=may_cut)
