"""Pane 3, Steps: the feedings in order, the one considered in full beside its flask, and what comes out at the end."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.panes import feeding, keeping
from workbench.panes.empty import leads
from workbench.panes.figures import choice, figure, span, value
from workbench.panes.rows import Rows
from workbench.plan.chance import odds

if TYPE_CHECKING:
    from workbench.panes.rows import Row, Scene

__all__ = ["rows"]

_ROOMY = 40  # cells from which the range of the pitch has room beside its verdict
_WIDE = 70  # cells from which the flask's litres have room for a word each


def rows(scene: Scene, cells: int) -> list[Row]:
    """All rows of the pane, for a width."""
    plan = scene.plan
    pane = Rows(scene, cells)
    if not plan.steps:
        _empty(pane)
        return pane.rows
    if plan.planned_by == "planner":
        pane.say(f"proposed: {scene.key('plan')} shows other ways; any change makes it yours", "accent")
    for step in plan.steps:
        feeding.summary(pane, step)
    pane.blank()
    step = plan.steps[min(scene.step, len(plan.steps) - 1)]
    ten_or_more = plan.session.flask.size_l >= 10.0 or scene.system != "metric"
    picture = feeding.NARROW + (4 + ten_or_more if cells >= _WIDE else 0)
    beside = Rows(scene, cells - picture)
    if len(plan.steps) > 1:
        beside.say(f"feeding {step.number} of {len(plan.steps)}", "key")
    feeding.details(beside, step)
    _final(beside)
    return pane.rows + feeding.with_picture(beside.rows, scene, step, picture)


def _empty(pane: Rows) -> None:
    """Without a feeding: why, and what to press."""
    plan, ways = pane.scene.plan, pane.scene.key("plan")
    if plan.wants_more_yeast:
        pane.say("No starter is proposed: more yeast meets the need.", "accent")
    elif plan.starter_needed is False:
        pane.say("No starter is needed: the yeast on hand is enough.", "fine")
    elif not plan.session.batch.starter:
        pane.say(f"No starter, as chosen: the yeast goes in as it is. {ways} shows other ways.")
    elif plan.starter_needed is None:
        pane.say(f"Feedings are proposed here. {leads(pane.scene)}")
    elif plan.warnings_at("step"):
        pane.say(f"{ways} shows what can be done, worked out.", "accent")
    pane.say(f"{pane.scene.key('add')} adds a feeding of your own.", "accent")
    pane.blank()
    pane.add(value("flask", "flask.size", plan.session.flask.size_l, "L", pane.scene), keys=("step",))
    _final(pane)


def _final(pane: Rows) -> None:
    """What goes into the beer, with what chance, and what is kept."""
    scene, final = pane.scene, pane.scene.plan.final
    pane.blank()
    enough = {True: (f"{scene.glyphs.fine} enough", "fine"), False: (f"{scene.glyphs.caution} short", "warning")}
    verdict = [enough[final.meets_need]] if final.meets_need is not None else []
    pane.add(
        figure("kept" if scene.plan.need.shelf else "pitched", final.pitched_b, scene, id="final.pitched"),
        note=[*([span(final.pitched_b, scene), (" ", "dim")] if pane.cells >= _ROOMY else []), *verdict],
        keys=("final", "final.pitched"),
    )
    pane.add(
        figure("chance", final.chance._replace(unit="chance"), scene, id="final.chance"),
        note=[(odds(final.chance.value), "dim")],
        keys=("final.chance",),
    )
    if not scene.plan.need.shelf:
        pane.add(choice("goes in", "batch.pitch", final.pitch, ("whole", "decanted"), scene))
    if final.pitch == "whole" and final.poured_l.value is not None and final.beer_gravity_w.value is not None:
        pane.add(
            figure("beer gets", final.beer_gravity_w, scene, id="final.beer_gravity"),
            keys=("final.beer_gravity",),
        )
    keeping.add(pane)
