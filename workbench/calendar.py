"""The plan as an iCalendar file (RFC 5545): an event for each wort to make, and each hour at which the yeast moves."""

from __future__ import annotations

from datetime import UTC, timedelta
from math import ceil
from typing import TYPE_CHECKING, NamedTuple
from uuid import UUID, uuid5

from workbench import __version__
from workbench.errors import NothingPlanned
from workbench.plan.amounts import amount
from workbench.plan.cautions import told_once
from workbench.units.plainly import harmless
from workbench.units.when import weekday

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from datetime import datetime

    from workbench.plan.model import Moment, Plan
    from workbench.units.show import System

__all__ = ["as_icalendar"]

_OURS = UUID("6b0f2c0e-53a4-4a5e-9f0d-0c7a3f1b8e21")  # drawn by lot: what our events' identities are made from
_ALARM = timedelta(minutes=15)  # to get up and wash one's hands (recommended)
_OCTETS = 75  # the most a line may have, §3.1
_ESCAPED = str.maketrans({"\\": "\\\\", ";": "\\;", ",": "\\,"})  # §3.3.11
_WORT = "wort"
# the events that the small tasks belong to; all others are the making of a wort
_PARTS = {
    "start": "start",
    "air": "start",
    "move": "start",
    "look": "start",
    "chill": "chill",
    "keep": "keep",
    "near": "pitch",
    "pitch": "pitch",
}


class _Event(NamedTuple):
    """Tasks that are one appointment; without an `end` it is an hour only."""

    uid: str
    what: str
    start: datetime
    end: datetime | None
    tasks: tuple[Moment, ...]


def as_icalendar(plan: Plan, file: str, system: System = "metric", *, comma: bool = False) -> str:
    """All that is still to be done, in content lines; figures in `system` with the brewer's decimal mark.

    `file`, the name of the session's file, tells one batch from another: a calendar that has an event already, and gets
    it again, moves it. Raises NothingPlanned where there is no event: the standard knows no empty calendar (§3.6).
    """
    events = tuple(_events(plan, harmless(file)))
    if not events:
        raise NothingPlanned(
            "all is done: there is nothing left for a calendar"
            if plan.moments
            else "no hours for a calendar yet: they follow from pitch_at of [batch]"
        )
    name = harmless(plan.session.batch.name) or harmless(file)
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", f"PRODID:-//brew-day-workbench//workbench {__version__}//EN"]
    for event in events:
        figures = (_task(task, event.start, system, comma=comma) for task in event.tasks)
        lines += _vevent(event, f"{name}: {event.what}", [*figures, *_mind(event.tasks)], plan.now)
    return "".join(f"{_folded(line)}\r\n" for line in (*lines, "END:VCALENDAR"))


def _events(plan: Plan, file: str) -> Iterator[_Event]:
    """One for each part of each feeding that is not done; none for small things that are left of a part."""
    parts: dict[tuple[int, str], list[Moment]] = {}
    for task in plan.moments:
        if not task.done:
            parts.setdefault((task.step, _part(task)), []).append(task)
    mains = {(task.step, task.name): task for task in plan.moments if not task.done}
    for (step, part), tasks in parts.items():
        main = mains.get((step, "start" if part == _WORT else part))
        if main is None:
            continue
        uid = str(uuid5(_OURS, f"{file}/{part}/{0 if part == 'keep' else step}"))  # kept is once, of the last
        if part == _WORT:
            of = f" of feeding {step}" if len(plan.steps) > 1 else ""
            yield _Event(uid, f"make the wort{of}", min(task.at for task in tasks), main.at, tuple(tasks))
        else:
            yield _Event(uid, main.what, main.at, None, tuple(tasks))


def _part(task: Moment) -> str:
    if task.name == "taste":  # of what is poured off before a feeding, or before the pitch
        return "start" if task.step else "pitch"
    return _PARTS.get(task.name, _WORT)


def _task(task: Moment, start: datetime, system: System, *, comma: bool) -> str:
    """`14:54 weigh powder into cold water: powder 149 g, water 1.59 L`, by the clock on the wall."""
    on = "" if task.at.date() == start.date() else f"{weekday(task.at)} "
    needs = ", ".join(f"{label} {amount(figure.value, figure.unit, system)}" for label, figure in task.figures)
    figures = needs.replace(".", ",") if comma else needs
    return f"{on}{task.at:%H:%M} {task.what}" + (f": {figures}" if figures else "")


def _mind(tasks: Iterable[Moment]) -> list[str]:
    """What may hurt, under a line of its own."""
    told = told_once(tasks)
    return ["", "Mind", *(f"- {caution}" for caution in told)] if told else []


def _vevent(event: _Event, summary: str, description: list[str], now: datetime) -> list[str]:
    """The event, with an alarm before the first thing that belongs to it, if that is still to come."""
    start, end = _utc(event.start), "" if event.end is None else _utc(event.end)
    lines = [
        "BEGIN:VEVENT",
        f"UID:{event.uid}",
        f"DTSTAMP:{_utc(now)}",
        f"SEQUENCE:{max(0, int(now.timestamp() // 60))}",  # grows from one export to the next, so that the last counts
        f"DTSTART:{start}",
        *([f"DTEND:{end}"] if end > start else []),
        f"SUMMARY:{_text(summary)}",
        f"DESCRIPTION:{_text(*description)}",
    ]
    first = min(event.start, *(task.at for task in event.tasks))
    if first - _ALARM > now:
        minutes = ceil((event.start - first + _ALARM) / timedelta(minutes=1))
        alarm = ("ACTION:DISPLAY", f"DESCRIPTION:{_text(summary)}", f"TRIGGER:-PT{minutes}M")
        lines += ["BEGIN:VALARM", *alarm, "END:VALARM"]
    return [*lines, "END:VEVENT"]


def _utc(at: datetime) -> str:
    """Form 2 of §3.3.5, which no change of the clocks can shift."""
    return f"{at.astimezone(UTC):%Y%m%dT%H%M%SZ}"


def _text(*lines: str) -> str:
    """Lines, each without controls, as one value of type TEXT."""
    return "\\n".join(line.translate(_ESCAPED) for line in lines)


def _folded(line: str) -> str:
    """A content line of at most 75 octets each, broken between characters; what follows begins with a blank."""
    folded, octets = list[str](), 0
    for character in line:
        size = len(character.encode())
        if octets + size > _OCTETS:
            folded.append("\r\n ")
            octets = 1
        folded.append(character)
        octets += size
    return "".join(folded)
