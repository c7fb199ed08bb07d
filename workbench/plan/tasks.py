"""The day's tasks in order: what the schedule turns on, and all the small things that lead to it and follow from it."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING, NamedTuple

from workbench.plan import settle, stopwatch
from workbench.plan.awake import next_waking_hour
from workbench.plan.cool import WINDOW_K
from workbench.plan.model import Figure, Moment, Reason
from workbench.plan.readings import boil_over
from workbench.plan.sources import RECOMMENDED, TRADE
from workbench.plan.timeline import before
from workbench.units.when import hours_between, local

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence
    from datetime import datetime, tzinfo

    from workbench.plan.model import Final, StepPlan
    from workbench.session.model import Event, Session

__all__ = ["STAMPS", "in_turn", "may_be_next", "upcoming", "with_tasks"]

STAMPS = {
    "boil": "boil-on",
    "off": "boil-done",
    "cool": "cool-on",
    "cooled": "cool-done",
    "start": "yeast-in",
    "chill": "chill-on",
    "pitch": "pitched",
}
"""Tasks that are an event of their own once they are done; others are stamped as `task-done`."""

_TIMED = frozenset({"start", "chill", "pitch"})  # of these the schedule itself knows the stamp
_STILL = timedelta(hours=2)  # so long after its hour a task is waited for in any case (recommended)
_ON_STOVE = frozenset({"boil", "off", "cool", "cooled", "top-up", "gravity"})  # sooner, these draw the others along
_AFTER_BOIL = frozenset({"cool", "cooled"})
_TURNS = _TIMED | {"keep"}  # not passed over by what is done for the wort of another feeding
_PASSING = frozenset({"air", "move", "look"})
_PASSES = timedelta(minutes=30)  # and so long those that have their hour or have not (recommended)
_LOOK_H = 12.0  # at most so long after the yeast went in one looks whether it works
_NEAR_H = 2.0  # a starter needs to come near the temperature of the beer


class _Small(NamedTuple):
    """A small task of a group: `at` as a share of the time that making the wort takes besides the boil."""

    name: str
    what: str
    share: float
    figures: tuple[tuple[str, Figure], ...] = ()
    asks: str = ""
    after_boil: bool = False


def with_tasks(
    session: Session,
    anchors: Sequence[Moment],
    steps: Sequence[StepPlan],
    final: Final,
    expected: Mapping[tuple[str, int], datetime],
    tz: tzinfo | None,
) -> tuple[Moment, ...]:
    """`anchors`, the tasks that the schedule knows, with the small ones among them, each as far as it is done.

    `expected`: when what runs will be over, by the task that ends it.
    They are in the order in which one leads to the next; a task that is stamped stands at its stamp.
    """
    told = [
        _marked(session, task, tz) for anchor in anchors for task in _group(session, anchor, steps, final, expected, tz)
    ]
    return _passed_over(told)


def _passed_over(told: list[Moment]) -> tuple[Moment, ...]:
    """With what lies before a done task taken as done."""
    later: set[str] = set()  # what is done of all that comes later
    after: list[Moment] = []
    for task in reversed(told):
        after.append(_passed(task, after[-1].at) if task.stamped is None and _is_over(task, later) else task)
        if task.stamped is not None and not task.skipped:  # what is left out tells of nothing that was done
            later.add(task.name)
    return tuple(reversed(after))


def _is_over(task: Moment, later: set[str]) -> bool:
    """Whether what is done `later` tells that a task is: a turn tells it of all, the others of all but turns.

    A gravity read tells it of no cooling: its sample is cooled by itself, and the wort may still be hot.
    """
    if later & _TURNS:
        return True
    telling = later - {"gravity"} if task.name in _AFTER_BOIL else later
    return bool(telling) and task.name not in _TURNS


def _passed(task: Moment, by: datetime) -> Moment:
    """A task that nobody stamped, not after what came after it."""
    if task.name in _TIMED or task.at <= by:
        return task._replace(done=True)
    return task._replace(done=True, at=by, earliest=None, latest=None)


def upcoming(moments: Sequence[Moment], now: datetime) -> Moment | None:
    """What is to be done next: the first open task that is not gone by."""
    stepped = any(task.stamped is not None for task in moments)
    return next((task for task in in_turn(moments) if may_be_next(task.name, task.at, now, stepped=stepped)), None)


def in_turn(moments: Sequence[Moment]) -> list[Moment]:
    """The open tasks as they come up: by their hours, but none before what leads to it in the same feeding."""
    latest: dict[int, datetime] = {}
    turns: list[tuple[datetime, Moment]] = []
    for task in moments:
        if not task.done:
            latest[task.step] = max(task.at, latest.get(task.step, task.at))
            turns.append((latest[task.step], task))
    return [task for _, task in sorted(turns, key=lambda turn: turn[0])]


def may_be_next(name: str, at: datetime, now: datetime, *, stepped: bool) -> bool:
    """Whether an open task is still waited for at `now`, late or not.

    Where nobody steps through the day what is long past is taken as done, and some things have their hour or have not.
    """
    if name in _PASSING:
        return at >= now - _PASSES
    return stepped or at >= now - _STILL


def _group(
    session: Session,
    anchor: Moment,
    steps: Sequence[StepPlan],
    final: Final,
    expected: Mapping[tuple[str, int], datetime],
    tz: tzinfo | None,
) -> Iterator[Moment]:
    """The tasks that belong to one of the schedule, itself among them."""
    name = _NAMES.get(anchor.key.rpartition(".")[2], "")
    step = steps[anchor.step - 1] if anchor.step else None
    if name == "weigh" and step is not None:
        yield from _making(session, anchor, step, expected, tz)
    elif name == "start" and step is not None:
        if anchor.what.startswith("pour off"):
            yield _small(anchor, "taste", _TASTE, anchor.at)
        yield anchor._replace(name=name, figures=(("cells", step.cells_in_b), ("wort at", step.temperature_c)))
        yield from _growing(session, anchor, step, tz)
    elif name == "pitch":
        if steps and not settle.is_shelf(session):
            near = _small(anchor, "near", "bring near the beer's temperature", _after(anchor.at, -_NEAR_H, tz))
            yield near._replace(figures=_beer_at(session))
        if anchor.what.startswith("pour off"):
            yield _small(anchor, "taste", _TASTE, anchor.at)
        yield anchor._replace(name=name, figures=(("cells", final.pitched_b),))
    elif name == "keep":
        yield anchor._replace(name=name, figures=(("cells", final.kept_b), ("in", final.kept_l)))
    else:
        yield anchor._replace(name=name)


_NAMES = {"weigh": "weigh", "start": "start", "chill": "chill", "at": "keep", "pitch_at": "pitch"}
_TASTE = "smell and taste what is poured off"


def _beer_at(session: Session) -> tuple[tuple[str, Figure], ...]:
    """What the starter is to come near to, where that is known."""
    if session.beer is None or session.beer.temperature_c is None:
        return ()
    low, high = session.beer.temperature_c - WINDOW_K, session.beer.temperature_c + WINDOW_K
    says = f"the beer at {session.beer.temperature_c:g} °C: a starter within {WINDOW_K:g} K of it takes no shock"
    return (("beer at", Figure(session.beer.temperature_c, "°C", Reason(says, TRADE), low, high)),)


def _making(
    session: Session,
    anchor: Moment,
    step: StepPlan,
    expected: Mapping[tuple[str, int], datetime],
    tz: tzinfo | None,
) -> Iterator[Moment]:
    """Making the wort of one feeding, from the fridge to the gravity; later by as much as its last stamp was."""
    boil_s = step.boil_time_s.value or 0.0
    spare_s = max(0.0, session.day.prepare_s - boil_s)
    delay_h = 0.0
    for index, small in enumerate(_wort_tasks(session, step)):
        planned_s = small.share * spare_s + (boil_s if small.after_boil else 0.0)
        at = _after(anchor.at, planned_s / 3600.0 + delay_h, tz)
        known = _stamped(session, small.name, anchor.step) or expected.get((small.name, anchor.step))
        if known is not None:
            ahead_h = hours_between(at, known)
            delay_h += 0.0 if small.name == "packs" else ahead_h if small.name in _ON_STOVE else max(0.0, ahead_h)
            at = local(known, tz)
        task = _small(anchor, small.name, small.what, at) if index else anchor  # the first is that of the schedule
        yield task._replace(name=small.name, what=small.what, figures=small.figures, asks=small.asks)


def _wort_tasks(session: Session, step: StepPlan) -> Iterator[_Small]:
    first, in_flask, stirred = step.number == 1, step.boil_in == "flask", step.motion == "stirred"
    vessel = f"flask{', bar' if stirred else ''} and foil" if in_flask else "pot and spoon"
    if first and any(lot.kind != "dry" for lot in session.yeast):
        yield _Small("packs", "yeast out; warm, swell as labelled", 0.0)
    yield _Small("clean", f"clean, sanitise {vessel}", 0.0)
    yield _Small("weigh", "weigh powder into cold water", 0.15, (("powder", step.powder_g), ("water", step.water_l)))
    drops = (("drops", step.foam.drops),) if step.foam.drops.value else ()
    cold = " and ".join((*(("stir bar",) if stirred and in_flask else ()), *(("drops",) if drops else ())))
    yield _Small("dissolve", f"{cold} in cold, dissolve" if cold else "dissolve, no lumps", 0.3, drops)
    yield _Small("boil", "it boils: start the clock", 0.45, (("to boil", step.boil_time_s), ("hot", step.boiling_l)))
    yield _Small("off", "heat off, cover loosely", 0.45, after_boil=True)
    if in_flask:
        ice = (("ice", step.bath.ice_kg), ("bath to", step.bath.fill_mm))
        yield _Small("cool", "into the bath, mouth covered", 0.5, ice, asks="bath", after_boil=True)
    else:
        yield _Small("cool", "cool the pot, lid on", 0.5, asks="bath", after_boil=True)
    out = "out of the bath" if in_flask else "cool enough"
    yield _Small("cooled", out, 0.9, (("cooled to", step.temperature_c),), after_boil=True)
    if step.top_up_l.value:
        yield _Small("top-up", "top up with boiled, cooled water", 0.92, (("water", step.top_up_l),), after_boil=True)
    planned = step.gravity_w._replace(value=step.planned_w)
    yield _Small("gravity", "check the gravity", 0.95, (("planned", planned),), asks="gravity", after_boil=True)


def _growing(session: Session, anchor: Moment, step: StepPlan, tz: tzinfo | None) -> Iterator[Moment]:
    """What is done once the yeast is in."""
    yield _small(anchor, "air", "shake for air", anchor.at)._replace(done=False)
    moving = {"stirred": "onto the stir plate, gently", "swirled": "swirl it whenever you pass", "still": ""}
    if moving[step.motion]:
        yield _small(anchor, "move", moving[step.motion], anchor.at)._replace(done=False)
    hours = min(_LOOK_H, (step.hours_planned or _LOOK_H) / 2.0)
    at = next_waking_hour(_after(anchor.at, hours, tz), session.day.awake, tz)
    if step.end is None or at < step.end:
        yield _small(anchor, "look", "look and smell: does it work?", at)._replace(done=False)


def _small(anchor: Moment, name: str, what: str, at: datetime) -> Moment:
    """A small task beside one of the schedule: it has no bounds and no warnings of its own."""
    source = TRADE if name in {"taste", "near", "look"} else RECOMMENDED
    why = Figure(None, "", Reason(f"{what}: with {anchor.what!r}, {at:%H:%M}", source))
    return Moment(at, what, anchor.step, f"task.{anchor.step}.{name}", None, None, why, anchor.done, name=name)


def _after(at: datetime, hours: float, tz: tzinfo | None) -> datetime:
    """So many hours later; the hour itself where the calendar ends."""
    return local(before(at, -hours) or at, tz)


def _marked(session: Session, task: Moment, tz: tzinfo | None) -> Moment:
    """The task with its own stamp: done at an hour, or skipped."""
    at = _stamped(session, task.name, task.step)
    if at is not None:
        return _at_its_stamp(task._replace(stamped=at, done=True), at, tz)
    said = _last(session, task.name, task.step)
    if said is not None and said.what == "task-skipped" and said.at is not None:
        return _at_its_stamp(task._replace(stamped=said.at, done=True, skipped=True), said.at, tz)
    return task


def _at_its_stamp(task: Moment, at: datetime, tz: tzinfo | None) -> Moment:
    return task if task.name in _TIMED else task._replace(at=local(at, tz), earliest=None, latest=None)


def _stamped(session: Session, name: str, step: int) -> datetime | None:
    """When a task was done, if it was."""
    if name == "gravity":
        return _read(session, step)
    boil = stopwatch.boil_of(session, step, 1.0)
    if name == "boil":
        return None if boil is None else boil.begun.at
    if name == "off":
        return boil_over(session, step)
    if name in STAMPS:
        steps = {0, len(session.step)} if name == "pitch" else {step}
        found = [e.at for e in session.event if e.what == STAMPS[name] and e.step in steps and e.at is not None]
        since = boil.begun.at if boil is not None and name in _AFTER_BOIL else None  # boiled again, it is cooled again
        return max((at for at in found if since is None or at >= since), default=None)
    last = _last(session, name, step)
    return last.at if last is not None and last.what == "task-done" else None


def _last(session: Session, name: str, step: int) -> Event | None:
    """The last word on a task that has no event of its own."""
    said = [e for e in session.event if e.task == name and e.step == step and e.what.startswith("task-")]
    return said[-1] if said else None


def _read(session: Session, step: int) -> datetime | None:
    """When the gravity of the finished wort was first read, or said to have been; not while it boils again."""
    last, over, boil = _last(session, "gravity", step), boil_over(session, step), stopwatch.boil_of(session, step, 1.0)
    if boil is not None and over is None:
        return None
    if last is not None and last.what == "task-done" and last.at is not None and (over is None or last.at >= over):
        return last.at
    yeast_in = _stamped(session, "start", step)
    read = [
        r.at
        for r in session.reading
        if r.step == step and r.kind in ("gravity", "brix") and r.value is not None and r.at is not None
    ]
    wort = [at for at in read if over is not None and over <= at and (yeast_in is None or at <= yeast_in)]
    return min(wort, default=None)
