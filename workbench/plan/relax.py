"""What would have to change where no plan meets the need: one thing at a time, each solved anew, the smallest first."""

from __future__ import annotations

import math
from datetime import timedelta
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from workbench.brewing import flask
from workbench.plan import effort, happened, lots, planner, settle, words
from workbench.plan.habits import Habits
from workbench.plan.made import make
from workbench.session.model import Lot

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from datetime import date

    from workbench.session.literal import TomlValue
    from workbench.session.model import Session, Step

__all__ = ["Change", "attempts", "diagnosis", "in_a_pot", "one_pack_more", "relaxations", "solved"]


_AT_THE_START = ("pack", "larger", "flask")
_FRESH, _OLD = 0.8, timedelta(days=60)  # of the own packs those are bought again that were so alive and no older yet


class Change(NamedTuple):
    """A session with one thing changed. `binds`: the limit that it lifts; `settings`: what the file is to say then.

    `settings` holds dotted keys with what to write, None to leave a key or table out; `pack` asks for one lot more.
    """

    code: str
    says: str
    binds: str
    session: Session
    settings: tuple[tuple[str, TomlValue | None], ...] = ()
    pack: Lot | None = None


@lru_cache(maxsize=16)
def relaxations(session: Session, keep: tuple[int, ...] = ()) -> tuple[Change, ...]:
    """The changes with which a plan is found, its feedings in the session; empty where no single one is enough.

    `keep` are the places of feedings that stand.
    """
    tried = attempts(session, keep, any_will_do=False)
    return tuple(_told(change, steps) for change, steps in tried if steps is not None)


def attempts(
    session: Session, keep: tuple[int, ...] = (), *, any_will_do: bool = True
) -> Iterator[tuple[Change, tuple[Step, ...] | None]]:
    """Each change, the smallest first and of more packs up to the fewest that help, with its feedings, if any."""
    packs_help = False
    for change in _changes(session):
        is_pack = change.code.startswith("pack")
        if not (is_pack and packs_help):
            steps = solved(session, change, keep, any_will_do=any_will_do)
            packs_help |= is_pack and steps is not None
            yield change, steps


def solved(
    session: Session, change: Change, keep: tuple[int, ...], *, any_will_do: bool = False
) -> tuple[Step, ...] | None:
    """The feedings after a change, those of the session that stand among them; None where it does not help.

    Once yeast is in a flask, it is too late for other flasks and for packs that were to go in with it.
    """
    if not keep:
        return planner.solve(change.session, any_will_do=any_will_do)
    if happened.last_begun(session) and change.code.startswith(_AT_THE_START):
        return None
    changed = change.session._replace(step=session.step)
    return planner.propose(changed, keep=keep, any_will_do=any_will_do)


@lru_cache(maxsize=16)
def diagnosis(session: Session) -> str:
    """Which limit binds where no plan is found, and what would make it fit."""
    found = [change for change, steps in attempts(session) if steps is not None]
    chance = f"no feedings within these limits meet the need with a chance of {session.batch.chance:g}"
    if session.day.hours_s is not None and (steps := effort.in_time(session)):
        smallest = f"the limit on hours binds; growth cut short would do ({_worts(steps)})"
    elif found:
        first, *found = found
        first = _told(first, solved(session, first, ()) or ())
        smallest = f"the {first.binds} binds; {first.says} would do ({_worts(first.session.step)})"
    else:
        return f"{chance}, and no single change of those tried would do"
    return f"{chance}: {smallest}" + "".join(f"; or {change.says}" for change in found)


def _worts(steps: Sequence[Step]) -> str:
    """The feedings in short, with hours where these are cut."""
    return " + ".join(map(_wort, steps)) or "no feeding"


def _wort(step: Step) -> str:
    hours = "" if step.hours_s is None else f" for {words.hours(step.hours_s / 3600.0)}"
    return words.litres(step.wort_l or 0.0) + hours


def _told(change: Change, steps: tuple[Step, ...]) -> Change:
    """With its feedings, and with what it comes to where that is only known once it is solved."""
    session = change.session._replace(step=steps)
    if change.code == "powder":
        makes = [make(session, index, Habits()) for index in range(len(session.step))]
        grams = 10.0 * math.ceil(sum(made.powder_g or 0.0 for made in makes) / 10.0)
        settings = (("supplies.powder", f"{grams:.0f} g"),)
        return change._replace(session=session, says=f"{words.grams(grams)} of powder", settings=settings)
    return change._replace(session=session)


