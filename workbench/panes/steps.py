"""Pane 3, Steps: the feedings in order, the one considered in full beside its flask, and what comes out at the end."""

from __future__ import annotations

from itertools import zip_longest
from typing import TYPE_CHECKING

from workbench.panes import keeping
from workbench.panes.figures import choice, figure, plato, shown, span, value
from workbench.panes.flask_picture import flask
from workbench.panes.rows import Row, Rows
from workbench.plan import settle
from workbench.plan.chance import odds
from workbench.units.when import moment

if TYPE_CHECKING:
    from workbench.panes.rows import Scene
    from workbench.panes.spans import Span
    from workbench.plan.model import StepPlan

__all__ = ["rows"]

_PICTURE = 17  # cells for the flask and the litres beside it
_ROOMY = 40  # cells from which the range of the pitch has room beside its verdict
_MOTIONS = ("stirred", "swirled", "still")


def rows(scene: Scene, cells: int) -> list[Row]:
    """All rows of the pane, for a width."""
    plan = scene.plan
    pane = Rows(scene, cells)
    for step in plan.steps:
        _summary(pane, step)
    if not plan.steps:
        _empty(pane)
        return pane.rows
    pane.blank()
    step = plan.steps[min(scene.step, len(plan.steps) - 1)]
    beside = Rows(scene, cells - _PICTURE)
    if len(plan.steps) > 1:
        beside.say(f"feeding {step.number} of {len(plan.steps)}", "key")
    _details(beside, step)
    _final(beside)
    return pane.rows + _with_picture(beside.rows, scene, step)


def _empty(pane: Rows) -> None:
    plan = pane.scene.plan
    if plan.starter_needed is False:
        pane.say("No starter is needed: the yeast on hand is enough.", "fine")
    pane.say("No feeding yet: press + to add one.", "accent")
    pane.blank()
    pane.add(value("flask", "flask.size", plan.session.flask.size_l, "L", pane.scene))
    _final(pane)


def _summary(pane: Rows, step: StepPlan) -> None:
    """One line a feeding: its wort, when the yeast goes in, for how long, cells in and out."""
    scene, index = pane.scene, step.number - 1
    key = f"step.{index}.wort"
    typed = scene.plan.session.is_given(key)
    wort = str(shown(step.wort_l.value, "L", scene))
    chosen = index == min(scene.step, len(scene.plan.steps) - 1)
    start = moment(step.start, scene.plan.now, scene.tz) if step.start else "start?"
    hours = "" if step.hours_planned is None else str(shown(step.hours_planned, "h", scene))
    both = (step.cells_in_b, step.cells_out_b)
    cells_in, cells_out = (shown(f.value, "B", scene).number for f in both)
    role = "typed" if typed else "text"
    spans: list[Span] = [
        (f"{scene.glyphs.typed if typed else ' '} {wort:<8}", role),
        (f" {start:<12} {hours:<5} {cells_in} {scene.glyphs.arrow} {cells_out} B", "text" if chosen else "dim"),
    ]
    row = Row(f"{step.number}", tuple(spans), id=key, key=key, value=wort if step.wort_l.value is not None else "")
    row = row._replace(figure=step.wort_l, table=("step", index), step=index, label_cells=2)
    pane.add(row)


def _details(pane: Rows, step: StepPlan) -> None:
    """Everything about the feeding considered that its own line does not say."""
    scene, index = pane.scene, step.number - 1
    key = f"step.{index}"
    gravity = value("gravity", f"{key}.gravity", step.planned_w, "w", scene, step.gravity_w)
    pane.add(gravity, note=[(plato(step.planned_w, scene), "dim")])
    how = "yes" if step.decant else "no"
    pane.add(choice("pour off", f"{key}.decant", how, ("no", "yes"), scene))
    pane.add(choice("motion", f"{key}.motion", step.motion, _MOTIONS, scene))
    pane.add(value("grows at", f"{key}.temperature", step.temperature_c.value, "°C", scene, step.temperature_c))
    hours = value("hours", f"{key}.hours", step.hours_planned, "h", scene, step.hours)
    pane.add(hours, note=[_likely_hours(scene, step)], keys=(f"{key}.start",))
    pane.add(
        figure("in flask", step.flask_l, scene, id=f"{key}.flask"),
        note=_fill(scene, step),
        keys=(f"{key}.flask", "flask.fill_limit"),
    )
    _glass(pane, step)
    out = figure("grown", step.cells_out_b, scene, id=f"{key}.out")
    pane.add(out, note=[span(step.cells_out_b, scene)], keys=(f"{key}.cells", key))


