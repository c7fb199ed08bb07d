"""The planner: the fewest feedings, then the least hours and extract, that meet the need with the chance asked for."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TYPE_CHECKING, Literal

from workbench.plan import culture, fixed, happened, settle, supply
from workbench.plan.followed import best_of
from workbench.plan.hunt import Hunt, Wish, Work
from workbench.plan.kitchen import MOST_STEPS, Kitchen, kitchen, with_top_ups
from workbench.plan.proposal import Proposal, as_steps, patterns_of
from workbench.plan.surety import Surety

if TYPE_CHECKING:
    from collections.abc import Sequence

    from workbench.plan.portion import Portion
    from workbench.session.model import Session, Step

__all__ = ["propose", "solve"]

_COUNTS = tuple(range(1, MOST_STEPS + 1))
_EARLIER_POINTS = {1: 400, 2: 120, 3: 12, 4: 8}  # of the grid for each feeding but the last, by number of feedings


def solve(session: Session, *, any_will_do: bool = False) -> tuple[Step, ...] | None:
    """As `propose` with everything free; no feeding at all where the lots are enough as they are."""
    return () if _is_enough(session) else propose(session, any_will_do=any_will_do)


def _is_enough(session: Session) -> bool:
    """Whether the lots meet need and keep as they are at pitching, likely and with the chance asked for."""
    pitch_at, need = happened.pitch_at(session), supply.need(session)
    if pitch_at is None or supply.starter_needed(session, need, culture.at_pitching(session)) is not False:
        return False
    if settle.all_dry(session):
        return True
    wanted_b = (need.cells_b.value or 0.0) + supply.keep_cells_b(session)
    live_b = culture.drawn_at(session, pitch_at).live_b
    return sum(b >= wanted_b for b in live_b) >= session.batch.chance * len(live_b)


def propose(
    session: Session,
    *,
    keep: tuple[int, ...] = (),
    counts: tuple[int, ...] = (),
    boils: Literal["either", "plain", "topped"] = "either",
    thrifty: bool = False,
    first: Portion | None = None,
    any_will_do: bool = False,
) -> tuple[Step, ...] | None:
    """The best feedings for a session; None where none meet the need.

    `keep` are the places (from 0) of feedings in the file that stand, `first` a first feeding that does; `counts`: how
    many feedings there may be, by default as few as will do, up to four. `boils`: plain, or where that is too much for
    the flask stronger and topped up; by default plain if as few feedings will do. `thrifty`: the least extract goes
    before the least hours; `any_will_do`: whether there are any is all that is asked. A starter poured in whole stays
    under a tenth of the beer if that can be helped.
    """
    plain = kitchen(session)
    if plain is None:
        return None
    stands = fixed.portions(session, keep)
    if first is not None:
        stands[0] = first
    topped = with_top_ups(session, plain)
    stronger = () if topped is plain else (topped,)
    boiled = {"either": (plain, *stronger), "plain": (plain,), "topped": stronger}[boils]
    return _proposed(plain, boiled, tuple(stands.items()), counts or _COUNTS, Wish(thrifty, any_will_do))


@lru_cache(maxsize=32)  # the kitchen is mostly the same: a minute later, after most edits, and where ways ask again
def _proposed(
    plain: Kitchen,
    boiled: tuple[Kitchen, ...],
    standing: tuple[tuple[int, Portion], ...],
    counts: tuple[int, ...],
    wish: Wish,
) -> tuple[Step, ...] | None:
    """The same by what it rests on: the kitchen, as it may boil, with the feedings that stand."""
    stands = dict(standing)
    work = Work()
    surety = Surety(plain, work)
    # into the beer: a tenth of it, if the flasks hold more, else what it takes
    tenth_l = plain.most_poured_l if stands or plain.most_poured_l < plain.fill_l else math.inf
    for most_poured_l in sorted({tenth_l, math.inf}):
        for n in counts:
            for room in boiled if n > max(stands, default=-1) else ():
                places = _places(room, stands, n)
                if room is not plain and len(room.later) == len(plain.later):  # the rest was tried plain
                    places[0] = [portion for portion in places[0] if portion.top_up_l > 0.0]
                best = _best(room._replace(most_poured_l=most_poured_l), places, surety, work, wish)
                if best is not None:
                    return as_steps(best.choices)
    return None


def _places(room: Kitchen, stands: dict[int, Portion], n: int) -> list[Sequence[Portion]]:
    """What each of `n` feedings may be: every second grid point with three of them, every third with four."""
    every = max(1, n - 1)
    portions: list[Sequence[Portion]] = [
        (stands[i],) if i in stands else (room.later if i else room.first)[every - 1 :: every] for i in range(n)
    ]
    return [few[:: max(1, -(-len(few) // _EARLIER_POINTS[n]))] for few in portions[:-1]] + portions[-1:]


def _best(
    room: Kitchen, places: Sequence[Sequence[Portion]], surety: Surety, work: Work, wish: Wish
) -> Proposal | None:
    """The best proposal with as many feedings as there are places that has the chance asked for."""
    best: Proposal | None = None
    for pattern in sorted(patterns_of(room, places), key=sum) if all(places) else ():
        best_h = room.most_hours if best is None or wish.thrifty else best.lead_h
        found = best_of(Hunt(room, places, pattern, best_h, work, wish), surety)
        if found is not None and (best is None or found.rank(thrifty=wish.thrifty) < best.rank(thrifty=wish.thrifty)):
            best = found
        if best is not None and wish.any_will_do:
            break
    return best
