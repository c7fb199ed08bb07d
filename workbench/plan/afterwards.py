"""Planned against actual, feeding by feeding: the plan before anything happened, and what then was measured."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from workbench.brewing import wort
from workbench.plan import happened
from workbench.plan.cool import cool_plan
from workbench.plan.habits import Habits
from workbench.plan.readings import measured, noted, stamp
from workbench.plan.stopwatch import boil_of
from workbench.units.mark import passed
from workbench.units.when import hours_between

if TYPE_CHECKING:
    from collections.abc import Iterator
    from datetime import datetime

    from workbench.plan.model import Plan, StepPlan
    from workbench.session.model import Reading

__all__ = ["Compared", "compared"]


class Compared(NamedTuple):
    """One thing of feeding `step` (0: of the whole), as planned and as it was; in `unit`, or two times (unit "")."""

    step: int
    what: str
    unit: str
    planned: float | datetime | None
    actual: float | datetime


def compared(plan: Plan, habits: Habits | None = None) -> tuple[Compared, ...]:
    """Everything that was measured or stamped, beside what the session without any of it would have come to."""
    session = plan.session
    if not session.event and not session.reading:
        return ()
    from workbench.plan.derive import derive  # which is above this

    bare = derive(session._replace(event=(), reading=()), plan.now, habits)
    found = [row for was, now in zip(bare.steps, plan.steps, strict=False) for row in _of(plan, was, now, habits)]
    pitched = happened.pitched(session)
    if pitched is not None:
        found.append(Compared(0, "pitched", "", session.batch.pitch_at, pitched))
    return tuple(found)


def _of(plan: Plan, was: StepPlan, now: StepPlan, habits: Habits | None) -> Iterator[Compared]:
    """One feeding, from its wort to its cells."""
    yield from _wort(plan, was, habits)
    yield from _growth(plan, was, now)


def _wort(plan: Plan, was: StepPlan, habits: Habits | None) -> Iterator[Compared]:
    session, step = plan.session, was.number
    found = measured(session, step, habits or Habits())
    gravity_w = _as_put_right(plan, step) if found.gravity_w is not None else None
    if gravity_w is not None:
        yield Compared(step, "gravity", "w", was.planned_w, gravity_w)
    if found.volume_l is not None:
        yield Compared(step, "volume", "L", was.wort_l.value, found.volume_l)
    boil = boil_of(session, step, was.boil_time_s.value or 0.0)
    if boil is not None and boil.done is not None:
        yield Compared(step, "boiled", "s", was.boil_time_s.value, boil.all_s)
    if boil is not None and boil.lost:
        yield Compared(step, "lost", "L", 0.0, sum(lost.volume_l for lost in boil.lost))
    off_ml = _boiled_off(was, gravity_w, found.volume_l)
    if off_ml is not None and gravity_w is not None and boil is not None:
        off_ml -= sum(wort.finished_mass_g(lost.volume_l, gravity_w) for lost in boil.lost) / wort.water_mass_g(0.001)
    if off_ml is not None:
        yield Compared(step, "boil-off", "mL", was.boil_off_ml.value, off_ml)
    cool = cool_plan(session, step, was.temperature_c.value or 0.0)
    if cool is not None and cool.done is not None:
        yield Compared(step, "cooled in", "s", None, passed(cool.begun, cool.done).seconds)


def _growth(plan: Plan, was: StepPlan, now: StepPlan) -> Iterator[Compared]:
    session, step = plan.session, was.number
    start = happened.begun(session, step)
    if start is not None:
        yield Compared(step, "yeast in", "", was.start, start)
        end = stamp(session, "chill-on", step) or happened.begun(session, step + 1) or happened.pitched(session)
        if end is not None and end > start:
            yield Compared(step, "grown for", "h", was.hours_planned, hours_between(start, end))
    warm = [r.value for r in session.reading if r.step == step and r.kind == "temperature" and _is_of_growth(r, start)]
    if warm and warm[-1] is not None:
        yield Compared(step, "grown at", "°C", was.temperature_c.value, warm[-1])
    for reading in session.reading:
        if reading.step == step and reading.kind == "count" and reading.value is not None:
            yield Compared(step, "cells", "B", now.cells_out_b.value, reading.value)


def _is_of_growth(reading: Reading, start: datetime | None) -> bool:
    return start is not None and reading.at is not None and reading.at > start


def _as_put_right(plan: Plan, step: int) -> float | None:
    """The gravity that the plan goes by, corrected with the brewer's own instruments."""
    place = noted(plan.session, step).gravity_at
    return next((reading.true_w.value for reading in plan.readings if reading.place == place), None)


def _boiled_off(was: StepPlan, gravity_w: float | None, volume_l: float | None) -> float | None:
    """What really boiled off, where gravity and volume are both known: what is missing of all that was weighed in."""
    powder_g, water_l = was.powder_g.value, was.water_l.value
    if gravity_w is None or volume_l is None or powder_g is None or water_l is None:
        return None
    in_g = powder_g + wort.water_mass_g(water_l + (was.top_up_l.value or 0.0))
    return (in_g - wort.finished_mass_g(volume_l, gravity_w)) / wort.water_mass_g(0.001)
