"""Planning at the keyboard: the ways opened and taken, the proposal made the brewer's own, feedings locked."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from workbench.errors import QuantityError
from workbench.screens import editor
from workbench.screens.changes import adopted
from workbench.screens.desk import STEPS, Ask, Entry, Spot
from workbench.screens.written import written
from workbench.session.edits import SetValue, Several, Unset

if TYPE_CHECKING:
    from workbench.plan.model import Moment
    from workbench.screens.desk import Desk
    from workbench.units.mark import Mark

__all__ = ["ask_hour", "lock", "plan", "take"]


def plan(desk: Desk) -> None:
    """Open the ways to meet the need in pane 3, or close them."""
    _open(desk, None, open_=not (desk.planning and desk.pane == STEPS))


def _open(desk: Desk, moved: tuple[int, datetime] | None, *, open_: bool) -> None:
    """Pane 3 with the ways, for a feeding (0: pitching) that is moved to an hour, or without them, as it was left."""
    if open_ and not desk.planning:
        desk.left, desk.spots[STEPS] = desk.spots[STEPS], Spot()
    elif desk.planning and not open_:
        desk.spots[STEPS] = desk.left
    desk.planning, desk.moved, desk.pane = open_, moved, STEPS
    desk.forget_ways()
    if desk.planning and desk.ways:
        desk.put(f"way.{desk.ways[0].option.code}")


def ask_hour(desk: Desk) -> None:
    """Another hour for pitching, or for the feeding whose yeast-in is under the cursor in the pane of the day."""
    task = _feeding_under_cursor(desk)
    if desk.plan.session.batch.pitch_at is None:
        desk.said = "no pitching hour yet: set it in pane 1"
        return

    def keep(text: str, _at: Mark) -> str:
        at = written(desk, "batch.pitch_at", text)
        if not isinstance(at, datetime) or at < desk.now.replace(microsecond=0):  # "now" is in seconds
            raise QuantityError(f"{text} has gone by", "write an hour to come: Sun 15:00, in 6 h")
        _open(desk, (task.step if task is not None else 0, at), open_=True)
        return "" if desk.ways else "nothing can be moved any more"

    what = "pitching" if task is None else f"feeding {task.step}"
    means = f"{what} at another hour, to compare what comes of it: Sun 15:00, in 6 h"
    desk.entry = Entry("", editor.start(""), "", means, ask=Ask("instead", means, keep), at=desk.clock())


def _feeding_under_cursor(desk: Desk) -> Moment | None:
    task = desk.task
    return task if task is not None and task.name == "start" and not task.done else None


def take(desk: Desk, index: int) -> None:
    """Make a way the plan of this file; one undo takes it back."""
    way = desk.ways[index]
    if not desk.applied(Several(way.option.edits)):
        return
    desk.planning, desk.moved = False, None
    desk.typed_terms.clear()
    desk.step = 0
    desk.recompute()
    desk.put("step.0.wort")
    desk.said = f"taken: {desk.told(way.option.says)}; {desk.key('undo')} takes it back"


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
    stands = f"feeding {number} stands; {desk.key('plan')} fills in the others"
    desk.said = f"feeding {number} is free again" if locked else stands
