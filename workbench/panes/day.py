"""Pane 6, Day: what is to be done when, by day, the next thing first in line."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING

from workbench.panes.empty import leads
from workbench.panes.figures import shown, span, value, words_row
from workbench.panes.rows import Row, Rows, number
from workbench.panes.spans import pad
from workbench.plan.tasks import in_turn, may_be_next
from workbench.units.when import day, hours_between, local, moment, until, weekday

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import date, datetime

    from workbench.panes.rows import Scene
    from workbench.panes.spans import Span, Spans
    from workbench.plan.model import Moment

__all__ = ["moment_id", "rows"]

_HOUR = 5  # cells of `17:00`
_ROOMY = 60  # cells from which there is room for how early and how late a task may be
_BOUNDS = 40  # the column they stand at
_WORTH_TELLING_H = 1.0


def rows(scene: Scene, cells: int) -> list[Row]:
    """All rows of the pane, for a width."""
    pane = Rows(scene, cells)
    plan = scene.plan
    if plan.next is not None:
        _next(pane, plan.next)
    elif plan.moments:
        pane.say("Nothing more to be done.", "fine")
    stepped = any(task.stamped is not None for task in plan.moments)
    late = [task for task in plan.moments if not may_be_next(task.name, task.at, plan.now, stepped=stepped)]
    open_ = [task for task in in_turn(plan.moments) if task not in late and task != plan.next]
    over = [task for task in plan.moments if task.done or task in late]
    _days(pane, open_, "text")
    if not plan.moments:
        pane.say(f"No hours yet. {leads(scene)}")
    pane.blank()  # the days begin anew
    _days(pane, over, "dim")
    _notes(pane)
    pane.blank()
    batch = plan.session.batch
    pane.add(words_row("batch", "batch.name", batch.name or "no name", scene, start=batch.name))
    pane.add(words_row("note", "batch.note", batch.note or scene.glyphs.dash, scene, start=batch.note))
    _habits(pane)
    return pane.rows


def moment_id(task: Moment) -> str:
    """The id of a task's row."""
    return f"moment.{task.step}.{task.name}"


def _notes(pane: Rows) -> None:
    """What was noted, each with its hour."""
    scene = pane.scene
    notes = [event for event in scene.plan.session.event if event.what == "note" and event.at is not None]
    if notes:
        pane.blank()
    for event in notes:
        at = "" if event.at is None else moment(event.at, scene.plan.now, scene.tz)
        pane.say(f"{at}  {event.text}", "typed")


def _habits(pane: Rows) -> None:
    """How long preparing takes, when the brewer is up, and how sure the need is to be met."""
    scene, session = pane.scene, pane.scene.plan.session
    pane.add(value("prepare", "day.prepare", session.day.prepare_s, "s", scene), note=[("until yeast in", "dim")])
    if session.beer is not None:
        beer = value("beer at", "beer.temperature", session.beer.temperature_c, "°C", scene)
        pane.add(beer, note=[("when the yeast goes in", "dim")])
    pane.add(words_row("awake", "day.awake", "-".join(f"{hour:%H:%M}" for hour in session.day.awake), scene))
    pane.add(value("aim", "batch.chance", session.batch.chance, "1", scene), note=[("chance wanted", "dim")])


def _next(pane: Rows, item: Moment) -> None:
    """The next thing on lines of its own, with the figures it needs, what is asked and what may hurt."""
    scene, now = pane.scene, pane.scene.plan.now
    hour: Span = (f"{moment(item.at, now, scene.tz)}, {until(item.at, now)}", "text")
    pane.rows.append(Row(spans=(("NEXT ", "key"), hour), label_cells=0))
    what = ((item.what, "key"), *_bounds(pane, item, item.what))
    row = Row("", what, label_cells=_HOUR, id=moment_id(item), figure=item.why, cautions=item.cautions)
    pane.add(row, keys=(item.key,))
    for label, needed in item.figures:
        row = Row(label, number(*shown(needed.value, needed.unit, scene), scene.glyphs))
        pane.add(row, note=[span(needed, scene)] if item.name == "near" else ())
    pane.say(f"{scene.key('done')}: done, {_ASKS.get(item.asks, 'next')}", "accent")
    if item.cautions:
        pane.say(f"{item.cautions[0].says} {scene.key('why')}: all that may hurt here.")
    pane.blank()


_ASKS = {"gravity": "and what it read", "bath": "and how cold the bath is"}


def _days(pane: Rows, items: Iterable[Moment], role: str) -> None:
    """The tasks under a line for each day, by the clock on the wall."""
    scene, tz = pane.scene, pane.scene.tz
    by_day = sorted(items, key=lambda item: local(item.at, tz).date())
    for on, tasks in groupby(by_day, key=lambda item: local(item.at, tz).date()):
        own = list(tasks)
        head: Spans = ((f"{weekday(on)} {day(on)}", "dim" if role == "dim" else "text"),)
        if any(_bounds(pane, item, "") for item in own):
            head = (*pad(head, _HOUR + _BOUNDS, "dim"), (f"earliest{scene.glyphs.dash}latest", "dim"))
        pane.rows.append(Row(spans=head, label_cells=0))
        for item in own:
            _task(pane, item, role)


def _task(pane: Rows, item: Moment, role: str) -> None:
    """One line; what is done stands with the hour at which it was, and a sign."""
    scene = pane.scene
    hour = f"{local(item.stamped or item.at, scene.tz):%H:%M}"
    sign: Span = ("  ", role)
    if item.skipped:
        sign = (f"{scene.glyphs.dash} ", "dim")
    elif item.stamped is not None:
        sign = (f"{scene.glyphs.fine} ".ljust(2), "fine")
    spans = (sign, (item.what, role), *_bounds(pane, item, f"  {item.what}"))
    row = Row(hour, spans, label_cells=_HOUR, id=moment_id(item), figure=item.why, cautions=item.cautions)
    pane.add(row, keys=(item.key,))


def _bounds(pane: Rows, item: Moment, behind: str) -> list[Span]:
    """How early and how late it may be, where that differs by an hour or more and there is room behind its text."""
    early, late = item.earliest, item.latest
    if pane.cells < _ROOMY or early is None or late is None or hours_between(early, late) < _WORTH_TELLING_H:
        return []
    scene, on = pane.scene, local(item.at, pane.scene.tz).date()
    told = (_hour_of(local(at, scene.tz), on) for at in (early, late))
    return [(" " * max(2, _BOUNDS - len(behind)), "dim"), (scene.glyphs.dash.join(told), "dim")]


def _hour_of(there: datetime, on: date) -> str:
    """`17:00`, with its weekday where it is not of that day."""
    return f"{there:%H:%M}" if there.date() == on else f"{weekday(there)} {there:%H:%M}"
