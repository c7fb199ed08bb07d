"""What a list of batches shows of each: how far it is, what it waits for, what comes next; true at any later hour."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING, Any, NamedTuple

from workbench.plan import happened, settle
from workbench.plan.clock import alarms
from workbench.plan.tasks import in_turn, may_be_next
from workbench.units.mark import Mark
from workbench.units.when import day, lasting, local

if TYPE_CHECKING:
    from datetime import tzinfo

    from workbench.plan.model import Plan

__all__ = [
    "WANTING",
    "Status",
    "Summary",
    "Task",
    "is_over",
    "next_task",
    "of_record",
    "order",
    "record",
    "state",
    "status",
    "summary",
]

_OVER = timedelta(days=1)  # behind a pitching hour that nobody has stamped, nothing is waited for any more


class Task(NamedTuple):
    """Something still to be done: when, what in a plain phrase, and the task's name."""

    at: datetime
    what: str
    name: str = ""


class Summary(NamedTuple):
    """One batch. Nothing here depends on the hour it was made at: `status` and `next_task` are asked with a `now`.

    Times are UTC. `fault`: why the file cannot be shown, and then nothing else is known.
    """

    name: str = ""
    shelf: bool = False
    pitch_at: datetime | None = None  # when the yeast goes in, or went
    pitched: bool = False
    tasks: tuple[Task, ...] = ()  # still to be done, in their order
    stepped: bool = False  # whether the brewer stamps what is done
    runs: str = ""  # "boiling", "held" or "cooling"
    rings: tuple[Task, ...] = ()  # the alarms of what runs that are not given yet
    feeding: int = 0  # the last one that has begun
    grown_at: datetime | None = None  # that one has grown
    cold_at: datetime | None = None  # since when it stands cold
    rested_at: datetime | None = None  # and until when it is to
    needs: str = ""  # what is missing for a plan
    wrong: str = ""  # what is wrong with the plan
    fault: str = ""
    aside: str = ""  # the batch that this is another version of, which was not taken in


WANTING = ("open", "aside")
"""The words of `Status` for batches of which `needs` is what there is to say."""


class Status(NamedTuple):
    """How far a batch is, in a word, and until when that lasts, where it ends by itself."""

    word: str
    until: datetime | None = None


def summary(plan: Plan) -> Summary:
    """What a list shows of a plan; the same for the plans of one session at any two hours."""
    session, feeding = plan.session, happened.last_begun(plan.session)
    pitch_at, cold_at = happened.pitch_at(session), happened.chilled(session, feeding) if feeding else None
    needs = [w.text for w in plan.warnings if w.code.startswith("needs-")]
    wrong = [w.text for w in plan.warnings if w.level == "danger" or w.code in {"short", "no-plan"}]
    return Summary(
        name=session.batch.name,
        shelf=settle.is_shelf(session),
        pitch_at=_utc(pitch_at),
        pitched=happened.pitched(session) is not None,
        tasks=_to_do(plan),
        stepped=any(moment.stamped is not None for moment in plan.moments),
        runs=_runs(plan),
        rings=_rings(plan),
        feeding=feeding,
        grown_at=_grown_at(plan, feeding),
        cold_at=_utc(cold_at),
        rested_at=None if cold_at is None else _utc(cold_at + timedelta(hours=settle.rest_h(session))),
        needs=needs[0] if needs else "",
        wrong=wrong[0] if wrong else "",
    )


def _to_do(plan: Plan) -> tuple[Task, ...]:
    """The tasks that are not done. The one place that says what a batch still waits for."""
    return tuple(Task(it.at.astimezone(UTC), it.what, it.name) for it in in_turn(plan.moments))


def _runs(plan: Plan) -> str:
    """What is on the stove or in the bath, as far as it is stamped."""
    clock = plan.clock
    if clock is None:
        return ""
    if clock.boil is not None and clock.boil.done is None:
        return "boiling" if clock.boil.since is not None else "held"
    return "cooling" if clock.cool is not None and clock.cool.done is None else ""


