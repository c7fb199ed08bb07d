"""The hour at which a task was done, typed afterwards: for the yeast in, into the cold or into the beer."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from workbench.errors import QuantityError
from workbench.plan.tasks import STAMPS
from workbench.screens.asking import keep_all, open_line
from workbench.screens.changes import event
from workbench.screens.desk import Ask
from workbench.screens.stamping import saying_so
from workbench.screens.written import written
from workbench.units.mark import Mark
from workbench.units.when import moment

if TYPE_CHECKING:
    from workbench.plan.model import Moment
    from workbench.screens.desk import Desk

__all__ = ["ask_hour"]

_TYPED = frozenset({"start", "chill", "pitch"})  # what the plan turns on; boil and bath have their clocks


def ask_hour(desk: Desk) -> bool:
    """Whether the task under the cursor has an hour to be typed; then the line for it is open."""
    task = desk.task
    if task is None or task.name not in _TYPED:
        return False

    def keep(text: str, _at: Mark) -> str:
        at = written(desk, "event.0.at", text)
        first, last = _between(desk, task)
        if not isinstance(at, datetime) or not (first is None or first <= at) or at > last:
            raise QuantityError(f"{text} does not go with what else is stamped", _right(desk, first, last))
        keep_all(desk, event(desk, STAMPS[task.name], task.step, Mark(at)), *saying_so(desk.plan.session, task))
        return f"{moment(at, desk.now, desk.tz)} {task.what}; {desk.key('undo')} takes it back"

    open_line(desk, Ask("was at", "when that was: Fri 17:30, 20 min ago", keep))
    return True


def _between(desk: Desk, task: Moment) -> tuple[datetime | None, datetime]:
    """What is stamped next before the task and after it; now, where nothing is."""
    own = desk.plan.moments.index(task)
    before, after = (
        [other.stamped for other in others if other.name in _TYPED and other.stamped is not None]
        for others in (desk.plan.moments[:own], desk.plan.moments[own + 1 :])
    )
    return max(before, default=None), min([*after, desk.now])


def _right(desk: Desk, first: datetime | None, last: datetime) -> str:
    """From when to when it may have been."""
    until = moment(last, desk.now, desk.tz)
    return (
        f"write an hour up to {until}"
        if first is None
        else f"write one from {moment(first, desk.now, desk.tz)} to {until}"
    )
