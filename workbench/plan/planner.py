"""The planner: the fewest feedings, then the least hours and extract, that meet the need with the chance asked for."""

from __future__ import annotations

import math
from functools import lru_cache
from heapq import heappop, heappush
from operator import itemgetter
from statistics import NormalDist
from typing import TYPE_CHECKING, Literal

from workbench.plan import culture, fixed, happened, settle, supply
from workbench.plan.kitchen import MOST_STEPS, Kitchen, kitchen, with_top_ups
from workbench.plan.proposal import Proposal, as_steps, patterns_of, reckon, richest
from workbench.plan.search import Hunt, Wish, search, some
from workbench.plan.surety import Surety
from workbench.plan.work import Work

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from workbench.plan.portion import Portion
    from workbench.session.model import Session, Step

__all__ = ["MOST_WORK", "forget", "propose", "searched", "solve"]

_COUNTS = tuple(range(1, MOST_STEPS + 1))
_ROUNDS = 6
_ASKED = 7  # of three and more feedings: after so many in vain the draws of like proposals must do
_HIGH, _LEAST_SIGMA = 1.06, 0.15  # the median of the cells out to the likely ones, and their spread as a logarithm
_WINDOW = (0.93, 1.06)  # of the aim, roughly reckoned: within it the exact course decides
# by how much of the aim a proposal may be better than the one known that is most like it, and how soon, by feedings
_DOUBT, _DOUBT_OF_MANY = (0.12, 4.0), (0.08, 2.0)
_ROUGH, _HARDLY = 0.012, 0.1  # how far off a rough reckoning may be: of the aim, and hours
_EARLIER_POINTS = {1: 400, 2: 120, 3: 12, 4: 8}  # of the grid for each feeding but the last, by number of feedings
MOST_WORK = 20_000  # of one proposal: after it only the fullest flasks of three and four feedings are tried
_BEYOND = 0.9  # of the aim: where the fullest flasks fall short of this the rest does too


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


def forget() -> None:
    """Every proposal that is kept, so that the next is searched for anew."""
    _proposed.cache_clear()


def searched() -> int:
    """How many kitchens have been searched since."""
    return _proposed.cache_info().misses


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
        found = _best_of(Hunt(room, places, pattern, best_h, work, wish), surety)
        if found is not None and (best is None or found.rank(thrifty=wish.thrifty) < best.rank(thrifty=wish.thrifty)):
            best = found
        if best is not None and wish.any_will_do:
            break
    return best


def _best_of(hunt: Hunt, surety: Surety) -> Proposal | None:
    """The best proposal with one pattern of decants; after much work only what the fullest flasks come to."""
    # how many times the likely cells the draw ends with that must still reach the aim: a first guess on the high side
    high = _HIGH * math.exp(-_LEAST_SIGMA * NormalDist().inv_cdf(hunt.room.chance))
    window = _WINDOW[0] / high, _WINDOW[1] / high
    tired = len(hunt.places) > 2 and hunt.work.done > MOST_WORK
    if not tired and not some(hunt, window[0]):
        return None
    fullest = _fullest(hunt)
    rough = None if fullest or tired else search(hunt, *window)
    probe = fullest or next(_exact(hunt, sorted(rough or (), key=lambda found: -found.ratio)), None)
    if probe is None:
        return None
    sure = surety.glance(probe)
    if probe.ratio * sure < _BEYOND and (fullest or probe.ratio < window[1]):
        return None
    if fullest and hunt.wish.any_will_do and (sound := _confirmed(hunt, surety, fullest)):
        return sound
    best = None if tired else _followed(hunt, surety, sure, window, rough)
    return best or (None if fullest is None else _confirmed(hunt, surety, fullest))


def _followed(
    hunt: Hunt, surety: Surety, sure: float, window: tuple[float, float], rough: list[Proposal] | None
) -> Proposal | None:
    """The best proposal where the window that is searched follows the draws: they tell where likely cells must lie.

    `sure` is what they said first, `rough` what lies in a window searched before; None: nothing was.
    """
    passed, sures, doubt = None, [sure], 1.15 if rough else 1.07
    for _ in range(_ROUNDS):
        least, enough = _WINDOW[0] / min(1.0, doubt * max(sures)), _WINDOW[1] / min(sures)
        if rough is None or least < window[0] or any(found.ratio >= window[1] for found in rough):
            window, rough = (least, enough), search(hunt, least, enough)
        above = [found for found in rough if found.ratio >= least]
        passed, moved = _walk(hunt, above, (least, enough), surety, sures)
        if not moved:
            break
        doubt = min(1.1, max(sures) / sure)  # what rose may rise on
    return passed


