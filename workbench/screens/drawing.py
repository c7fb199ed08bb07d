"""From the desk to lines of spans: a pane with its title, the rail, the top line and the bottom line."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.panes.glyphs import plain
from workbench.panes.rows import Row, draw, scroll, stops
from workbench.panes.spans import clean, fit, join, pad, turn, width
from workbench.panes.when import moment, until
from workbench.screens import editor
from workbench.screens.keys import PANES, of_pane

if TYPE_CHECKING:
    from workbench.panes.spans import Span, Spans
    from workbench.screens.desk import Desk, Entry

__all__ = ["bottom", "caret", "pane", "rail", "top"]

FIELD = 12  # cells of the edit field; more where the row has room and the text needs it


def pane(desk: Desk, index: int, cells: int, height: int, *, titled: bool) -> list[Spans]:
    """One pane in `cells` by `height`, under its name or, where the rail names it, without."""
    head: list[Spans] = [_title(desk, index, cells)] if titled else []
    return head + _body(desk, index, cells, height - len(head))


def _title(desk: Desk, index: int, cells: int) -> Spans:
    name = f" {index + 1} {PANES[index]}{_alarm(desk, index)} "
    rule = desk.glyphs.rule * max(0, cells - len(name))
    return join(((name, "tag" if index == desk.pane else "text"), (rule, "rule")))


def _alarm(desk: Desk, index: int) -> str:
    """` !` where the pane holds a warning that wants a look."""
    warned = any(w.level != "note" for row in desk.rows(index) for w in row.warnings)
    return f" {desk.glyphs.caution}" if warned else ""


def _body(desk: Desk, index: int, cells: int, height: int) -> list[Spans]:
    if desk.page is not None and index == desk.pane:
        return _page(desk, cells, height)
    rows, at = desk.rows(index), desk.cursor(index)
    first = _scrolled(desk, index, height, at)
    lines = [
        _row(desk, row, cells, lit=n == at and index == desk.pane)
        for n, row in enumerate(rows[first : first + height], first)
    ]
    return _more(desk, lines, first, len(rows) - first - height)


def _scrolled(desk: Desk, index: int, height: int, at: int) -> int:
    """The first row shown: the cursor's row and what belongs to it up to the next stop are in sight."""
    rows, spot = desk.rows(index), desk.spots[index]
    if at < 0:
        return 0
    where = stops(rows)
    later = [stop for stop in where if stop > at]
    top = 0 if at == where[0] else at
    spot.first = scroll(len(rows), height, top, (later[0] if later else len(rows)) - 1, spot.first)
    if at - spot.first >= height - 1:  # what belongs to the first row is longer than the pane
        spot.first = scroll(len(rows), height, at, at, spot.first)
    return spot.first


def _more(desk: Desk, lines: list[Spans], above: int, below: int) -> list[Spans]:
    """The outermost lines say how many rows are hidden."""
    if above > 0 and lines:
        lines[0] = ((f" {desk.glyphs.above} {above + 1} more", "dim"),)
    if below > 0 and lines:
        lines[-1] = ((f" {desk.glyphs.more} {below + 1} more", "dim"),)
    return lines


def _page(desk: Desk, cells: int, height: int) -> list[Spans]:
    assert desk.page is not None
    lines = desk.page.lines(cells)
    desk.page.first = max(0, min(desk.page.first, len(lines) - height))
    first = desk.page.first
    shown = [fit(line, cells, desk.glyphs.cut) for line in lines[first : first + height]]
    return _more(desk, shown, first, len(lines) - first - height)


def _row(desk: Desk, row: Row, cells: int, *, lit: bool) -> Spans:
    if lit and desk.entry is not None:
        return _entry(desk, desk.entry, row, cells)
    return draw(row, cells, desk.glyphs, lit=lit)


def _entry(desk: Desk, entry: Entry, row: Row, cells: int) -> Spans:
    """The row while it is edited: the field instead of its value, and what is wrong beside it."""
    label = "read" if entry.measure else clean(row.label)
    head: Spans = ((desk.glyphs.cursor, "accent"), (f"{plain(label, desk.glyphs):<{row.label_cells}} ", "text"))
    room = cells - width(row.picture) - width(head) - 1
    size = max(4, min(max(FIELD, len(entry.line.text) + 1), room - (FIELD if entry.error else 0)))
    text, at = editor.window(entry.line, size)
    field: Spans = ((text[:at], "field"), (text[at], "caret"), (text[at + 1 :], "field"))
    wrong: Span = (f" {desk.glyphs.danger} {plain(entry.error, desk.glyphs)}" if entry.error else "", "danger")
    return (*row.picture, *join((*head, *field, *fit([wrong], room - size, desk.glyphs.cut))))


def caret(desk: Desk, cells: int, height: int, *, titled: bool) -> tuple[int, int]:
    """Where the terminal's own cursor belongs, for magnifiers and readers: column and line in the chosen pane."""
    at = desk.cursor(desk.pane)
    line = max(0, at - desk.spots[desk.pane].first) + titled
    if desk.page is not None or at < 0:
        return 0, int(titled)
    column = 0
    for text, role in _row(desk, desk.rows(desk.pane)[at], cells, lit=True):
        if role == "caret" or (desk.entry is None and desk.glyphs.cursor in text):
            return min(column, cells - 1), min(line, height - 1)
        column += len(text)
    return 0, min(line, height - 1)


