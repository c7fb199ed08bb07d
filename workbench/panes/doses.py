"""Pane 4, Doses: what is weighed and measured for each feeding, and the limits of the flask."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.panes.figures import figure, shown, value
from workbench.panes.rows import Rows

if TYPE_CHECKING:
    from workbench.panes.rows import Row, Scene
    from workbench.plan.model import StepPlan

__all__ = ["rows"]

_AT_MOST = [("at most", "dim")]


def rows(scene: Scene, cells: int) -> list[Row]:
    """All rows of the pane, for a width."""
    pane = Rows(scene, cells)
    for step in scene.plan.steps:
        _step(pane, step)
        pane.blank()
    if not scene.plan.steps:
        pane.say("Nothing to weigh yet: feedings are added with + in pane 3.")
        pane.blank()
    _limits(pane)
    return pane.rows


def _limits(pane: Rows) -> None:
    """How many flasks there are and what may stand in one; foam control raises both limits."""
    scene, plan = pane.scene, pane.scene.plan
    flask, foam = plan.session.flask, plan.session.foam
    pane.add(value("flasks", "flask.count", float(flask.flasks), "1", scene), note=[("of one size", "dim")])
    pane.add(
        value("growing", "flask.fill_limit", plan.fill_limit_l.value, "L", scene, plan.fill_limit_l), note=_AT_MOST
    )
    pane.add(
        value("boiling", "flask.boil_limit", plan.boil_limit_l.value, "L", scene, plan.boil_limit_l), note=_AT_MOST
    )
    pane.add(value("drops", "foam.drops_per_gallon", foam.drops_per_gallon, "1", scene), note=[("a US gallon", "dim")])


def _step(pane: Rows, step: StepPlan) -> None:
    """Powder and water of one feeding, and how much powder that is to the litre."""
    scene, key = pane.scene, f"dose.{step.number}"
    wort = shown(step.wort_l.value, "L", scene)
    pane.say(f"feeding {step.number}: {wort} of wort", "text")
    pane.add(figure("powder", step.powder_g, scene, id=f"{key}.powder"), note=[(_rate(scene, step), "dim")])
    pane.add(figure("water", step.water_l, scene, id=f"{key}.water"), note=[(_top_up(scene, step), "dim")])
    pane.add(figure("extract", step.extract_g, scene, id=f"{key}.extract"), note=[("in the wort", "dim")])


def _rate(scene: Scene, step: StepPlan) -> str:
    """The same dose to the litre of finished wort."""
    dose = step.powder_g_per_l.value
    return "" if dose is None else f"{shown(dose, 'g', scene)}/L"


def _top_up(scene: Scene, step: StepPlan) -> str:
    return f"{shown(step.top_up_l.value, 'L', scene)} on top" if step.top_up_l.value else ""
