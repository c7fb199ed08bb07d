"""The cool-down of one feeding's wort: what the readings say of it, and when it is cool enough for the yeast."""

from __future__ import annotations

import math
from datetime import timedelta
from typing import TYPE_CHECKING, NamedTuple

from workbench.brewing import cooling
from workbench.plan import happened
from workbench.plan.model import Figure, Reason, Warning
from workbench.plan.sources import MISSING, NEWTON, TRADE
from workbench.plan.stopwatch import mark_of
from workbench.units.mark import marked, passed

if TYPE_CHECKING:
    from collections.abc import Iterator
    from datetime import datetime

    from workbench.brewing.cooling import Cooling
    from workbench.session.model import Event, Session
    from workbench.units.mark import Mark

__all__ = ["WINDOW_K", "CoolPlan", "cool_plan", "cool_warnings"]

WINDOW_K = 5.0  # wort within so much of the yeast that goes in, and yeast of the beer (common practice)

_LONGEST_MIN = 10_000.0  # a week: what is read later is no cool-down any more
_NO_BATH = "needs the temperature of the bath"
_WHY_NOT = {
    "too-few": "needs two readings of the wort: t",
    "not-cooling": "by these readings it does not cool: look at the bath, stir it, read again",
    "target-below-bath": "the bath is too warm for that: more ice",
}


class CoolPlan(NamedTuple):
    """One cool-down.

    `readings` are minutes since `begun`, °C and their places in the session, `place` is that of the event that began
    it; `found` is the fit, None where there is none.
    `eta` is in minutes since `begun`, with its band; `eta_at` by the clock on the wall; `opens_at`: cool enough to
    pitch, though not yet at the temperature it grows at.
    """

    step: int
    place: int
    begun: Mark
    done: Mark | None
    bath_c: float | None
    target_c: float
    readings: tuple[tuple[float, float, int], ...]
    found: Cooling | None
    k_per_min: Figure
    eta: Figure
    eta_at: datetime | None
    opens: Figure
    opens_at: datetime | None
    changed_at: datetime | None

    def at(self, minutes: float) -> float | None:
        """What the curve says the wort has after so many minutes; None without one."""
        if self.found is None or self.found.curve is None or self.bath_c is None:
            return None
        return self.found.curve.celsius(minutes)


def cool_plan(session: Session, step: int, target_c: float) -> CoolPlan | None:
    """The last cool-down of feeding `step` (from 1) to `target_c`; None where it has not begun."""
    started = _last(session, "cool-on", step)
    begun = None if started is None else mark_of(started)
    if started is None or begun is None:
        return None
    done = _out(session, step, begun)
    readings = _readings(session, step, begun, done)
    bath_c = started.temperature_c
    found = None
    if bath_c is not None:
        points = [cooling.Reading(minutes, celsius) for minutes, celsius, _ in readings]
        found = cooling.cooling(points, bath_c, target_c, session.bath.rate_per_min)
    eta, opens = _eta(found, target_c), _opens(found, bath_c, target_c)
    return CoolPlan(
        *(
            step,
            session.event.index(started),
            begun,
            done,
            bath_c,
            target_c,
            readings,
            found,
            _rate(found),
            eta,
            _at(begun, eta.value),
        ),
        *(opens, _at(begun, opens.value), _at(begun, None if found is None else found.changed_min)),
    )


def _out(session: Session, step: int, begun: Mark) -> Mark | None:
    """When the wort came out of its bath again, or its yeast went in."""
    ends = [_last(session, what, step) for what in ("cool-done", "yeast-in")]
    marks = [mark for end in ends if end is not None and (mark := mark_of(end)) is not None and mark.at >= begun.at]
    return min(marks, key=lambda mark: mark.at, default=None)


def _last(session: Session, what: str, step: int) -> Event | None:
    found = [event for event in session.event if event.what == what and event.step == step and event.at is not None]
    return found[-1] if found else None