def _glass(pane: Rows, step: StepPlan) -> None:
    """The flask and the room in it; the cold rest, where something is poured off."""
    scene, session = pane.scene, pane.scene.plan.session
    count = f"{scene.glyphs.times} {session.flask.flasks}, " if session.flask.flasks > 1 else ""
    roomy = step.headroom_ml.value is not None and pane.cells >= _ROOMY
    room = f"{shown(step.headroom_ml.value, 'mL', scene)} room" if roomy else ""
    glass = value("flask", "flask.size", session.flask.size_l, "L", scene, step.headroom_ml)
    pane.add(glass, note=[((count + room).rstrip(", "), "dim")])
    if step.decant or scene.plan.final.pitch == "decanted":
        pane.add(value("rest", "wort.rest", 3600.0 * settle.rest_h(session), "s", scene), note=[("cold", "dim")])
        left_l = settle.left_after_decant_l(session) / session.flask.flasks
        pane.add(value("leaves", "wort.left_after_decant", left_l, "L", scene), note=[("decanted", "dim")])


def _likely_hours(scene: Scene, step: StepPlan) -> Span:
    """How long it may really take, where the brewer has not set the hours."""
    if scene.plan.session.is_given(f"step.{step.number - 1}.hours") or not step.hours_range:
        return "", "dim"
    low, high = step.hours_range
    return f"({low:.0f}{scene.glyphs.dash}{high:.0f})", "dim"


def _fill(scene: Scene, step: StepPlan) -> list[Span]:
    limit = str(shown(step.fill_limit_l.value, "L", scene))
    return [] if step.fill_fits is False else [(f"of {limit}", "dim")]  # else the warning says so


def _final(pane: Rows) -> None:
    """What goes into the beer, with what chance, and what is kept."""
    scene, final = pane.scene, pane.scene.plan.final
    pane.blank()
    enough = {True: (f"{scene.glyphs.fine} enough", "fine"), False: (f"{scene.glyphs.caution} short", "warning")}
    verdict = [enough[final.meets_need]] if final.meets_need is not None else []
    pane.add(
        figure("pitched", final.pitched_b, scene, id="final.pitched"),
        note=[*([span(final.pitched_b, scene), (" ", "dim")] if pane.cells >= _ROOMY else []), *verdict],
        keys=("final", "final.pitched"),
    )
    pane.add(
        figure("chance", final.chance._replace(unit="chance"), scene, id="final.chance"),
        note=[(odds(final.chance.value), "dim")],
    )
    pane.add(choice("goes in", "batch.pitch", final.pitch, ("whole", "decanted"), scene))
    keeping.add(pane)
    if final.pitch == "whole" and final.poured_l.value is not None and final.beer_gravity_w.value is not None:
        pane.add(
            figure("beer gets", final.beer_gravity_w, scene, id="final.beer_gravity"),
            keys=("final.beer_gravity",),
        )


def _with_picture(rows: list[Row], scene: Scene, step: StepPlan) -> list[Row]:
    """The flask to the left of the rows."""
    below = scene.plan.steps[step.number - 2].flask_l.value if step.number > 1 and not step.decant else None
    high = max(10, min(len(rows), 14))
    levels = {"level": step.flask_l.value, "limit": step.fill_limit_l.value, "below": below}
    labels = {name: shown(held, "L", scene).number for name, held in levels.items() if held is not None}
    drawn = flask(scene.plan.flask, levels, labels, high, _PICTURE, scene.glyphs)
    empty = ((" " * _PICTURE, "glass"),)
    pairs = zip_longest(rows, drawn)
    return [(row or Row())._replace(picture=picture or empty) for row, picture in pairs]
