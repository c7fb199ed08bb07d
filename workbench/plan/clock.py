"""What runs on the day: the boil, the cool-down, growth and rest. `live` reads it at an instant, at next to no cost."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING, Literal, NamedTuple, TypeAlias

from workbench.plan import growing, happened, settle, stopwatch
from workbench.plan.cool import cool_plan
from workbench.plan.model import Reason
from workbench.plan.sources import ASKED
from workbench.units.mark import passed

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from datetime import datetime

    from workbench.plan.cool import CoolPlan
    from workbench.plan.culture import Course
    from workbench.plan.growing import GrowthPlan
    from workbench.plan.made import Content
    from workbench.plan.model import Figure, ReadingPlan
    from workbench.plan.stopwatch import Boil
    from workbench.session.model import Session
    from workbench.units.mark import Mark

__all__ = [
    "LAST_MINUTE_S",
    "Alarm",
    "ClockPlan",
    "Live",
    "alarms",
    "boil_time",
    "clock_plan",
    "due",
    "expected",
    "live",
]

LAST_MINUTE_S = 60.0

State: TypeAlias = Literal["none", "on", "held", "done"]


class ClockPlan(NamedTuple):
    """`step`: the feeding whose wort is to be made, else the last one. Boil and cool-down are of that feeding.

    `given`: the names of the alarms that were given. `pitched`: when the yeast went into the beer; then nothing runs.
    """

    step: int
    planned_s: float
    boil: Boil | None
    cool: CoolPlan | None
    growth: GrowthPlan | None
    given: frozenset[str]
    pitched: datetime | None


class Alarm(NamedTuple):
    """Something to ring for: `name` is that of one kind of alarm of one feeding, `at` when it is due."""

    name: str
    at: datetime
    says: str


class Live(NamedTuple):
    """The clock at one instant. `left_s` is below 0 once the boil is over its time; `held_s` is of this hold alone.

    `cooling_s`: since the wort went into the bath, None once it is out; `wort_c`: what the curve says it has by now;
    `grown`: share of the growth; `left_h`: until growth is done, or in the cold until the rest is over.
    `rings`: the next alarm.
    """

    boil: State
    boiled_s: float
    left_s: float
    held_s: float
    cooling_s: float | None
    wort_c: float | None
    grown: float | None
    left_h: float | None
    rings: Alarm | None

    @property
    def runs(self) -> bool:
        """Whether something is timed by the second."""
        return self.boil in ("on", "held")


def clock_plan(
    session: Session, course: Course, contents: Sequence[Content | None], readings: Sequence[ReadingPlan]
) -> ClockPlan | None:
    """What runs; None where there is no feeding."""
    if not session.step:
        return None
    step = happened.next_to_begin(session) or happened.last_begun(session)
    asked = settle.asked(session, step - 1)
    boil = stopwatch.boil_of(session, step, asked.boil_time_s)
    return ClockPlan(
        step,
        asked.boil_time_s if boil is None else boil.planned_s,
        boil,
        cool_plan(session, step, asked.temperature_c),
        growing.growing(session, course, contents, readings),
        frozenset(event.task for event in session.event if event.what == "rang"),
        happened.pitched(session),
    )


def boil_time(clock: ClockPlan, planned: Figure) -> Figure:
    """How long the wort is to boil, s: as `planned` beforehand, unless that was changed since it began."""
    if planned.value == clock.planned_s:
        return planned
    why = Reason("how long this wort is to boil: changed while it boiled, and stamped", ASKED, planned.why.valid)
    return planned._replace(value=clock.planned_s, why=why)


def live(clock: ClockPlan, now: Mark) -> Live:
    """All that runs, as it stands now."""
    boil = clock.boil
    boiled_s = 0.0 if boil is None else stopwatch.boiled_s(boil, now)
    held_s = 0.0 if boil is None or boil.held_since is None else max(0.0, passed(boil.held_since, now).seconds)
    cool = clock.cool
    cooling_s = None if cool is None or cool.done is not None else max(0.0, passed(cool.begun, now).seconds)
    growth = clock.growth
    left_h = None if growth is None else _left_h(growth, now)
    return Live(
        _state(boil),
        boiled_s,
        clock.planned_s - boiled_s,
        held_s,
        cooling_s,
        None if cool is None or cooling_s is None else cool.at(cooling_s / 60.0),
        None if growth is None else growing.share_at(growth, now.at),
        left_h,
        min((a for a in alarms(clock, now) if a.at > now.at), key=lambda a: a.at, default=None),
    )


def expected(clock: ClockPlan | None, now: Mark) -> dict[tuple[str, int], datetime]:
    """When what runs will be over, by the name of the task that ends it and its feeding."""
    if clock is None:
        return {}
    found = {}
    if clock.boil is not None and clock.boil.done is None:
        since = clock.boil.since or now  # held, it goes on now at the soonest
        found["off", clock.step] = since.at + timedelta(seconds=clock.planned_s - clock.boil.boiled_s)
    cool = clock.cool
    if cool is not None and cool.done is None and cool.eta_at is not None:
        found["cooled", clock.step] = max(now.at, cool.eta_at)
    return found


def _state(boil: Boil | None) -> State:
    if boil is None:
        return "none"
    return "on" if boil.since is not None else "done" if boil.done is not None else "held"


def _left_h(growth: GrowthPlan, now: Mark) -> float | None:
    until = growth.due if growth.cold is not None else growth.end
    return None if until is None else (until - now.at).total_seconds() / 3600.0


def due(clock: ClockPlan, now: Mark) -> list[Alarm]:
    """The alarms that are due by now and have not been given, the earliest first."""
    return sorted((a for a in alarms(clock, now) if a.at <= now.at and a.name not in clock.given), key=lambda a: a.at)


def alarms(clock: ClockPlan, now: Mark) -> Iterator[Alarm]:
    """Every alarm whose time is known, due or not.

    The name of each says of which boil of what length it is, or of which end: made longer, a boil rings again.
    """
    if clock.boil is not None and clock.boil.since is not None:
        yield from _of_boil(clock, clock.boil, now)
    cool = clock.cool
    if cool is not None and cool.done is None and cool.eta_at is not None:
        name = f"{clock.step}.cool.{cool.begun.at:%d%H%M}"
        yield Alarm(name, cool.eta_at, f"cool enough by now, {cool.target_c:g} °C: read it")
    growth = clock.growth
    if growth is None:
        return
    if growth.cold is None and growth.end is not None:
        says = f"feeding {growth.step} has grown as long as planned"
        yield Alarm(f"{growth.step}.grown.{growth.end:%d%H}", growth.end, says)
    if growth.cold is not None and growth.due is not None:
        yield Alarm(f"{growth.step}.rested.{growth.due:%d%H}", growth.due, f"feeding {growth.step} has settled")


def _of_boil(clock: ClockPlan, boil: Boil, now: Mark) -> Iterator[Alarm]:
    """One minute left, and done: by the wall clock as it is now."""
    left_s = clock.planned_s - stopwatch.boiled_s(boil, now)
    which = f"{boil.begun.at:%d%H%M%S}.{clock.planned_s:.0f}"
    if clock.planned_s > LAST_MINUTE_S:
        at = now.at + timedelta(seconds=left_s - LAST_MINUTE_S)
        yield Alarm(f"{clock.step}.last-minute.{which}", at, "a minute of the boil is left")
    at = now.at + timedelta(seconds=left_s)
    yield Alarm(f"{clock.step}.boiled.{which}", at, "boil done: heat off")
