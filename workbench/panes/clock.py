"""Pane 5, Clock: the boil by the second, the cool-down with its curve, growth and rest by the hour."""

from __future__ import annotations

import math
from datetime import timedelta
from typing import TYPE_CHECKING

from workbench.panes.cool_curve import cool_curve
from workbench.panes.digits import WIDTH, clock_text, large
from workbench.panes.empty import leads
from workbench.panes.figures import about, figure, shown, value
from workbench.panes.rows import Row, Rows, number
from workbench.panes.spans import pad
from workbench.plan.clock import LAST_MINUTE_S, boil_time
from workbench.plan.cool import WINDOW_K
from workbench.plan.growing import DONE_SHARE
from workbench.units.retold import retold
from workbench.units.when import lasting, local, moment

if TYPE_CHECKING:
    from datetime import datetime

    from workbench.panes.rows import Scene
    from workbench.panes.spans import Span, Spans
    from workbench.plan.clock import ClockPlan, Live
    from workbench.plan.cool import CoolPlan
    from workbench.plan.growing import GrowthPlan
    from workbench.plan.model import StepPlan
    from workbench.plan.stopwatch import Boil

__all__ = ["rows"]

_CURVE_ROWS = 7
_MOST_READINGS = 2  # told as rows, the last ones; the curve has them all
_MOST_CURVE = 60  # cells; wider it says no more


def rows(scene: Scene, cells: int) -> list[Row]:
    """All rows of the pane, for a width."""
    pane, clock, live = Rows(scene, cells), scene.plan.clock, scene.live
    if clock is None or live is None:
        pane.say(f"Nothing to time yet. {leads(scene)}")
        return pane.rows
    if clock.pitched is not None:
        pane.say(f"The yeast went into the beer {moment(clock.pitched, scene.plan.now, scene.tz)}.", "fine")
        return pane.rows
    if scene.asked:
        _asking(pane, live)
    if clock.growth is not None:
        _growth(pane, clock.growth, live)
    if clock.growth is None or clock.growth.step != clock.step:
        pane.blank()
        _boil(pane, clock, live, scene.plan.steps[clock.step - 1])
        if clock.cool is not None:
            _cool(pane, clock.cool, live)
    if live.rings is not None:
        hour = moment(live.rings.at, scene.plan.now, scene.tz)
        says = retold(live.rings.says, scene.system, comma=scene.comma)
        pane.add(Row("rings", ((f" {hour} ", "dim"),)), note=[(says, "dim")], column=0)
    return pane.rows


def _asking(pane: Rows, live: Live) -> None:
    """Whether a boil that ran on while the program was closed, or its machine asleep, went on boiling."""
    pane.say(f"The boil ran on unseen; by the clock it has been {clock_text(live.boiled_s)}. Did it boil?", "warning")
    pane.say("A sleeping laptop can't ring: set a kitchen timer too.")
    for does, says in (
        ("boil-went-on", "it boiled all that time"),
        ("boil-off-at", "the heat went off at …"),
        ("boil-unsure", "nobody knows"),
    ):
        pane.rows.append(Row(spans=((f"  {says}", "text"),), label_cells=0, id=does, does=does))
    pane.blank()


