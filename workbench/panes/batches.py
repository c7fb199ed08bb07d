"""The batches of a folder as lines: a row each, the one that wants something first on top, one in full below."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from workbench.panes.glyphs import plain
from workbench.panes.spans import clean, fit, join, pad, turn, width, wrap
from workbench.plan.summary import WANTING, is_over, next_task, state, status
from workbench.units.when import lasting, moment, until

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from datetime import datetime, tzinfo
    from pathlib import Path

    from workbench.panes.glyphs import Glyphs
    from workbench.panes.spans import Span, Spans
    from workbench.plan.summary import Summary

__all__ = ["DETAILS", "Listed", "View", "details", "following", "heading", "nothing_yet", "row"]

DETAILS = 5
"""Most lines of `details`."""
_ROOMY = 110  # cells from which there is a column for the pitching hour
_HOUR = 12  # cells of `28 Nov 15:00`
_STATE = 19  # of `growing 23 h 59 min`
_NAME, _NAME_ROOMY, _NAME_MOST = 20, 32, 44
_NEEDS_LOOK = {
    "faulty": "danger",
    "open": "accent",
    "aside": "accent",
    "past": "dim",
    "pitched": "dim",
    "stored": "dim",
}


class Listed(NamedTuple):
    """One batch of the folder: its file, and what that says."""

    path: Path
    told: Summary

    @property
    def name(self) -> str:
        """What the brewer calls it; of a file without a name, or that cannot be read, the file's."""
        return clean(self.path.name if self.told.fault else self.told.name or self.path.stem)


class View(NamedTuple):
    """When and how batches are shown."""

    now: datetime
    glyphs: Glyphs
    tz: tzinfo | None = None


def heading(cells: int) -> Spans:
    """What the columns are."""
    roomy = cells >= _ROOMY
    words = [("batch", 2 + _name_cells(cells)), ("state", _STATE + 3)]
    words += [("pitch", _HOUR + 2)] if roomy else []
    text = " " + "".join(f"{word:<{room}}" for word, room in words) + "next"
    return ((text, "dim"),)


def row(item: Listed, view: View, cells: int, *, lit: bool = False) -> Spans:
    """A batch on one line; `lit`, its name marked, is the one under the cursor."""
    roomy, told = cells >= _ROOMY, item.told
    role = "dim" if is_over(told, view.now) else "text"
    name = _column([(item.name, role)], _name_cells(cells) + 2, view)
    sign: Span = (view.glyphs.cursor if lit else " ", "text")
    spans = [*(turn((sign, *name), "@") if lit else (sign, *name))]
    spans += _column(_state(told, view), _STATE + 1, view)
    spans += [(f"{view.glyphs.caution} " if told.wrong and role == "text" else "  ", "warning")]
    if roomy and not told.fault:
        spans += _column([(_hour(told.pitch_at, view), "dim")], _HOUR + 2, view)
    line = fit(join((*spans, *_next(told, view))), cells, view.glyphs.cut)
    *before, (text, last) = line
    return (*before, (text.rstrip(), last))


def _name_cells(cells: int) -> int:
    """Cells of a batch's name: what the tasks leave, up to the longest that is usual."""
    return _NAME if cells < _ROOMY else min(_NAME_MOST, max(_NAME_ROOMY, cells - 110))


def _column(spans: Sequence[Span], cells: int, view: View) -> Spans:
    """The spans in a column of so many cells, the last of them blank."""
    shown = [(plain(text, view.glyphs), role) for text, role in spans]
    return pad(fit(shown, cells - 1, view.glyphs.cut), cells, "dim")


def _state(told: Summary, view: View) -> list[Span]:
    """The word, then quietly how long that lasts or since when it is so."""
    word, more = state(told, view.now, view.tz)
    return [(word, _NEEDS_LOOK.get(word, "text")), (f" {more}" if more else "", "dim")]


def _hour(at: datetime | None, view: View) -> str:
    """The hour, or for another year the day alone, which is as long."""
    told = "" if at is None else moment(at, view.now, view.tz)
    return told if len(told) <= _HOUR else told[:-6]


def _next(told: Summary, view: View) -> Spans:
    """When and what; of a batch that is not all there yet what is missing, of a faulty file why."""
    if told.fault:
        return ((plain(clean(told.fault), view.glyphs), "danger"),)
    if status(told, view.now).word in WANTING:
        return ((plain(clean(told.needs), view.glyphs), "accent"),)
    task = next_task(told, view.now)
    if task is None:
        return ()
    role = "warning" if task.at < view.now else "text"
    return ((f"{_hour(task.at, view):<{_HOUR}} ", role), (plain(clean(task.what), view.glyphs), "text"))


