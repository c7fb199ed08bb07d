"""The planner: the fewest feedings, then the least hours and extract, that meet the need with the chance asked for."""

from __future__ import annotations

import math
from functools import lru_cache
from statistics import NormalDist
from typing import TYPE_CHECKING, Literal, NamedTuple

from workbench.plan import supply
from workbench.plan.culture import stock_at
from workbench.plan.kitchen import MOST_STEPS, Kitchen, Portion, kitchen, locked
from workbench.plan.proposal import Proposal, as_steps, patterns_of, reckon, richest
from workbench.plan.search import search
from workbench.plan.surety import Surety

if TYPE_CHECKING:
    from collections.abc import Sequence

    from workbench.session.model import Session, Step

__all__ = ["is_wanted", "propose"]

_BOILS = {"either": (False, True), "plain": (False,), "topped": (True,)}
_ROUNDS = 4
_ASKED = 4  # of three and more feedings: after so many in vain the draws of like proposals must do
_USUAL_SIGMA = 0.25  # spread of the cells out, as a natural logarithm
_WINDOW = (0.95, 1.06)  # of the aim, roughly reckoned: within it the exact course decides
_DOUBT, _DOUBT_OF_MANY = 0.985, 0.993  # of the aim: below, by proposals like it, the draws need not be asked
_EXACT = {1: 400, 2: 160, 3: 40, 4: 40}  # proposals looked at more closely, by number of feedings


def is_wanted(session: Session) -> bool:
    """Whether the planner is to propose: no feeding in the file, and the lots fall short of need and keep."""
    if session.step or session.batch.pitch_at is None or not session.yeast:
        return False
    at_pitching = stock_at(session, session.batch.pitch_at)
    return supply.starter_needed(session, supply.need(session), at_pitching) is True


@lru_cache(maxsize=32)  # a minute later, or after an edit that concerns nothing of it, the answer is the same
def propose(
    session: Session,
    *,
    keep: tuple[int, ...] = (),
    counts: tuple[int, ...] = (),
    boils: Literal["either", "plain", "topped"] = "either",
    thrifty: bool = False,
    first: Portion | None = None,
) -> tuple[Step, ...] | None:
    """The best feedings for a session; None where none meet the need.

    `keep` are the places (from 0) of feedings in the file that stand, `first` a first feeding that does; `counts`: how
    many feedings there may be, by default as few as will do, up to four. `boils`: plain, or where that is too much for
    the flask stronger and topped up; by default plain if as few feedings will do. `thrifty`: the least extract goes
    before the least hours. A starter poured in whole stays under a tenth of the beer if that can be helped.
    """
    plain = kitchen(session)
    if plain is None:
        return None
    stands = {index: portion for index in keep if (portion := locked(session, index)) is not None}
    if first is not None:
        stands[0] = first
    rooms, surety = [plain], Surety(plain)
    for within in (True, False):
        for n in counts or range(1, MOST_STEPS + 1):
            for topped in _BOILS[boils] if n > max(stands, default=-1) else ():
                if topped and len(rooms) == 1:
                    rooms.append(kitchen(session, topped=True) or plain)
                room = rooms[topped]
                if topped and len(room.first) == len(plain.first) and len(room.later) == len(plain.later):
                    continue  # all boil as they are
                room = room if within else room._replace(most_poured_l=math.inf)
                best = _best(room, _places(room, stands, n), surety, thrifty=thrifty)
                if best is not None:
                    return as_steps(best.choices)
        if plain.most_poured_l == math.inf:
            break
    return None


def _places(room: Kitchen, stands: dict[int, Portion], n: int) -> list[Sequence[Portion]]:
    return [(stands[i],) if i in stands else room.later if i else room.first for i in range(n)]


def _best(room: Kitchen, places: list[Sequence[Portion]], surety: Surety, *, thrifty: bool) -> Proposal | None:
    """The best proposal with as many feedings as there are places that has the chance asked for."""
    best: Proposal | None = None
    for pattern in sorted(patterns_of(room, places), key=sum):
        best_h = room.most_hours if best is None or thrifty else best.lead_h
        found = _best_of(_Hunt(room, places, pattern, best_h, thrifty=thrifty), surety)
        if found is not None and (best is None or found.rank(thrifty=thrifty) < best.rank(thrifty=thrifty)):
            best = found
    return best


class _Hunt(NamedTuple):
    """What is looked for: feedings in these places with this pattern of decants, in at most so many hours."""

    room: Kitchen
    places: list[Sequence[Portion]]
    pattern: tuple[bool, ...]
    best_h: float
    thrifty: bool


def _best_of(hunt: _Hunt, surety: Surety) -> Proposal | None:
    """The best proposal with one pattern of decants.

    The window that is searched follows what the draws say: they tell where the likely cells must lie.
    """
    # cells that the draw which must still reach the aim ends with, to the likely ones: a first guess
    sure = math.exp(-_USUAL_SIGMA * NormalDist().inv_cdf(hunt.room.session.batch.chance))
    n = len(hunt.places)
    for _ in range(_ROUNDS):
        least, enough = _WINDOW[0] / sure, _WINDOW[1] / sure
        rough = search(*hunt, least, enough)[: _EXACT[n]]
        exact = [found for r in rough if (found := reckon(hunt.room, r.choices)) is not None and _within(hunt, found)]
        exact.sort(key=lambda found: found.rank(thrifty=hunt.thrifty))
        asked = 0
        for found in exact:
            likely = surety.guess(found)
            doubt = _DOUBT if n <= 2 else 1.0 if asked >= _ASKED else _DOUBT_OF_MANY
            is_asked = likely is None or found.ratio * likely >= doubt
            if is_asked or likely is None:
                asked += 1
                likely = surety.of(found)
            if not least <= 1.0 / likely <= 0.99 * enough:
                sure = likely
                break  # what was searched is not where the aim lies
            if is_asked and found.ratio * likely >= 1.0:
                return found
        else:
            return None
        if _is_beyond(hunt, surety):
            return None
    return None


def _within(hunt: _Hunt, found: Proposal) -> bool:
    """Whether hours and what is poured into the beer stay in bounds, to the letter."""
    room = hunt.room
    poured_l = found.content_l - room.kept_l(found.out_b, found.content_l)
    return poured_l <= room.most_poured_l + 1e-9 and found.lead_h <= room.most_hours + 1e-9


def _is_beyond(hunt: _Hunt, surety: Surety) -> bool:
    """Whether even the fullest flasks fall short."""
    choices = richest(hunt.room, hunt.places, hunt.pattern)
    most = None if choices is None else reckon(hunt.room, choices)
    return most is not None and most.ratio * surety.of(most) < _DOUBT