def _fullest(hunt: Hunt) -> Proposal | None:
    """The proposal with the fullest flasks; None where it cannot be told which that is."""
    shares = (1.0,) if all(hunt.pattern[1:]) else (1.0, 3.0)
    choices = [richest(hunt.room, hunt.places, hunt.pattern, rising=rising) for rising in shares]
    found = [f for c in choices if c is not None and (f := reckon(hunt.room, c)) is not None]
    if len(found) < len(shares) or any(f.extract_g > hunt.room.most_extract_g for f in found):
        return None
    return max(found, key=lambda f: f.ratio)


def _covers(window: tuple[float, float], sure: float) -> bool:
    """Whether the likely cells that it takes lie where was searched."""
    return 1.01 * window[0] <= 1.0 / sure <= 0.98 * window[1]


def _exact(hunt: Hunt, rough: Iterable[Proposal]) -> Iterator[Proposal]:
    """Proposals roughly known, as they really come out; without those that are out of bounds."""
    for r in rough:
        found = reckon(hunt.room, r.choices, sum(r.planned_h) + hunt.room.rests_h(hunt.pattern))
        if found is not None and _within(hunt, found):
            yield found


def _in_order(hunt: Hunt, rough: Sequence[Proposal], surety: Surety, asked: Sequence[float]) -> Iterator[Proposal]:
    """Those that may have the chance, best first, none reckoned before it may be the next."""
    waiting: list[tuple[tuple[float, ...], int, Proposal]] = []
    for n, (at_best, r) in enumerate(sorted([(_at_best(hunt, r), r) for r in rough], key=itemgetter(0))):
        if not _may_pass(r, surety, len(hunt.places), len(asked), slack=_ROUGH):
            continue
        while waiting and waiting[0][0] < at_best:
            yield heappop(waiting)[2]
        for found in _exact(hunt, [r]):
            heappush(waiting, (found.rank(thrifty=hunt.wish.thrifty), n, found))
    while waiting:
        yield heappop(waiting)[2]


def _at_best(hunt: Hunt, rough: Proposal) -> tuple[float, ...]:
    """The best rank it may have once reckoned: hardly longer than whole hours it may gain an hour."""
    gains = any(hours % 1.0 < _HARDLY for hours in rough.planned_h)
    return rough._replace(lead_h=rough.lead_h - gains).rank(thrifty=hunt.wish.thrifty)


def _walk(
    hunt: Hunt, rough: list[Proposal], window: tuple[float, float], surety: Surety, sures: list[float]
) -> tuple[Proposal | None, bool]:
    """The first in rank that has the chance, and whether the draws say that the search was not where the aim lies."""
    for found in _in_order(hunt, rough, surety, sures):
        if not _may_pass(found, surety, len(hunt.places), len(sures)):
            continue
        sures.append(surety.about(found))
        passed = _confirmed(hunt, surety, found) if found.ratio * sures[-1] >= 1.0 else None
        moved = not _covers(window, sures[-1])
        if passed or moved:
            return passed, moved
    return None, False


def _confirmed(hunt: Hunt, surety: Surety, found: Proposal) -> Proposal | None:
    """The proposal reckoned from the ground, if all draws say that it has the chance."""
    exact = reckon(hunt.room, found.choices)
    if exact is None or not _within(hunt, exact):
        return None
    return exact if exact.ratio * surety.of(exact) >= 1.0 else None


def _may_pass(found: Proposal, surety: Surety, feedings: int, asked: int, slack: float = 0.0) -> bool:
    """Whether the draws are worth asking: by the proposal most like it, the closer the surer."""
    near = surety.nearest(found)
    if near is None:
        return True
    if feedings > 2 and asked >= _ASKED:
        return found.ratio * near.sure >= 1.0 - slack
    most, steep = _DOUBT if feedings <= 2 else _DOUBT_OF_MANY
    return found.ratio * near.sure >= 0.99 - slack - most * min(1.0, steep * near.distance)


def _within(hunt: Hunt, found: Proposal) -> bool:
    """Whether hours and what is poured into the beer stay in bounds, to the letter."""
    room = hunt.room
    poured_l = room.poured_l(found.out_b, found.content_l)
    return poured_l <= room.most_poured_l + 1e-9 and found.lead_h <= room.most_hours + 1e-9
