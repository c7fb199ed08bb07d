"""Pane 4, Doses: what is weighed and measured for each feeding, and the limits of the flask."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.panes.figures import figure, shown
from workbench.panes.rows import Rows

if TYPE_CHECKING:
    from workbench.panes.rows import Row, Scene
    from workbench.plan.model import StepPlan

__all__ = ["rows"]


def rows(scene: Scene, cells: int) -> list[Row]:
    """All rows of the pane, for a width."""
    pane = Rows(scene, cells)
    for step in scene.plan.steps:
        _step(pane, step)
        pane.blank()
    if not scene.plan.steps:
        pane.say("Nothing to weigh yet: feedings are added with + in pane 3.")
        return pane.rows
    first = scene.plan.steps[0]
    pane.add(figure("growing", first.fill_limit_l, scene, id="limit.fill"), note=[("at most", "dim")])
    pane.add(figure("boiling", first.boil_limit_l, scene, id="limit.boil"), note=[("at most", "dim")])
    return pane.rows


def _step(pane: Rows, step: StepPlan) -> None:
    """Powder and water of one feeding, and how much powder that is to the litre."""
    scene, key = pane.scene, f"dose.{step.number}"
    wort = shown(step.wort_l.value, "L", scene)
    pane.say(f"feeding {step.number}: {wort} of wort", "text")
    pane.add(figure("powder", step.powder_g, scene, id=f"{key}.powder"), note=[(_rate(step), "dim")])
    pane.add(figure("water", step.water_l, scene, id=f"{key}.water"), note=[(_top_up(scene, step), "dim")])
    pane.add(figure("extract", step.extract_g, scene, id=f"{key}.extract"), note=[("in the wort", "dim")])


def _rate(step: StepPlan) -> str:
    """The same dose to the litre of finished wort."""
    if step.powder_g.value is None or not step.wort_l.value:
        return ""
    return f"{step.powder_g.value / step.wort_l.value:.0f} g/L"


def _top_up(scene: Scene, step: StepPlan) -> str:
    return f"{shown(step.top_up_l.value, 'L', scene)} on top" if step.top_up_l.value else ""