def _boil(pane: Rows, clock: ClockPlan, live: Live, step: StepPlan) -> None:
    scene, key = pane.scene, f"step.{step.number - 1}.boil_time"
    pane.say(f"feeding {step.number}, boil{'ed' if live.boil == 'done' else 's'} in the {step.boil_in}", "text")
    if live.boil in ("on", "held"):
        _in_digits(pane, _large(live, scene), _beside(clock, live, scene))
    boil, by_a_minute = clock.boil, f"{scene.key('longer', 'shorter')} a minute"
    if boil is None:
        of: Span = (f"of {clock_text(clock.planned_s)}", "text")
        starts: Span = (f"{scene.key('boil')} starts it", "accent")
        _in_digits(pane, large(0.0, "dim", scene.glyphs), (of, starts, ("", "dim")))
        pane.add(value("to boil", key, clock.planned_s, "s", scene), note=[(by_a_minute, "dim")])
        pane.say(f"{scene.key('end')} ends it; then {scene.key('temperature')} reads the wort as it cools")
        return
    over = boil.done is not None
    note = f"boiled {clock_text(live.boiled_s)}" if over else by_a_minute
    planned = boil_time(clock, step.boil_time_s)
    pane.add(figure("to boil", planned, scene, id=key), note=[(note, "text" if over else "dim")])
    if boil.done is not None and boil.holds:
        pane.rows.append(Row("held", ((f" {_held(boil)}", "text"),)))
    if boil.lost:
        litres = sum(lost.volume_l for lost in boil.lost)
        pane.rows.append(Row("lost", number(*shown(litres, "L", scene), scene.glyphs, typed=True)))
    if boil.unsure_s:
        pane.say(f"{lasting(timedelta(seconds=boil.unsure_s))} of it are not known: measure gravity and volume")
    if boil.stepped_s:
        pane.say(f"the clock on the wall was set by {lasting(timedelta(seconds=boil.stepped_s))}; the boil is right")


def _in_digits(pane: Rows, digits: list[Spans], beside: tuple[Span, ...]) -> None:
    for line, says in zip(digits, beside, strict=True):
        pane.rows.append(Row(spans=(*pad(line, WIDTH + 2), says), label_cells=0))
    pane.blank()


def _large(live: Live, scene: Scene) -> list[Spans]:
    over = live.boil == "on" and live.left_s <= 0.0
    role = "danger" if over else {"on": "accent", "held": "warning"}.get(live.boil, "text")
    return large(live.boiled_s, role, scene.glyphs)


def _beside(clock: ClockPlan, live: Live, scene: Scene) -> tuple[Span, Span, Span]:
    """What the digits mean, what is left, how often and how long it was held.

    Only the digits change by the second: what stands beside them would be sent along.
    """
    held = ("" if clock.boil is None else _held(clock.boil), "dim")
    if live.boil == "held":
        return ("held", "warning"), (f"for {clock_text(live.held_s)}", "text"), held
    of = (f"of {clock_text(clock.planned_s)}", "accent")
    if live.left_s <= 0.0:
        return of, (f"over: heat off, {scene.key('end')}", "danger"), held
    if live.left_s <= LAST_MINUTE_S:
        return of, ("the last minute", "warning"), held
    return of, (f"{math.ceil(live.left_s / 60.0)} min left", "text"), held


def _held(boil: Boil) -> str:
    """`2 holds, 01:10`, without the hold that goes on; nothing where it was never held."""
    if not boil.holds:
        return ""
    return f"{boil.holds} hold{'s' if boil.holds > 1 else ''}, {clock_text(boil.held_s)}"


def _cool(pane: Rows, cool: CoolPlan, live: Live) -> None:
    scene, key = pane.scene, f"clock.{cool.step}"
    pane.say(_cooling(scene, live), "text")
    pane.add(value("bath", f"event.{cool.place}.temperature", cool.bath_c, "°C", scene))
    for minutes, celsius, place in cool.readings[-_MOST_READINGS:]:
        at = local(cool.begun.at + timedelta(minutes=minutes), scene.tz)
        read = value("read", f"reading.{place}.value", celsius, "°C", scene)
        pane.add(read._replace(table=("reading", place)), note=[(f"{at:%H:%M}", "dim")])
    if cool.done is None or cool.k_per_min.value is not None:
        pane.add(figure("rate", cool.k_per_min, scene, id=f"{key}.rate"))
    if cool.opens_at is not None and cool.done is None:
        opens = shown(cool.target_c + WINDOW_K, "°C", scene)
        spans = ((f" {_hour(cool.opens_at, scene)}", "text"), (f"  {opens}, near enough", "dim"))
        pane.rows.append(Row("pitch at", spans, id=f"{key}.opens", figure=cool.opens))
    if cool.done is None or cool.eta_at is not None:
        pane.add(_eta(cool, scene), keys=(f"{key}.eta",))
    for line in cool_curve(cool, scene, min(pane.cells - 1, _MOST_CURVE), _CURVE_ROWS):
        pane.rows.append(Row(spans=line, label_cells=0))


