"""The home screen as lines of spans: what comes first of all on top, the batches, the keys at the bottom."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.cells import cell_len

from workbench.panes import batches
from workbench.panes.glyphs import plain
from workbench.panes.rows import scroll, with_more
from workbench.panes.spans import clean, fit, join, pad, width, wrap
from workbench.screens import editor, finder
from workbench.screens.layout import part_at
from workbench.session.folder import short

if TYPE_CHECKING:
    from workbench.panes.spans import Span, Spans
    from workbench.screens.home_desk import HomeDesk, Question
    from workbench.screens.keys import Action

__all__ = ["LIST", "ROWS", "action_at", "body", "bottom", "caret", "top"]

_ASKED = {
    "filter": "show",
    "new": "name of the new batch",
    "copy": "name of the copy",
    "from-kept": "name of the next batch",
    "rename": "new name",
}
_LEAST_FIELD = 24
LIST = 3
"""The line of the screen on which an open list of actions begins, `ROWS` that of the first batch."""
ROWS = 4


def top(desk: HomeDesk, cells: int) -> list[Spans]:
    """Which folder and how many batches; below, the task that comes first of all."""
    folder = plain(clean(short(desk.index.folder)), desk.glyphs)
    count: Spans = ((_count(desk), "dim_"),)
    name: Spans = ((" Batches", "key_"), (f"   {folder}", "dim_"))
    room = max(0, cells - width(count) - 3)
    first: Spans = ((" ", "dim_"), *batches.following(desk.everything, desk.view, cells - 2))
    upper = (*pad(fit(name, room, desk.glyphs.cut), room + 2, "dim_"), *count)
    return [join(upper), fit(join(first), cells - 1, desk.glyphs.cut)]


def _count(desk: HomeDesk) -> str:
    shown, there = len(desk.rows), len(desk.everything)
    if desk.index.pending:
        return f"{len(desk.index.pending)} more being read"
    return f"{shown} of {there}" if desk.words else f"{there} batch{'es' if there != 1 else ''}"


def body(desk: HomeDesk, cells: int, height: int) -> list[Spans]:
    """Heading, the rows in sight, all about the one under the cursor; or the list of what can be done, the tour."""
    if desk.finder is not None:
        return [(), *finder.lines(desk.finder, desk.glyphs, min(cells, 100), height - 1)]
    if desk.touring:
        from workbench.screens.tour import tour_lines  # once in a brewer's life

        return tour_lines(desk.of_batch, desk.glyphs, cells)[:height]
    long = _long(desk, cells)
    if not desk.rows:
        return [(), *_nothing(desk, cells), (), *long]
    desk.height = height - 2 - batches.DETAILS
    rows = _rows(desk, cells, desk.height)
    blank: list[Spans] = [()] * (desk.height - len(rows))
    rule: Spans = ((desk.glyphs.rule * cells, "rule"),)
    about = [rule, *long[: batches.DETAILS - 1]] if long else batches.details(desk.rows[desk.place], desk.view, cells)
    return [(), batches.heading(cells), *rows, *blank, *about]


def _long(desk: HomeDesk, cells: int) -> list[Spans]:
    """What is wrong, or was said, on lines of its own, where the bottom line has no room for all of it."""
    text, role = _said(desk) if desk.question is None else _wrong(desk, desk.question)
    room = cells - 1 if desk.question is None else _room(cells)
    return [((f" {line}", role),) for line in wrap(text, cells - 2)] if cell_len(text) > room else []


def _said(desk: HomeDesk) -> Span:
    return plain(clean(desk.said), desk.glyphs), "text"


def _wrong(desk: HomeDesk, question: Question) -> Span:
    """What is wrong with what was typed, behind its sign."""
    text = plain(clean(question.error), desk.glyphs)
    return f"{desk.glyphs.danger} {text}" if text else "", "danger"


def _room(cells: int) -> int:
    """Cells for what is wrong beside the field."""
    return cells // 2 - 2


def _rows(desk: HomeDesk, cells: int, height: int) -> list[Spans]:
    view, at = desk.view, desk.place
    first = desk.first = scroll(len(desk.rows), height, at, at, desk.first)
    seen = desk.rows[first : first + height]
    lines = [batches.row(item, view, cells, lit=first + n == at) for n, item in enumerate(seen)]
    return with_more(lines, first, len(desk.rows) - first - height, desk.glyphs)


def _nothing(desk: HomeDesk, cells: int) -> list[Spans]:
    if desk.trouble:
        return [((f"  {line}", "danger"),) for line in wrap(plain(clean(desk.trouble), desk.glyphs), cells - 3)]
    if desk.everything:
        return [((f"  No batch has all of these words. {desk.key('back')} shows all again.", "text"),)]
    if desk.index.pending:
        return [((plain("  Reading…", desk.glyphs), "dim"),)]
    return batches.nothing_yet(short(desk.index.folder), desk.view, cells, {a.id: a.key for a in desk.actions})


def bottom(desk: HomeDesk, cells: int) -> Spans:
    """What can be pressed; while typing the line; after an action what it did."""
    if desk.question is not None:
        return fit(_typing(desk, desk.question, cells), cells, desk.glyphs.cut)
    if desk.finder is not None:
        return fit(((f" {finder.about(desk.finder, desk.glyphs)}", "text_"),), cells, desk.glyphs.cut)
    if desk.touring:
        return fit(_words(desk, 2), cells, desk.glyphs.cut)
    if desk.said and not _long(desk, cells):
        return ((f" {_said(desk)[0]}", "text_"),)
    return fit(_words(desk, _gap(desk, cells)), cells, desk.glyphs.cut)


def _gap(desk: HomeDesk, cells: int) -> int:
    return next((gap for gap in (3, 2) if width(_words(desk, gap)) <= cells), 1)


def action_at(desk: HomeDesk, cells: int, x: int) -> str:
    """The action whose key or word stands in column `x` of the bottom line; nothing where it says something else."""
    gap = _gap(desk, cells)
    words = ((a.id, len(f"{plain(a.key, desk.glyphs)} {a.word}") + gap) for a in _told(desk))
    return "" if desk.said and not _long(desk, cells) else part_at(words, x - 1)


def _told(desk: HomeDesk) -> list[Action]:
    if desk.touring:
        return [action._replace(word="back") for action in desk.actions if action.id == "back"]
    return [action for action in desk.actions if action.word and (action.id != "undo" or desk.put_away)]


def _words(desk: HomeDesk, gap: int) -> Spans:
    spans: list[Span] = [(" ", "dim_")]
    for action in _told(desk):
        spans += [(plain(action.key, desk.glyphs), "key_"), (f" {action.word}{' ' * gap}", "dim_")]
    *before, (text, role) = join(spans)
    return (*before, (text.rstrip(), role))


def _typing(desk: HomeDesk, question: Question, cells: int) -> Spans:
    """What is asked for, the field, and how to end it or what is wrong."""
    head: Spans = ((f" {_ASKED[question.about]} ", "text_"),)
    wrong, _ = _wrong(desk, question)
    if 0 < cell_len(wrong) <= _room(cells):
        behind: Spans = ((f"  {wrong}", "danger_"),)
    else:
        behind = (
            (f"  {desk.glyphs.enter}", "key_"), (" keep  ", "dim_"), ("Esc", "key_"),
            (" all again" if question.about == "filter" else " leave", "dim_"),
        )  # fmt: skip
    room = cells - width(head) - min(width(behind), cells // 2) - 1
    text, at = editor.window(question.line, max(4, min(max(_LEAST_FIELD, cell_len(question.line.text) + 1), room)))
    return (*head, (text[:at], "field"), (text[at], "caret"), (text[at + 1 :], "field"), *behind)


def caret(desk: HomeDesk, cells: int, height: int) -> tuple[int, int]:
    """Column and line of the terminal's own cursor on a screen of this size."""
    if desk.question is not None:
        column = 0
        for text, role in bottom(desk, cells):
            if role == "caret":
                return min(column, cells - 1), height - 1
            column += cell_len(text)
    if desk.finder is not None:
        column, line = finder.caret(desk.finder)
        return column, LIST + line
    return 0, ROWS + desk.place - desk.first if desk.rows and not desk.touring else 2
