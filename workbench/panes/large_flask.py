"""The flask large, over a whole pane: cold and boiling wort, limits, foam, and how deep its bath may be."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.panes.figures import shown
from workbench.panes.flask_picture import flask
from workbench.panes.spans import wrap

if TYPE_CHECKING:
    from workbench.panes.rows import Scene
    from workbench.panes.spans import Spans
    from workbench.plan.model import StepPlan

__all__ = ["large_flask"]

_ROWS, _LABEL = 16, 22
_ASIDE = 4  # cells between the glass and what is said: a blank, a sign, a blank, the wider foot
_FOAM_L = 0.1


def large_flask(scene: Scene, cells: int) -> list[Spans]:
    """The flask of the feeding considered, in as many lines as a small screen has, then how deep the bath may be."""
    steps = scene.plan.steps
    if not steps:
        return [((f" no feeding to draw yet: {scene.key('add')} in pane 3 adds one", "text"),)]
    step = steps[min(scene.step, len(steps) - 1)]
    size = shown(scene.plan.session.flask.size_l, "L", scene)
    head: Spans = ((f" flask of {size}, feeding {step.number}", "key"),)
    litres, labels = _levels(scene, step)
    heights = {}
    if step.bath.fill_mm.value is not None:
        heights["float"] = step.bath.fill_mm.value - scene.plan.flask.bottom
        labels["float"] = f"{shown(step.bath.fill_mm.value, 'mm', scene)} bath"
    label = max(_LABEL, *(len(said) + _ASIDE for said in labels.values()))
    drawn = flask(scene.plan.flask, litres, labels, _ROWS, min(cells, 64), scene.glyphs, label=label, heights=heights)
    return [head, *drawn, *_bath(scene, step, cells)]


def _levels(scene: Scene, step: StepPlan) -> tuple[dict[str, float | None], dict[str, str]]:
    """Litres of each line across the flask and what is said of it, what can boil over first."""
    levels = {"limit": step.fill_limit_l.value, "level": step.flask_l.value}
    said = {"limit": "fill limit", "level": "cold"}
    hot_l = step.hot_boil_l.value if step.boil_in == "flask" else None
    if hot_l is not None:
        levels = {"hot": hot_l, "boil": step.boil_limit_l.value, "climb": hot_l + _FOAM_L, **levels}
        said |= {"hot": "at the boil", "boil": "boil limit", "climb": f"({shown(_FOAM_L, 'L', scene)} foam)"}
    labels = {name: f"{shown(held, 'L', scene)} {said[name]}" for name, held in levels.items() if held is not None}
    if hot_l is not None and step.foam.climb_mm.value is None:
        labels["climb"] = "foam over the rim"
    return levels, labels


def _bath(scene: Scene, step: StepPlan, cells: int) -> list[Spans]:
    """Both lines in mm over the table, for the flask as it cools: with nothing but this wort in it."""
    deep, lifts_mm = step.bath.fill_mm, step.bath.lifts_mm
    if deep.value is None:
        return []
    wort = f"wort to cool up to {shown(deep.low, 'mm', scene)}; " if deep.low != deep.value else ""
    floats = "it never floats" if lifts_mm is None else f"it floats at {shown(lifts_mm, 'mm', scene)}"
    text = f"over the table: {wort}fill the bath to {shown(deep.value, 'mm', scene)} at most; {floats}"
    return [((f" {line}", "text"),) for line in wrap(text, cells - 2)]
