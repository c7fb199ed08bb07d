"""Planning at the keyboard: the ways opened and taken, the proposal made the brewer's own, feedings locked."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.screens.changes import adopted
from workbench.screens.desk import STEPS
from workbench.session.edits import SetValue, Several, Unset

if TYPE_CHECKING:
    from workbench.screens.desk import Desk

__all__ = ["lock", "plan", "take"]


def plan(desk: Desk) -> None:
    """Open the ways to meet the need in pane 3, or close them."""
    desk.planning = not (desk.planning and desk.pane == STEPS)
    desk.pane = STEPS
    desk.redraw()
    if desk.planning and desk.ways:
        desk.put(f"way.{desk.ways[0].option.code}")


def take(desk: Desk, index: int) -> None:
    """Make a way the plan of this file; one undo takes it back."""
    way = desk.ways[index]
    if not desk.applied(Several(way.option.edits)):
        return
    desk.planning = False
    desk.typed_terms.clear()
    desk.step = 0
    desk.recompute()
    desk.put("step.0.wort")
    desk.said = f"taken: {way.option.says}; u takes it back"


def lock(desk: Desk) -> None:
    """The feeding under the cursor, else the one considered, stands when the planner fills in the others, or not."""
    if not desk.plan.steps:
        desk.said = "no feeding to lock yet"
        return
    row = desk.row()
    index = row.table[1] if row is not None and row.table is not None and row.table[0] == "step" else desk.step
    key = f"step.{index}.locked"
    locked = desk.plan.session.step[index].locked
    edit = Unset(key) if locked else SetValue(key, value=True)
    if not desk.applied(adopted(desk, edit)):
        return
    desk.recompute()
    number = index + 1
    desk.said = f"feeding {number} is free again" if locked else f"feeding {number} stands; p fills in the others"
