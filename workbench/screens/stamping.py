"""Stepping through the day: tasks done, skipped, taken back; the boil started, held and ended; the bath."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

from workbench.plan import happened
from workbench.plan.stopwatch import UNSURE
from workbench.plan.tasks import STAMPS
from workbench.screens import asking
from workbench.screens.changes import change, event
from workbench.session.edits import RemoveTable, SetValue, Several
from workbench.units.kinds import DURATION
from workbench.units.show import write
from workbench.units.when import local, moment

if TYPE_CHECKING:
    from workbench.plan.clock import ClockPlan
    from workbench.plan.model import Moment
    from workbench.screens.desk import Desk
    from workbench.session.model import Session

__all__ = ["answer", "begin", "boil", "done", "end", "longer", "saying_so", "skip"]

_STAY = "boiling: stay with it, and set a kitchen timer: a sleeping laptop can't ring"
_SHORTEST_S = 60.0
_KILLS_C = 40.0  # wort in which yeast soon dies (common practice, no source)
_EARLY = timedelta(hours=12)  # pitching sooner than that is asked about
_TWICE_S = 10.0  # a boil ended so soon after its start: a key pressed twice


def done(desk: Desk) -> None:
    """The task under the cursor, else the next one, is done: stamped, or first asked what is to be entered with it."""
    task = _task(desk)
    if task is not None and task.stamped is not None:
        task = desk.plan.next  # done already, by another key perhaps: a key pressed in haste takes nothing back
    if task is None:
        desk.said = "nothing more to be done"
    elif task.asks == "gravity":
        asking.measure(desk, task)
    elif task.asks == "bath":
        asking.ask_bath(desk, task.step)
    elif task.name == "off" and desk.live is not None and desk.live.boil == "on" and desk.live.boiled_s < _TWICE_S:
        desk.said = f"it has only begun to boil: {desk.key('end')} ends it all the same"
    elif _stamp(desk, task) and task.name == "boil":
        _stay(desk)


def skip(desk: Desk) -> None:
    """The task under the cursor is left out; one that is done is not done after all."""
    task = _task(desk)
    if task is None:
        desk.said = "nothing to skip here"
    elif task.stamped is not None:
        _take_back(desk, task)
    elif change(desk, event(desk, "task-skipped", task.step, task=task.name)):
        desk.follow()
        desk.said = f"skipped: {task.what}; {desk.key('undo')} brings it back"


def _task(desk: Desk) -> Moment | None:
    """What the key is about: in the pane of the day the task under the cursor."""
    return desk.task or desk.plan.next


def _stamp(desk: Desk, task: Moment) -> bool:
    """Whether it is stamped now; the cursor goes on to what is next."""
    what = STAMPS.get(task.name)
    if what == "yeast-in" and not _may_go_in(desk, task.step, "done"):
        return False
    if what == "pitched" and _is_early(desk, task):
        return False
    edit = event(desk, what, task.step) if what else event(desk, "task-done", task.step, task=task.name)
    if not change(desk, edit):
        return False
    desk.follow()
    desk.said = f"{desk.now.astimezone(desk.tz):%H:%M} {task.what}; {desk.key('undo')} takes it back"
    return True


def _is_early(desk: Desk, task: Moment) -> bool:
    """Whether the yeast is to go into the beer only much later, and the key has not been pressed once more."""
    if task.at - desk.now < _EARLY or desk.once_more("done"):
        return False
    desk.said = f"{task.what} is planned {moment(task.at, desk.now, desk.tz)}; {desk.key('done')} once more: it is done"
    return True


def _take_back(desk: Desk, task: Moment) -> None:
    """A task that is done is not: what says so goes out of the file."""
    gone = saying_so(desk.plan.session, task)
    if not gone:
        desk.said = f"it is stamped in another way: {desk.key('undo')} takes the last change back"
    elif change(desk, gone[0] if len(gone) == 1 else Several(tuple(gone))):
        desk.follow()
        desk.said = f"not {'left out' if task.skipped else 'done'} after all: {task.what}"


def saying_so(session: Session, task: Moment) -> list[RemoveTable]:
    """What makes a task done, the last in the file first: of the start of a boil all of that boil."""
    names = {"boil-on", "boil-hold", "boil-done", "boil-length"} if task.name == "boil" else {STAMPS.get(task.name)}
    found = [
        RemoveTable("event", index)
        for index, e in enumerate(session.event)
        if e.at is not None
        and task.stamped is not None
        and e.step == task.step
        and (e.at == task.stamped or (task.name == "boil" and e.at > task.stamped))
        and (e.what in names or (e.task == task.name and e.what.startswith("task-")))
    ]
    readings = [i for i, r in enumerate(session.reading) if r.at == task.stamped and r.step == task.step]
    if task.name == "gravity":
        found += [RemoveTable("reading", index) for index in readings]
    return found[::-1]


def begin(desk: Desk) -> None:
    """The next feeding stamped as begun, now: its yeast is in."""
    session = desk.plan.session
    step = happened.next_to_begin(session)
    if step is None:
        desk.said = "every feeding has begun already" if session.step else _none_yet(desk)
    elif _may_go_in(desk, step, "begin") and change(desk, event(desk, "yeast-in", step)):
        desk.follow()
        desk.said = f"feeding {step}: yeast in at {local(desk.now, desk.tz):%H:%M}; {desk.key('undo')} takes it back"


def _may_go_in(desk: Desk, step: int, action: str) -> bool:
    """Whether the yeast of a feeding may go in: not within an hour of the one before, a key pressed twice.

    Into wort that is hot by its readings it goes only with the key of the `action` once more.
    """
    before, hot_c = happened.begun(desk.plan.session, step - 1), _hot_c(desk, step)
    if before is not None and 0.0 <= (desk.now - before).total_seconds() < 3600.0:
        desk.said = f"feeding {step - 1} began at {local(before, desk.tz):%H:%M}: too soon for the next"
        return False
    if hot_c is None or desk.once_more(action):
        return True
    desk.said = desk.told(f"this wort is at {hot_c:.0f} °C and kills yeast; {desk.key(action)} once more: it is in")
    return False


def _hot_c(desk: Desk, step: int) -> float | None:
    """The temperature of the wort of a feeding that still cools, where that is so hot that yeast would die in it."""
    clock, live = desk.plan.clock, desk.live
    if clock is None or live is None or clock.step != step or clock.cool is None or clock.cool.done is not None:
        return None
    last = clock.cool.readings[-1:]
    by_now_c = live.wort_c if live.wort_c is not None else last[0][1] if last else 0.0
    return by_now_c if by_now_c > _KILLS_C else None


def boil(desk: Desk) -> None:
    """Start the boil, hold it, boil on: from any pane."""
    clock = _clock(desk)
    if clock is None:
        return
    runs = clock.boil
    if runs is not None and runs.done is not None and not desk.once_more("boil"):
        desk.said = f"feeding {clock.step} has boiled; {desk.key('boil')} once more boils its wort again"
        return
    what = "boil-hold" if runs is not None and runs.since is not None else "boil-on"
    if change(desk, event(desk, what, clock.step)):
        desk.follow()
        desk.said = f"held: heat down or off; {desk.key('boil')} when it boils again"
        if what == "boil-on":
            _stay(desk)


def _stay(desk: Desk) -> None:
    """The first foam comes at once: ring from the start."""
    desk.ring, desk.said = True, _STAY


def end(desk: Desk) -> None:
    """End what runs: the boil, before or after its time, else the cool-down."""
    clock = _clock(desk)
    if clock is None:
        return
    if clock.boil is not None and clock.boil.done is None:
        if change(desk, event(desk, "boil-done", clock.step)):
            desk.follow()
            in_flask = desk.plan.steps[clock.step - 1].boil_in == "flask"
            then = "let the glass rest before the bath" if in_flask else "cool it in the pot"
            desk.said = f"the boil is over: heat off, cover loosely, {then}"
    elif clock.cool is not None and clock.cool.done is None:
        if change(desk, event(desk, "cool-done", clock.step)):
            desk.follow()
            desk.said = "out of the bath: check the gravity (m), then the yeast goes in (s)"
    else:
        desk.said = "nothing runs that could be ended"


def longer(desk: Desk, by_s: float) -> None:
    """The boil a minute longer or shorter: the recipe before it has begun, this one boil after."""
    clock = _clock(desk)
    if clock is None:
        return
    length = write(max(_SHORTEST_S, clock.planned_s + by_s), DURATION, "min")
    if clock.boil is not None:
        edit = event(desk, "boil-length", clock.step, length=length)
        changed = change(desk, edit)
    else:
        changed = change(desk, SetValue(f"step.{clock.step - 1}.boil_time", length))
    if changed:
        desk.said = f"to boil {length} in all"


def answer(desk: Desk, said: str) -> None:
    """What became of a boil that ran while nobody looked: it boiled on, the heat went off, or nobody knows."""
    clock = desk.plan.clock
    if clock is None:
        return
    if said == "boil-off-at":
        asking.ask_heat_off(desk)
    elif said == "boil-unsure":
        if change(desk, event(desk, "boil-hold", clock.step, task=UNSURE)):
            desk.said = "held; how long it boiled is unsure: measure gravity and volume after the boil"
    else:
        desk.unseen = None
        desk.said = f"it boils on: {desk.key('end')} ends it, {desk.key('boil')} holds it"
        desk.redraw()


def _none_yet(desk: Desk) -> str:
    return f"no feeding yet: {desk.key('add')} in pane 3 adds one"


def _clock(desk: Desk) -> ClockPlan | None:
    clock = desk.plan.clock
    if clock is None:
        desk.said = _none_yet(desk)
    elif clock.pitched is not None:
        desk.said = "the yeast is in the beer: nothing is left to boil or cool"
        return None
    elif clock.growth is not None and clock.growth.step == clock.step:
        desk.said = "every feeding has its yeast: nothing is left to boil or cool"
        return None
    return clock