def _readings(session: Session, step: int, begun: Mark, done: Mark | None) -> tuple[tuple[float, float, int], ...]:
    """Minutes since the wort went into the bath, and its temperature, as long as it was there."""
    found = []
    for place, reading in enumerate(session.reading):
        if reading.kind != "temperature" or reading.step != step or reading.at is None or reading.value is None:
            continue
        mark = marked(reading.at, reading.mark)
        minutes = passed(begun, mark).seconds / 60.0
        if 0.0 <= minutes <= _LONGEST_MIN and (done is None or passed(mark, done).seconds >= 0.0):
            found.append((minutes, reading.value, place))
    return tuple(sorted(found))


def _at(begun: Mark, minutes: float | None) -> datetime | None:
    if minutes is None or not math.isfinite(minutes) or abs(minutes) > 1e6:
        return None
    return begun.at + timedelta(minutes=minutes)


def _opens(found: Cooling | None, bath_c: float | None, target_c: float) -> Figure:
    """Minutes until the wort is near enough to the yeast to be pitched."""
    near_c = target_c + WINDOW_K
    reached = cooling.reach(found.curve, bath_c, near_c) if found is not None and bath_c is not None else None
    minutes = reached.minutes if isinstance(reached, cooling.Reach) else None
    says = f"{near_c:g} °C, {WINDOW_K:g} K over the {target_c:g} °C it grows at: near enough to yeast once warm"
    unsure = "wort within 5 K of the yeast, and a starter within 5 K of the beer, is what one aims at"
    return Figure(minutes, "min", Reason(says, TRADE, "yeast at the temperature it grows at", unsure))


def _rate(found: Cooling | None) -> Figure:
    curve = None if found is None else found.curve
    if curve is None:
        return Figure(None, "/min", Reason(_NO_BATH if found is None else _WHY_NOT["too-few"], MISSING))
    k, se = curve.k_per_min, curve.k_se
    of = "one reading and the rate of earlier batches" if curve.learnt else f"{curve.readings} readings"
    says = f"k = {k:.4f}{'' if se is None else f' ± {se:.4f}'} per minute from {of}: ln(T - bath) falls by k a minute"
    low, high = (None, None) if se is None else (k - se, k + se)
    return Figure(k, "/min", Reason(says, NEWTON, "1 K above the bath and more", "a bath that warms"), low, high)


def _eta(found: Cooling | None, target_c: float) -> Figure:
    if found is None or found.reach is None:
        says = _NO_BATH if found is None or found.why_not is None else _WHY_NOT[found.why_not]
        return Figure(None, "min", Reason(says, MISSING if found is None else NEWTON))
    minutes, _, half = found.reach
    sure = "" if half is None else f", nine times in ten within {half:.1f} min of it"
    says = f"{target_c:g} °C after {minutes:.1f} min{sure}"
    unsure = "readings half a degree off, a bath that warms; with two readings no error can be told"
    low, high = (None, None) if half is None else (minutes - half, minutes + half)
    return Figure(minutes, "min", Reason(says, NEWTON, "while the bath stays as it is", unsure), low, high)


def cool_warnings(session: Session, plan: CoolPlan | None) -> Iterator[Warning]:
    """That the cooling is no longer what it was, and that the wort has become too cold for its yeast."""
    if plan is None or happened.begun(session, plan.step) is not None:
        return
    if plan.changed_at is not None and plan.done is None:
        text = "the last readings lie off the curve: the ice is gone, or the bath was stirred; the curve starts anew"
        yield Warning("cooling-changed", "note", text, f"clock.{plan.step}.eta")
    read = [r for r in session.reading if r.kind == "temperature" and r.step == plan.step and r.at is not None]
    last_c = next((r.value for r in reversed(read) if r.at is not None and r.at >= plan.begun.at), None)
    if last_c is not None and last_c < plan.target_c - WINDOW_K:
        text = f"wort read at {last_c:g} °C, to grow at {plan.target_c:g} °C: let it warm before the yeast goes in"
        yield Warning("wort-cold", "caution", text, f"step.{plan.step - 1}.start")
