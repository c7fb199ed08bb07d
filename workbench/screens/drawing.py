"""A pane of the desk as lines of spans: title, rows in sight, the row being edited, or a page."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.cells import cell_len

from workbench.panes.glyphs import plain
from workbench.panes.rows import Row, draw, scroll, stops, with_more
from workbench.panes.spans import clean, fit, join, width, wrap
from workbench.screens import editor, finder
from workbench.screens.keys import PANES
from workbench.screens.layout import FLOOR

if TYPE_CHECKING:
    from workbench.panes.spans import Span, Spans
    from workbench.screens.desk import Desk, Entry, Page

__all__ = ["alarm", "at_bottom", "caret", "pane", "wrong"]

FIELD = 12  # cells of the edit field; more where the row has room and the text needs it


def pane(desk: Desk, index: int, cells: int, height: int, *, titled: bool) -> list[Spans]:
    """One pane in `cells` by `height`, under its name or, where the rail names it, without."""
    head: list[Spans] = [_title(desk, index, cells)] if titled else []
    return head + _body(desk, index, cells, height - len(head))


def _title(desk: Desk, index: int, cells: int) -> Spans:
    name = f" {index + 1} {PANES[index]}{alarm(desk, index)} "
    rule = desk.glyphs.rule * max(0, cells - len(name))
    return join(((name, "tag" if index == desk.pane else "text"), (rule, "rule")))


def alarm(desk: Desk, index: int) -> str:
    """What is put behind a pane's name: ` !` where it holds a warning that wants a look."""
    warned = any(w.level != "note" for row in desk.rows(index) for w in row.warnings)
    return f" {desk.glyphs.caution}" if warned else ""


def _body(desk: Desk, index: int, cells: int, height: int) -> list[Spans]:
    if desk.finder is not None and index == desk.pane:
        return finder.lines(desk.finder, desk.glyphs, cells, height)
    if desk.page is not None and index == desk.pane:
        return _page(desk, desk.page, cells, height)
    rows, at = _rows(desk, index)
    first = _scrolled(desk, index, height, at)
    lines = [
        _row(desk, row, cells, lit=n == at and index == desk.pane)
        for n, row in enumerate(rows[first : first + height], first)
    ]
    lines = with_more(lines, first, len(rows) - first - height, desk.glyphs)
    if desk.entry is not None and index == desk.pane and at >= first:
        _complain(desk, desk.entry, lines, at - first, cells, height)
    return lines


def _rows(desk: Desk, index: int) -> tuple[list[Row], int]:
    """The rows of a pane, and which has the cursor; a line typed where none can has a row of its own, on top."""
    rows, at = desk.rows(index), desk.cursor(index)
    return ([Row(), *rows], 0) if at < 0 and desk.entry is not None and index == desk.pane else (rows, at)


def _complain(desk: Desk, entry: Entry, lines: list[Spans], at: int, cells: int, height: int) -> None:
    """What is wrong with the entry, beside the field or over the lines next to it, unless the bottom line says so."""
    if not entry.error or at_bottom(desk, entry, cells):
        return
    says = wrong(desk, entry)
    if _fits_beside(desk, entry, cells):
        lines[at] = (*lines[at], (f" {says[0]}", says[1]))
        return
    told: list[Spans] = [((f" {line}", says[1]),) for line in wrap(says[0], cells - 2)]
    first = at + 1 if at + len(told) < height else max(0, at - len(told))
    lines[first : first + len(told)] = told


def wrong(desk: Desk, entry: Entry) -> Span:
    """What is wrong with the entry, behind its sign."""
    return f"{desk.glyphs.danger} {plain(clean(entry.error), desk.glyphs)}", "danger"


def at_bottom(desk: Desk, entry: Entry, cells: int) -> bool:
    """Whether the bottom line says what is wrong: no room in `cells` beside the field, but there."""
    return not _fits_beside(desk, entry, cells) and width([wrong(desk, entry)]) < FLOOR[0]


def _fits_beside(desk: Desk, entry: Entry, cells: int) -> bool:
    row = desk.row() or Row()
    return width(_entry(desk, entry, row, cells)) + 1 + width([wrong(desk, entry)]) <= cells


def _scrolled(desk: Desk, index: int, height: int, at: int) -> int:
    """The first row shown: the cursor's row and what belongs to it up to the next stop are in sight."""
    rows, spot = desk.rows(index), desk.spots[index]
    where = stops(rows)
    if not where:
        return 0
    later = [stop for stop in where if stop > at]
    top = 0 if at == where[0] else at
    spot.first = scroll(len(rows), height, top, (later[0] if later else len(rows)) - 1, spot.first)
    if at - spot.first >= height - 1:  # what belongs to the first row is longer than the pane
        spot.first = scroll(len(rows), height, at, at, spot.first)
    return spot.first


def _page(desk: Desk, page: Page, cells: int, height: int) -> list[Spans]:
    lines = page.lines(cells)
    first = page.first = max(0, min(page.first, len(lines) - height))
    shown = [fit(line, cells, desk.glyphs.cut) for line in lines[first : first + height]]
    return with_more(shown, first, len(lines) - first - height, desk.glyphs)


def _row(desk: Desk, row: Row, cells: int, *, lit: bool) -> Spans:
    if lit and desk.entry is not None:
        return _entry(desk, desk.entry, row, cells)
    return draw(row, cells, desk.glyphs, lit=lit)


def _entry(desk: Desk, entry: Entry, row: Row, cells: int) -> Spans:
    """The row while it is edited: the field instead of its value."""
    label = clean(row.label) if entry.ask is None else entry.ask.label
    head: Spans = ((f"{desk.glyphs.cursor}{plain(label, desk.glyphs):<{row.label_cells}} ", "text"),)
    room = cells - width(row.picture) - width(head) - 1
    text, at = editor.window(entry.line, max(4, min(max(FIELD, cell_len(entry.line.text) + 1), room)))
    field: Spans = ((text[:at], "field"), (text[at], "caret"), (text[at + 1 :], "field"))
    return (*row.picture, *join((*head, *field)))


def caret(desk: Desk, cells: int, height: int, *, titled: bool) -> tuple[int, int]:
    """Where the terminal's own cursor belongs, for magnifiers and readers: column and line in the chosen pane."""
    rows, at = _rows(desk, desk.pane)
    line = max(0, at - desk.spots[desk.pane].first) + titled
    if desk.finder is not None:
        column, line = finder.caret(desk.finder)
        return column, line + titled
    if desk.page is not None or at < 0:
        return 0, int(titled)
    column = 0
    for text, role in _row(desk, rows[at], cells, lit=True):
        if role == "caret" or (desk.entry is None and desk.glyphs.cursor in text):
            return min(column, cells - 1), min(line, height - 1)
        column += cell_len(text)
    return 0, min(line, height - 1)