def _cooling(scene: Scene, live: Live) -> str:
    """`cooling for 10 min: 39 °C by now`."""
    if live.cooling_s is None:
        return "cooled"
    by_now = "" if live.wort_c is None else f": {about(live.wort_c, '°C', scene)} by now"
    return f"cooling for {lasting(timedelta(seconds=live.cooling_s))}{by_now}"


def _eta(cool: CoolPlan, scene: Scene) -> Row:
    """When it reaches the temperature it grows at, by the clock on the wall; why not, where that cannot be told."""
    id_, target = f"clock.{cool.step}.eta", shown(cool.target_c, "°C", scene)
    if cool.eta_at is None or cool.eta.value is None:
        return Row("cool at", ((f" {cool.eta.why.says}", "dim"),), id=id_, figure=cool.eta)
    curve = None if cool.found is None else cool.found.curve
    learnt = ", as learnt" if curve is not None and curve.learnt else ""
    spans: list[Span] = [(f" {_hour(cool.eta_at, scene)}", "text"), (f"  {target}{learnt}", "dim")]
    if cool.eta.low is not None and cool.eta.high is not None:
        ends = (cool.begun.at + timedelta(minutes=end) for end in (max(-1e6, cool.eta.low), min(1e6, cool.eta.high)))
        spans.append(("  " + scene.glyphs.dash.join(_hour(end, scene) for end in ends), "dim"))
    return Row("cool at", tuple(spans), id=id_, figure=cool.eta)


def _hour(at: datetime, scene: Scene) -> str:
    return f"{local(at, scene.tz):%H:%M}"


def _growth(pane: Rows, growth: GrowthPlan, live: Live) -> None:
    scene, step = pane.scene, pane.scene.plan.steps[growth.step - 1]
    pane.say(f"feeding {growth.step} {'rests in the cold' if growth.cold is not None else 'grows'}", "text")
    key = f"clock.{growth.step}"
    if live.grown is not None:
        spans = number(f"{100 * live.grown:.0f}", "%", scene.glyphs)
        pane.add(Row("grown", spans, id=f"{key}.grown", figure=step.hours), note=[("by the model", "dim")])
    until = growth.due if growth.cold is not None else growth.end
    if live.left_h is not None and until is not None:
        left = lasting(timedelta(hours=live.left_h))
        over = live.left_h < 0.0
        says: Span = (f" over by {left},", "warning") if over else (f" {left}", "text")
        hour = f" {'since' if over else 'to'} {moment(until, scene.plan.now, scene.tz)}"
        pane.rows.append(Row("left", (says, (hour, "dim"))))
    if growth.read_at is not None:
        reading = scene.plan.session.reading[growth.read_at]
        row = value("read", f"reading.{growth.read_at}.value", reading.value, "°C", scene)
        at = "" if reading.at is None else moment(reading.at, scene.plan.now, scene.tz)
        pane.add(row._replace(table=("reading", growth.read_at)), note=[(at, "dim")])
    for test in growth.tests:
        share = test.share.value or 0.0
        verdict = "done" if share >= DONE_SHARE else "nearly done" if share >= DONE_SHARE - 0.1 else "not yet done"
        row = figure("by test", test.share, scene, id=f"{key}.test.{test.place}")
        model = "" if test.model is None else f", model {100 * test.model:.0f} %"
        pane.add(row, note=[(f"{verdict}{model}", "fine" if share >= DONE_SHARE else "text")])
