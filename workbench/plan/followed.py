"""The best proposal with one pattern of decants: a search that follows what the draws say of its proposals."""

from __future__ import annotations

import math
from heapq import heappop, heappush
from operator import itemgetter
from statistics import NormalDist
from typing import TYPE_CHECKING

from workbench.plan.proposal import Proposal, reckon, richest
from workbench.plan.search import search, some

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from workbench.plan.hunt import Hunt
    from workbench.plan.surety import Surety

__all__ = ["MOST_WORK", "best_of"]

_ROUNDS = 6
_ASKED = 7  # of three and more feedings: after so many in vain the draws of like proposals must do
_HIGH, _LEAST_SIGMA = 1.06, 0.15  # the median of the cells out to the likely ones, and their spread as a logarithm
_WINDOW = (0.93, 1.06)  # of the aim, roughly reckoned: within it the exact course decides
# by how much of the aim a proposal may be better than the one known that is most like it, and how soon, by feedings
_DOUBT, _DOUBT_OF_MANY = (0.12, 4.0), (0.08, 2.0)
_ROUGH, _HARDLY = 0.012, 0.1  # how far off a rough reckoning may be: of the aim, and hours
MOST_WORK = 16_000  # of one proposal: after it only the fullest flasks of three and four feedings are tried
_BEYOND = 0.9  # of the aim: where the fullest flasks fall short of this the rest does too


def best_of(hunt: Hunt, surety: Surety) -> Proposal | None:
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