def rail(desk: Desk, cells: int) -> list[Spans]:
    """The names of the panes, the chosen one marked."""
    spans: list[Span] = [(" ", "text")]
    for index, name in enumerate(PANES):
        text = f" {index + 1} {name}{_alarm(desk, index)} "
        spans += [(text, "tag" if index == desk.pane else "dim"), (" ", "text")]
    return [fit(join(spans), cells, desk.glyphs.cut)]


def top(desk: Desk, cells: int, height: int) -> list[Spans]:
    """The batch, what comes next or is missing, when the yeast is pitched, need and outlook; in one line or two."""
    name: Spans = ((f" {plain(clean(desk.plan.session.batch.name or desk.store.path.stem), desk.glyphs)}", "text_"),)
    trouble = desk.store.saver.problem
    following: Spans = ((f"NOT SAVED: {trouble}", "danger_"),) if trouble else _next(desk)
    if height > 1:
        below: Spans = ((" ", "dim_"), *following)
        return [_sides(name, _outlook(desk), cells, desk), _sides(below, _pitch(desk), cells, desk)]
    left: Spans = (*name, ("   ", "dim_"), *following)
    right = (*_pitch(desk), ("   ", "dim_"), *_outlook(desk))
    if width(left) + width(right) + 4 > cells:
        right = (*_pitch(desk, brief=True), ("   ", "dim_"), *_outlook(desk))
    return [_sides(left, right, cells, desk)]


def _sides(left: Spans, right: Spans, cells: int, desk: Desk) -> Spans:
    """Something on the left, cut to what the right leaves."""
    room = max(0, cells - width(right) - 4)
    return join((*pad(fit(left, room, desk.glyphs.cut), room + 3, "dim_"), *right))


def _next(desk: Desk) -> Spans:
    wanted = [w for w in desk.plan.warnings if w.code.startswith("needs-")]
    if wanted:
        return (("NEXT ", "accent_"), (plain(wanted[0].text, desk.glyphs), "text_"))
    for item in desk.plan.moments:
        if item.at >= desk.plan.now:
            hour = moment(item.at, desk.plan.now, desk.tz)
            return (("NEXT ", "key_"), (f"{hour} {plain(item.what, desk.glyphs)}", "text_"))
    return (("nothing more planned", "dim_"),)


def _pitch(desk: Desk, *, brief: bool = False) -> Spans:
    at, now = desk.plan.session.batch.pitch_at, desk.plan.now
    if at is None:
        return (("pitch ", "dim_"), ("when?", "accent_"))
    return (("pitch ", "dim_"), (moment(at, now, desk.tz) + ("" if brief else f", {until(at, now)}"), "text_"))


def _outlook(desk: Desk) -> Spans:
    from workbench.panes.figures import shown, span

    need, final = desk.plan.need.cells_b, desk.plan.final
    role = {True: "fine_", False: "warning_", None: "text_"}[final.meets_need]
    has = shown(final.pitched_b.value, "B", desk.system)
    spans: Spans = (
        ("need ", "dim_"), (str(shown(need.value, "B", desk.system)), "text_"),
        (f" {plain('·', desk.glyphs)} will have ", "dim_"), (str(has), role), (f" {span(final.pitched_b, desk.scene)[0]}", "dim_"),
    )  # fmt: skip
    return tuple((text.rstrip() if i == len(spans) - 1 else text, r) for i, (text, r) in enumerate(spans))


def bottom(desk: Desk, cells: int) -> list[Spans]:
    """What can be pressed; while typing, how to end it and what the value means; after an action, what it did."""
    if desk.entry is not None:
        return [fit(_typing(desk, desk.entry), cells, desk.glyphs.cut)]
    if desk.said:
        return [fit(((f" {plain(clean(desk.said), desk.glyphs)}", "text_"),), cells, desk.glyphs.cut)]
    shown = [(plain(action.key, desk.glyphs), action.word) for action in of_pane(desk.pane) if action.word]
    for gap in (3, 2, 1):
        spans: list[Span] = [(" ", "dim_")]
        for key, word in shown:
            spans += [(key, "key_"), (f" {word}{' ' * gap}", "dim_")]
        spans[-1] = (spans[-1][0].rstrip(), "dim_")
        if width(spans) <= cells:
            break
    return [fit(join(spans), cells, desk.glyphs.cut)]


def _typing(desk: Desk, entry: Entry) -> Spans:
    if entry.error:
        return turn(((f" {plain(entry.error, desk.glyphs)}", "danger"),), "_")
    keys: Spans = (
        (f" {desk.glyphs.enter}", "key_"), (" keep  ", "dim_"), ("Esc", "key_"), (" leave as it was  ", "dim_"),
    )  # fmt: skip
    turning: Spans = (("↑↓" if desk.glyphs.name == "full" else "Up/Down", "key_"), (" turn  ", "dim_"))
    means = ", ".join(text for text in (entry.means, entry.units) if text)
    return (*keys, *(turning if entry.choices else ()), (plain(means, desk.glyphs), "text_"))