def _rings(plan: Plan) -> tuple[Task, ...]:
    clock = plan.clock
    if clock is None or clock.pitched is not None:
        return ()
    at = clock.boil.since if clock.boil is not None and clock.boil.since is not None else Mark(plan.now)
    found = (alarm for alarm in alarms(clock, at) if alarm.name not in clock.given)
    return tuple(Task(_whole(alarm.at), alarm.says, alarm.name) for alarm in found)


def _whole(at: datetime) -> datetime:
    """To the second: the same whenever the summary is made."""
    return (at.astimezone(UTC) + timedelta(milliseconds=500)).replace(microsecond=0)


def _grown_at(plan: Plan, feeding: int) -> datetime | None:
    """When the feeding has grown as it was planned to."""
    step = plan.steps[feeding - 1] if feeding else None
    if step is None or step.start is None or step.hours_planned is None:
        return None
    return _utc(step.start + timedelta(hours=step.hours_planned))


def _utc(at: datetime | None) -> datetime | None:
    return None if at is None else local(at, UTC)


def status(of: Summary, now: datetime) -> Status:
    """How far the batch is at `now`."""
    if of.fault:
        return Status("faulty")
    if of.aside:
        return Status("aside")
    if of.pitched:
        return Status("stored" if of.shelf else "pitched")
    return Status("past") if is_over(of, now) else _under_way(of, now)


def _under_way(of: Summary, now: datetime) -> Status:
    """What runs, grows or rests; else whether there is a plan."""
    if of.runs:
        return Status(of.runs)
    if of.cold_at is not None:
        return Status("cold", _still(of.rested_at, now))
    if of.feeding:
        left = _still(of.grown_at, now)
        return Status("grown" if of.grown_at is not None and left is None else "growing", left)
    return Status("open" if of.needs else "plan")


def state(of: Summary, now: datetime, tz: tzinfo | None) -> tuple[str, str]:
    """The word, and how long that lasts or the day it came to an end: `growing` `5 h 20 min`, `pitched` `8 Apr`."""
    word, until = status(of, now)
    if until is not None:
        return word, lasting(until - now)
    if of.pitch_at is None or not is_over(of, now):
        return word, ""
    on, today = local(of.pitch_at, tz), local(now, tz)
    return word, day(on) if on.year == today.year else f"{day(on)} {on.year}"


def _still(at: datetime | None, now: datetime) -> datetime | None:
    return at if at is not None and at > now else None


def is_over(of: Summary, now: datetime) -> bool:
    """Whether nothing is waited for any more: it is pitched, or its hour went by and nobody said so."""
    return of.pitched or (of.pitch_at is not None and of.pitch_at + _OVER < now)


def next_task(of: Summary, now: datetime) -> Task | None:
    """The first thing still to be done, late or not; where nobody stamps what is done, nothing that is long past."""
    open_ = (task for task in of.tasks if may_be_next(task.name, task.at, now, stepped=of.stepped))
    return None if is_over(of, now) else next(open_, None)


def order(of: Summary, now: datetime) -> tuple[int, float, str]:
    """A key to sort by: what wants something first comes first, then what has no hour, what is over, what is faulty.

    Of those that are over the last comes first.
    """
    task, name = next_task(of, now), of.name.casefold()
    if of.fault:
        return 3, 0.0, name
    if is_over(of, now):
        return 2, -of.pitch_at.timestamp() if of.pitch_at is not None else 0.0, name
    if task is None:
        return 1, 0.0, name
    return 0, task.at.timestamp(), name


def record(of: Summary) -> list[Any]:
    """The summary as plain data for JSON."""
    return [_plain(value) for value in of]


def _plain(value: object) -> object:
    if isinstance(value, tuple):
        return [[task.at.timestamp(), task.what, task.name] for task in value]
    return value.timestamp() if isinstance(value, datetime) else value


def of_record(data: list[Any]) -> Summary:
    """The summary that `record` has made into this."""
    told = dict(zip(Summary._fields, data, strict=True))
    for key in ("tasks", "rings"):
        told[key] = tuple(Task(datetime.fromtimestamp(at, UTC), what, name) for at, what, name in told[key])
    for key in ("pitch_at", "grown_at", "cold_at", "rested_at"):
        told[key] = _at(told[key])
    return Summary(**told)


def _at(timestamp: float | None) -> datetime | None:
    return None if timestamp is None else datetime.fromtimestamp(timestamp, UTC)