def _changes(session: Session) -> Iterator[Change]:
    """One thing changed at a time, the smallest change first."""
    bare = session._replace(step=())
    if session.supplies.powder_g is not None:
        yield Change(
            "powder", "more powder", "powder", bare._replace(supplies=session.supplies._replace(powder_g=None))
        )
    if session.day.hours_s is not None:
        free = bare._replace(day=session.day._replace(hours_s=None))
        yield Change("hours", "as many hours as it takes", "limit on hours", free, (("day.hours", None),))
    if session.wort.boil_in == "flask":
        yield in_a_pot(bare)
    yield from _flasks(bare)
    for packs in (1, 2, 3):
        yield one_pack_more(bare, packs)
    if session.wort.motion != "stirred":
        stirred = bare._replace(wort=session.wort._replace(motion="stirred"))
        yield Change("stirred", "a stir plate", "motion", stirred, (("wort.motion", "stirred"),))
    if session.batch.chance > 0.5:
        even = bare._replace(batch=session.batch._replace(chance=0.5))
        yield Change("even", "even odds instead of more", "chance", even, (("batch.chance", 0.5),))
    if session.keep is not None and not settle.is_shelf(session):
        yield Change("no-keep", "keep nothing back", "keep", bare._replace(keep=None), (("keep", None),))


def in_a_pot(session: Session) -> Change:
    """The same kitchen with a pot on the stove."""
    pot = session._replace(wort=session.wort._replace(boil_in="pot"))
    return Change("pot", "boil in a pot", "boil limit", pot, (("wort.boil_in", "pot"),))


def _flasks(session: Session) -> Iterator[Change]:
    """The next size, limits grown with it, then a second flask."""
    own = session.flask
    size_l = next((size for size in sorted(flask.TYPICAL) if size > own.size_l + 1e-9), None)
    if size_l is not None:
        larger = own._replace(
            size_l=size_l,
            fill_limit_l=_scaled(own.fill_limit_l, size_l / own.size_l),
            boil_limit_l=_scaled(own.boil_limit_l, size_l / own.size_l),
            glass_g=None,
            base_mm=None,
            height_mm=None,
            neck_mm=None,
            wall_mm=None,
            brim_l=None,
        )
        keys = ("fill_limit", "boil_limit", "glass", "base", "height", "neck", "wall", "brim")
        gone = tuple((f"flask.{key}", None) for key in keys if session.is_given(f"flask.{key}"))
        kept = tuple(
            (f"flask.{key}", f"{value:g} L")
            for key, value in (("fill_limit", larger.fill_limit_l), ("boil_limit", larger.boil_limit_l))
            if value is not None
        )
        settings = (("flask.size", f"{size_l:g} L"), *gone, *kept)
        yield Change("larger", f"a flask of {size_l:g} L", "fill limit", session._replace(flask=larger), settings)
    several = session._replace(flask=own._replace(flasks=own.flasks + 1))
    how_many = "a second flask" if own.flasks == 1 else f"{own.flasks + 1} flasks"
    yield Change("flask", how_many, "fill limit", several, (("flask.count", own.flasks + 1),))


def _scaled(limit_l: float | None, by: float) -> float | None:
    return None if limit_l is None else round(limit_l * by, 2)


def one_pack_more(session: Session, packs: int = 1) -> Change:
    """So many packs more: of the youngest there are, else a month old and of the usual size."""
    says = "one pack more" if packs == 1 else f"{packs} packs more"
    pitch_at = session.batch.pitch_at
    made_on = None if pitch_at is None else pitch_at.date() - timedelta(days=30)
    own = [(lot.made_on, index) for index, lot in enumerate(session.yeast) if lot.made_on and _is_fresh(lot, made_on)]
    if own:
        index = max(own)[1]
        lot = session.yeast[index]
        all_lots = list(session.yeast)
        all_lots[index] = lot._replace(packs=lot.packs + packs)
        settings = ((f"yeast.{index}.count", lot.packs + packs),)
        return Change(f"pack-{packs}", says, "yeast on hand", session._replace(yeast=tuple(all_lots)), settings)
    lot = Lot(kind="pack", made_on=made_on, packs=packs)
    with_lot = session._replace(yeast=(*session.yeast, lot))
    return Change(f"pack-{packs}", f"{says}, a month old", "yeast on hand", with_lot, pack=lot)


def _is_fresh(lot: Lot, made_on: date | None) -> bool:
    """Whether it is a pack such as can still be bought; `made_on` is the day of one a month old."""
    if lot.kind != "pack" or lot.made_on is None or made_on is None:
        return False
    return lots.viability(lot) > _FRESH and lot.made_on > made_on - _OLD
