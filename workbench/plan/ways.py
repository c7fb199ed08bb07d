"""Ways to go on, side by side: the planner's own, its alternatives, and what helps where nothing fits; worked out."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from workbench.brewing import density, starter
from workbench.plan import fixed, happened, kitchen, late, planner, settle
from workbench.plan.adopt import steps_edits
from workbench.plan.cost import cost, powder_g
from workbench.plan.derive import derive
from workbench.plan.effort import best_effort
from workbench.plan.option import Option
from workbench.plan.portion import Portion
from workbench.plan.relax import Change, in_a_pot, one_pack_more, relaxations, solved
from workbench.plan.timeliness import is_late
from workbench.session.edits import AddTable, SetValue, Unset
from workbench.units.when import hours_between

if TYPE_CHECKING:
    from collections.abc import Iterator
    from datetime import datetime

    from workbench.plan.habits import Habits
    from workbench.plan.model import Figure, Plan
    from workbench.session.edits import Edit
    from workbench.session.literal import TomlValue
    from workbench.session.model import Session, Step

__all__ = ["Way", "is_past", "ways", "worked_out"]

_SAVES = 0.7  # of the extract: a feeding more has to save so much
_WEAK_SG = 1.020
_WEAK_VIABILITY = 0.5  # of the lots: below, a small weak first feeding is common practice
_GENTLE_R, _SMALL = 1.0, 0.25  # of that feeding: B/g, and at most so much of the flasks (recommended)


class Way(NamedTuple):
    """An option with its whole plan, and what powder and packs cost."""

    option: Option
    plan: Plan
    cost: Figure

    @property
    def hours(self) -> float | None:
        """From the first yeast in to pitching."""
        start, pitch_at = self.plan.hand.at, self.plan.session.batch.pitch_at
        return None if start is None or pitch_at is None else hours_between(start, pitch_at)

    @property
    def powder_g(self) -> float:
        """Of all feedings."""
        return powder_g(self.plan)


def ways(session: Session, now: datetime, habits: Habits) -> tuple[Way, ...]:
    """All ways worth showing from a session as its file has it; where it is too late for its plan, those still open."""
    keep = fixed.places(session)
    plan = derive(session, now, habits)
    proposed = steps_edits(0, plan.session.step) if plan.planned_by == "planner" else ()
    too_late = [o._replace(edits=(*proposed, *o.edits)) for o in late.options(plan.session, plan, now, habits)]
    options = () if happened.pitched(session) else _options(session, keep)
    others = (worked_out(option, now, habits) for option in options)
    return (*(worked_out(o, now, habits) for o in too_late), *(way for way in others if not is_past(way.plan, now)))


def worked_out(option: Option, now: datetime, habits: Habits) -> Way:
    """The way with its plan."""
    plan = derive(option.session, now, habits)
    return Way(option, plan, cost(plan))


def is_past(plan: Plan, now: datetime) -> bool:
    """Whether a feeding that has not begun would have had to begin by now, or its wort to be made."""
    if not plan.steps:
        return False
    coming = plan.steps[happened.last_begun(plan.session) :]
    return is_late(plan.session, plan.hand.at, now) or any(step.start and step.start < now for step in coming)


def _options(session: Session, keep: tuple[int, ...]) -> Iterator[Option]:
    bare = session._replace(step=())
    if not keep and planner.solve(bare) == ():
        yield Option("as-it-is", "the yeast as it is, no starter", bare, steps_edits(len(session.step), ()))
        if settle.all_dry(session):
            return
    base = planner.propose(session, keep=keep)
    if base is None:
        yield from _helps(session, keep)
        return
    yield _with_steps(session, "planner", "as few as will do", base, keep)
    told = {base}
    for code, says, steps in _alternatives(session, keep, base):
        if steps is not None and steps not in told:
            told.add(steps)
            yield _with_steps(session, code, says, steps, keep)
    for change in _other_kitchens(session, base):
        steps = solved(session, change, keep)
        if steps == () and not change.code.startswith("pack"):
            continue  # that no feeding is needed has been said
        if steps is not None and (steps != base or change.code == "decanted"):
            yield _changed(session, change._replace(session=change.session._replace(step=steps)), keep)


def _alternatives(
    session: Session, keep: tuple[int, ...], base: tuple[Step, ...]
) -> Iterator[tuple[str, str, tuple[Step, ...] | None]]:
    """Other feedings in the same kitchen."""
    if any(step.top_up_l for step in base):
        yield "plain", "no top-up", planner.propose(session, keep=keep, boils="plain")
    elif session.wort.boil_in == "flask":
        topped = planner.propose(session, keep=keep, boils="topped")
        if topped is not None and len(topped) <= len(base) and any(step.top_up_l for step in topped):
            yield "topped", "strong boil, topped up", topped
    if len(base) < kitchen.MOST_STEPS:
        more = planner.propose(session, keep=keep, counts=(len(base) + 1,), thrifty=True)
        if more is not None and _extract(session, more) <= _SAVES * _extract(session, base):
            yield "thrifty", "a feeding more, less powder", more
    if not keep and (weak := _weak_portion(session)) is not None:
        yield "weak", "a small weak feeding first", planner.propose(session, first=weak)


def _extract(session: Session, steps: tuple[Step, ...]) -> float:
    """Grams in the wort of all feedings, near enough to compare."""
    worts = [(step.wort_l or 0.0, step.gravity_w or session.wort.gravity_w) for step in steps]
    return sum(1000.0 * wort_l * w * density.sg(w) for wort_l, w in worts)


def _weak_portion(session: Session) -> Portion | None:
    """A small weak first feeding for yeast of which less than half lives."""
    room = kitchen.kitchen(session)
    if room is None or not room.first:
        return None
    stock = room.stock(0.0)
    if not 0.0 < stock.viability < _WEAK_VIABILITY:
        return None
    usual = room.first[0]
    w = density.extract_from_sg(_WEAK_SG)
    g_per_l = w * density.wort(w, 20.0)
    wanted_l = stock.live_b / _GENTLE_R / g_per_l
    small = [portion.wort_l for portion in room.first if portion.wort_l <= _SMALL * room.fill_l] or [usual.wort_l]
    wort_l = min(small, key=lambda litres: abs(litres - wanted_l))
    feeding = starter.Feeding(g_per_l * wort_l, decant=False, motion=usual.feeding.motion, rate=usual.feeding.rate)
    return Portion(wort_l, 0.0, feeding, gravity_w=w)


def _other_kitchens(session: Session, base: tuple[Step, ...]) -> Iterator[Change]:
    """The same request with one thing done otherwise."""
    bare = session._replace(step=())
    if session.wort.boil_in == "flask":
        yield in_a_pot(bare)._replace(says="boiled in a pot")
    if not settle.all_dry(session):
        yield one_pack_more(bare)
    if settle.pitch(session) == "whole" and base:
        decanted = bare._replace(batch=session.batch._replace(pitch="decanted"))
        yield Change("decanted", "poured off before pitching", "", decanted, (("batch.pitch", "decanted"),))


def _helps(session: Session, keep: tuple[int, ...]) -> Iterator[Option]:
    """Where nothing fits: the most there is to be had, and what would make it fit."""
    most = best_effort(session, keep)
    if most is not None:
        says = "the most to be had here" if session.day.hours_s is None else "in the hours there are"
        yield _with_steps(session, "most", says, most, keep)
    for change in relaxations(session if keep else session._replace(step=()), keep):
        yield _changed(session, change, keep)


def _with_steps(session: Session, code: str, says: str, steps: tuple[Step, ...], keep: tuple[int, ...]) -> Option:
    wanted = session._replace(step=steps, batch=session.batch._replace(starter=True))
    return Option(code, says, wanted, (*_asked_again(session), *steps_edits(len(session.step), steps, keep)))


def _asked_again(session: Session) -> tuple[Edit, ...]:
    """Feedings are wanted again, where the file says they are not."""
    return () if session.batch.starter else (Unset("batch.starter"),)


def _changed(session: Session, change: Change, keep: tuple[int, ...]) -> Option:
    """With the settings that the file is to have then."""
    edits: list[Edit] = [Unset(key) if value is None else SetValue(key, value) for key, value in change.settings]
    if change.pack is not None:
        values: dict[str, TomlValue] = {"kind": "pack", "count": change.pack.packs}
        if change.pack.made_on is not None:
            values["made_on"] = change.pack.made_on
        edits.append(AddTable("yeast", len(session.yeast), values))
    steps = change.session.step
    wanted = change.session._replace(batch=change.session.batch._replace(starter=True))
    edits += [*_asked_again(session), *steps_edits(len(session.step), steps, keep)]
    return Option(change.code, change.says, wanted, tuple(edits))
