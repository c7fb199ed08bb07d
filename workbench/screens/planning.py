"""Planning at the keyboard: the ways opened and taken, the proposal made the brewer's own, feedings locked."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.screens.desk import STEPS
from workbench.session.edits import AddTable, MoveTable, RemoveTable, SetValue, Several, Unset

if TYPE_CHECKING:
    from workbench.screens.desk import Desk
    from workbench.session.edits import Edit

__all__ = ["adopted", "lock", "plan", "take"]


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


def adopted(desk: Desk, edit: Edit) -> Edit:
    """The edit, with the feedings that are proposed put into the file before it where it concerns one of them."""
    if desk.plan.planned_by != "planner" or not _concerns_feedings(edit):
        return edit
    from workbench.plan.adopt import steps_edits

    return Several((*steps_edits(0, desk.plan.session.step), edit))


def _concerns_feedings(edit: Edit) -> bool:
    if isinstance(edit, Several):
        return any(map(_concerns_feedings, edit.edits))
    if isinstance(edit, SetValue | Unset):
        return edit.key.startswith("step.")
    return isinstance(edit, AddTable | RemoveTable | MoveTable) and edit.table in {"step", "reading", "event"}


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
