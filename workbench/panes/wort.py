"""Pane 2, Wort: powder and water for the gravity wanted on this stove, and what the readings truly were."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.panes.empty import leads
from workbench.panes.figures import choice, figure, plato, shown, value, words_row
from workbench.panes.rows import Rows

if TYPE_CHECKING:
    from workbench.panes.rows import Row, Scene
    from workbench.panes.spans import Span
    from workbench.plan.model import Figure, ReadingPlan, StepPlan
    from workbench.plan.solver import Term

__all__ = ["rows"]


def rows(scene: Scene, cells: int) -> list[Row]:
    """All rows of the pane, for a width."""
    pane = Rows(scene, cells)
    steps = scene.plan.steps
    if not steps:
        _habits(pane)
        return pane.rows
    step = steps[min(scene.step, len(steps) - 1)]
    _heading(pane, step, len(steps))
    _balance(pane, step)
    _boil(pane, step)
    pane.blank()
    _readings(pane, step)
    return pane.rows


def _heading(pane: Rows, step: StepPlan, count: int) -> None:
    if count > 1:
        others = f"{pane.scene.key('step-back', 'step-on')} the others"
        pane.add(words_row("step", "", f"{step.number} of {count}", pane.scene), note=[(others, "dim")])


def _balance(pane: Rows, step: StepPlan) -> None:
    """What goes in and what comes out."""
    scene, key = pane.scene, f"step.{step.number - 1}"
    came_out = _came_out(step, scene)
    gravity = value("gravity", f"{key}.gravity", step.planned_w, "w", scene, None if came_out else step.gravity_w)
    pane.add(gravity._replace(term="gravity"), note=[(plato(step.planned_w, scene), "dim")])
    if came_out:
        pane.add(figure("it is", step.gravity_w, scene, id=f"{key}.true"), note=[(came_out, "accent")])
    made = value("wort", f"{key}.wort", step.wort_l.value, "L", scene, step.wort_l)
    pane.add(made._replace(term="wort"), note=[("finished", "dim")])
    terms: tuple[tuple[Term, Figure], ...] = (("powder", step.powder_g), ("water", step.water_l))
    for term, worked_out in terms:
        pane.add(_solved(term, worked_out, f"{key}.{term}", scene), note=_stands(term, scene), keys=(f"{key}.{term}",))
    top_up = "boiled and cooled" if step.top_up_l.value else ""
    pane.add(value("top-up", f"{key}.top_up", step.top_up_l.value, "L", scene, step.top_up_l), note=[(top_up, "dim")])


def _came_out(step: StepPlan, scene: Scene) -> str:
    """How the wort came by a gravity of its own: by a reading, or by what it boiled where that can be seen; else ""."""
    is_w = step.gravity_w.value
    if any(reading.step == step.number and reading.true_w.value == is_w for reading in scene.plan.readings):
        return "" if is_w is None else "measured"
    seen = shown(is_w, "w", scene) != shown(step.planned_w, "w", scene)
    return "as boiled" if is_w is not None and seen else ""


def _solved(term: Term, worked_out: Figure, id: str, scene: Scene) -> Row:  # noqa: A002 - the row's own word
    """A term that the file does not keep: typed, it is solved for what the file does."""
    said = shown(worked_out.value, worked_out.unit, scene)
    start = "" if worked_out.value is None else str(said)
    return figure(term, worked_out, scene, id=id)._replace(term=term, value=start)


def _stands(term: Term, scene: Scene) -> list[Span]:
    return [("as typed", "accent")] if term in scene.stands else []


def _boil(pane: Rows, step: StepPlan) -> None:
    scene, key = pane.scene, f"step.{step.number - 1}"
    pane.add(choice("boil in", f"{key}.boil_in", step.boil_in, ("flask", "pot"), scene))
    pane.add(value("boil time", f"{key}.boil_time", step.boil_time_s.value, "s", scene, step.boil_time_s))
    time = str(shown(step.boil_time_s.value, "s", scene))
    pane.add(
        value("boil-off", f"{key}.boil_off", step.boil_off_ml.value, "mL", scene, step.boil_off_ml),
        note=[(f"in {time}", "dim")],
    )
    _extract(pane)
    pane.add(
        figure("boiling", step.boiling_l, scene, id=f"{key}.hot"),
        note=_limit(scene, step),
        keys=(f"{key}.hot_boil", "flask.boil_limit"),
    )


def _limit(scene: Scene, step: StepPlan) -> list[Span]:
    """How the hot wort stands to the boil limit of the flask."""
    if step.boil_in == "pot":
        return [("in a pot", "dim")]
    limit = str(shown(step.boil_limit_l.value, "L", scene))
    return [] if step.boil_fits is False else [(f"of {limit}", "dim")]  # else the warning says so


def _readings(pane: Rows, step: StepPlan) -> None:
    """Each reading as it was read, and the gravity that means at 20 °C."""
    own = [r for r in pane.scene.plan.readings if r.step == step.number]
    for reading in own:
        _reading(pane, reading)
    if not own:
        pane.say(f"Measured the wort? Press {pane.scene.key('measure')}.")


def _reading(pane: Rows, reading: ReadingPlan) -> None:
    scene, key = pane.scene, f"reading.{reading.place}"
    given = scene.plan.session.reading[reading.place]
    at = "" if given.temperature_c is None else f"at {shown(given.temperature_c, '°C', scene)}"
    if given.kind == "gravity":
        read = value("read", f"{key}.value", given.value, "w", scene)
        read = read._replace(value=reading.read_text)
    else:
        read = words_row("read", f"{key}.value", reading.read_text, scene)
    pane.add(read._replace(table=("reading", reading.place)), note=[(at, "dim")], keys=(key, f"{key}.temperature"))
    if reading.true_w.value is None:
        return
    true = figure("true", reading.true_w, scene, id=f"{key}.true")._replace(table=("reading", reading.place))
    off = round(reading.off_points or 0.0, 1)
    note = (
        (f"{scene.glyphs.fine} as planned", "fine")
        if not off
        else (f"{off:+g} points".replace(".", "," if scene.comma else "."), "accent")
    )
    pane.add(true, note=[note])


def _habits(pane: Rows) -> None:
    """No feeding yet: the wort that a feeding would be made of."""
    scene, wort = pane.scene, pane.scene.plan.session.wort
    pane.say(f"No feeding yet. {leads(scene)}")
    pane.blank()
    pane.say("The wort that feedings are made of:", "text")
    pane.add(value("gravity", "wort.gravity", wort.gravity_w, "w", scene), note=[(plato(wort.gravity_w, scene), "dim")])
    pane.add(value("boil time", "wort.boil_time", wort.boil_time_s, "s", scene))
    pane.add(value("boil-off", "wort.boil_off", wort.boil_off_ml, "mL", scene), note=[("in a flask", "dim")])
    pane.add(choice("boil in", "wort.boil_in", wort.boil_in, ("flask", "pot"), scene))
    _extract(pane)


def _extract(pane: Rows) -> None:
    """How much of the powder dissolves into extract."""
    share = pane.scene.plan.session.wort.extract_fraction
    pane.add(value("extract", "wort.extract_fraction", share, "1", pane.scene), note=[("of the powder", "dim")])