def following(items: Sequence[Listed], view: View, cells: int) -> Spans:
    """What is to be done first of all, in which batch; `items` are in order."""
    task = next_task(items[0].told, view.now) if items else None
    if task is None:
        return (("nothing is waiting", "dim_"),)
    late = task.at < view.now
    hour = moment(task.at, view.now, view.tz)
    word: Span = ("LATE ", "danger_") if late else ("NEXT ", "key_")
    what: Spans = (
        (f"   {plain(items[0].name, view.glyphs)}", "key_"),
        (f"  {plain(clean(task.what), view.glyphs)}", "text_"),
    )
    line: Spans = (word, (f"{hour}, {until(task.at, view.now)}", "text_"), *what)
    if width(line) <= cells:
        return line
    room = cells - width((word, (hour, "text_"), what[1]))  # of a long name what is left, so that the task is read
    return (word, (hour, "text_"), *fit(what[:1], max(_NAME, room), view.glyphs.cut), what[1])


def details(item: Listed, view: View, cells: int) -> list[Spans]:
    """All about the batch under the cursor, below a rule: what of its row may have been cut."""
    told = item.told
    lines: list[Spans] = [((view.glyphs.rule * cells, "rule"),)]
    file = clean(item.path.name) if item.name != clean(item.path.name) else ""  # that of a faulty one is its name
    lines.append(((f" {plain(item.name, view.glyphs)}", "key"), (f"   {plain(file, view.glyphs)}".rstrip(), "dim")))
    for text, role in _sentences(told, view):
        lines += [((f" {line}", role),) for line in wrap(plain(clean(text), view.glyphs), cells - 2)]
    return [fit(line, cells, view.glyphs.cut) for line in lines[:DETAILS]]


def _sentences(told: Summary, view: View) -> list[Span]:
    """What there is to say of it, what matters most first."""
    if told.fault:
        return [(told.fault, "danger"), ("Enter tells more; it hurts no other batch.", "dim")]
    pitched = _doing(told, view)
    if told.pitch_at is not None:
        goal = "into the fridge" if told.shelf else "pitch"
        hour = f"{goal} {moment(told.pitch_at, view.now, view.tz)}"
        pitched = f"{pitched}; {hour}" if pitched else f"{hour}, {until(told.pitch_at, view.now)}"
    wanted = (told.needs, "accent") if told.needs else _todo(told, view)
    wrong = (f"{view.glyphs.caution} {told.wrong}", "warning")
    return [
        span
        for span in (wanted, (pitched, "text"), wrong if told.wrong and not is_over(told, view.now) else ("", ""))
        if span[0]
    ]


def _doing(told: Summary, view: View) -> str:
    """What the feeding that has begun is at, with what is left of it."""
    word, ends = status(told, view.now)
    left = f"{lasting(ends - view.now)} left" if ends is not None else ""
    if word == "growing":
        return f"feeding {told.feeding} is growing{f', {left}' if left else ''}"
    if word == "cold":
        return f"feeding {told.feeding} stands cold, {f'{left} of its rest' if left else 'rested'}"
    return f"feeding {told.feeding} has grown" if word == "grown" else ""


def _todo(told: Summary, view: View) -> Span:
    task = next_task(told, view.now)
    if task is None:
        return "", "dim"
    hour = f"{moment(task.at, view.now, view.tz)}, {until(task.at, view.now)}"
    return f"{hour}: {task.what}", "warning" if task.at < view.now else "text"


def nothing_yet(folder: str, view: View, cells: int, keys: Mapping[str, str]) -> list[Spans]:
    """What to press where there is no batch, by action."""
    said = [
        "No batches here yet.",
        "",
        f"{keys['new']}  makes one, with your usual flask and wort",
        f"{keys['tour']}  shows a tour on one page",
        f"{keys['help']}  lists the keys",
        "",
    ]
    lines: list[Spans] = [((f"  {line}", "text"),) for line in said]
    told = f"They are looked for in {folder}; the settings, or --folder, name another place."
    demo = "In the shell, `workbench demo` opens one in the middle of its day."
    return lines + [((f"  {line}", "dim"),) for text in (told, demo) for line in _wrapped(text, view, cells)]


def _wrapped(text: str, view: View, cells: int) -> list[str]:
    return wrap(plain(clean(text), view.glyphs), cells - 3)
