"""Pane 5, Clock: how long each boil and each growth is planned to take."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.panes.figures import figure, shown
from workbench.panes.rows import Row, Rows
from workbench.units.when import moment

if TYPE_CHECKING:
    from workbench.panes.rows import Scene
    from workbench.plan.model import StepPlan

__all__ = ["rows"]


def rows(scene: Scene, cells: int) -> list[Row]:
    """All rows of the pane, for a width."""
    pane = Rows(scene, cells)
    pane.say("not running")
    pane.blank()
    for step in scene.plan.steps:
        _step(pane, step)
        pane.blank()
    if not scene.plan.steps:
        pane.say("Nothing to time yet: feedings are added with + in pane 3.")
    return pane.rows


def _step(pane: Rows, step: StepPlan) -> None:
    scene, key = pane.scene, f"clock.{step.number}"
    pane.say(f"feeding {step.number}", "text")
    pane.add(figure("boil", step.boil_time_s, scene, id=f"{key}.boil"), note=[(f"in the {step.boil_in}", "dim")])
    planned = "" if step.hours_planned is None else f"{shown(step.hours_planned, 'h', scene)} planned"
    pane.add(figure("growth", step.hours, scene, id=f"{key}.hours"), note=[(planned, "dim")])
    if step.start is not None and step.end is not None:
        span = f"{moment(step.start, scene.plan.now, scene.tz)} to {moment(step.end, scene.plan.now, scene.tz)}"
        pane.rows.append(Row("from", ((span, "dim"),)))
