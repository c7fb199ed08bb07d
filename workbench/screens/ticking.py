"""What time does to the desk: the second hand, the minute, and alarms, each given once."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from workbench.errors import EditRefused
from workbench.plan.clock import due
from workbench.screens.changes import event
from workbench.screens.desk import CLOCK
from workbench.units.mark import passed
from workbench.units.when import local

if TYPE_CHECKING:
    from collections.abc import Sequence

    from workbench.plan.clock import Alarm
    from workbench.screens.desk import Desk
    from workbench.units.mark import Mark

__all__ = ["Tick", "opened", "pause_s", "tick"]

_COOLING_S = 10.0  # how often the temperature by now is told anew
_MINUTE_S = 60.0
_ASLEEP_S = 120.0  # no tick of a boil for so long: nobody looked
_LATE_S = 90.0  # an alarm due longer ago than this is told with its hour


def pause_s(desk: Desk) -> float:
    """Seconds until something that is shown changes: at once after each full second of a boil, else the minute."""
    live = desk.live
    if live is not None and live.runs:
        shown = live.boiled_s if live.boil == "on" else live.held_s
        return 1.0 - shown % 1.0 + 0.02
    now = desk.now
    seconds = now.second + now.microsecond / 1e6
    if live is not None and live.cooling_s is not None:
        return _COOLING_S - seconds % _COOLING_S + 0.05
    return _MINUTE_S - seconds + 0.5


class Tick(NamedTuple):
    """What a tick came to: something `rang`; more has changed than the clock, the `whole` screen is to be shown."""

    rang: bool
    whole: bool


def tick(desk: Desk) -> Tick:
    """Bring the desk to this instant."""
    whole = desk.now.replace(second=0, microsecond=0) != desk.plan.now.replace(second=0, microsecond=0)
    if whole:
        desk.recompute()
    else:
        desk.look()
    now, before = desk.clock(), desk.looked
    desk.looked = now
    if before is not None and passed(before, now).seconds > _ASLEEP_S and _boils_for_s(desk, now) > _ASLEEP_S:
        _ask(desk)  # the machine slept
        whole = True
    alarms = _due(desk)
    if not alarms:
        return Tick(rang=False, whole=whole)
    desk.alarm = "; ".join(_told(desk, alarm) for alarm in alarms)
    _note_given(desk, alarms)
    return Tick(rang=True, whole=True)


def opened(desk: Desk, *, unseen: bool = True) -> bool:
    """The batch has just been opened: what was due meanwhile, once, and whether a boil went on `unseen`."""
    clock = desk.plan.clock
    rang = tick(desk).rang
    if rang:
        desk.alarm = f"due meanwhile: {desk.alarm}"
    if unseen and clock is not None and clock.boil is not None and clock.boil.since is not None:
        _ask(desk)
    return rang


def _boils_for_s(desk: Desk, now: Mark) -> float:
    """Seconds since the boil was begun, or went on after a hold; 0 where none runs."""
    clock = desk.plan.clock
    since = None if clock is None or clock.boil is None else clock.boil.since
    return 0.0 if since is None else passed(since, now).seconds


def _ask(desk: Desk) -> None:
    clock = desk.plan.clock
    desk.unseen = None if clock is None or clock.boil is None else clock.boil.since
    desk.pane = CLOCK
    desk.put("boil-went-on")  # wherever the cursor was: Enter in haste stamps nothing
    desk.redraw()


def _due(desk: Desk) -> list[Alarm]:
    """Alarms that are due and were given neither in the file nor in this run."""
    clock = desk.plan.clock
    return [] if clock is None else [a for a in due(clock, desk.clock()) if a.name not in desk.rung]


def _told(desk: Desk, alarm: Alarm) -> str:
    late_s = (desk.now - alarm.at).total_seconds()
    says = desk.told(alarm.says)
    return says if late_s < _LATE_S else f"{local(alarm.at, desk.tz):%H:%M} {says}"


def _note_given(desk: Desk, alarms: Sequence[Alarm]) -> None:
    """Stamp them as given, which is no change of the brewer's: there is nothing to undo."""
    for alarm in alarms:
        desk.rung.add(alarm.name)
        step = int(alarm.name.partition(".")[0])
        try:
            desk.store.note(event(desk, "rang", step, task=alarm.name))
        except EditRefused:  # a file that is only looked at: it rings here all the same
            continue
    desk.recompute()
