"""The pages that a pane can show instead of its rows: the reason of a figure, and what it says as plain text."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.panes.figures import shown, span
from workbench.panes.glyphs import plain
from workbench.panes.rows import sign
from workbench.panes.spans import clean, wrap
from workbench.plan import given
from workbench.screens import hints

if TYPE_CHECKING:
    from collections.abc import Iterable

    from workbench.panes.glyphs import Glyphs
    from workbench.panes.rows import Row, Scene
    from workbench.panes.spans import Spans
    from workbench.plan.model import Reason, Shares

__all__ = ["plain_lines", "why_lines"]

_STATUS = {
    "published": "published",
    "quoted": "read as others quote it",
    "computed": "computed here",
    "memory": "from memory, not verified",
    "common practice": "common practice, no source",
    "recommended": "recommended by this program",
    "typed": "as you typed it",
    "missing": "not typed yet",
}


def why_lines(row: Row, scene: Scene, cells: int, written: str = "") -> list[Spans]:
    """Why the value of a row is what it is.

    What the key means and where its value comes from, then how the figure is worked out; each with its source, valid
    range and doubts, and all warnings in full. `written`: the value letter for letter, as the file has it.
    """
    lines: list[Spans] = [*_wrapped(_title(row), "key", cells), *_value(row, scene, cells)]
    if written:
        lines += [(), ((" typed", "dim"),), *_wrapped(plain(written, scene.glyphs), "typed", cells)]
    lines += _meant(row, scene, cells)
    for holds, reason in _reasons(row, scene):
        lines += _told(reason, holds, scene, cells)
    lines += _usual(row, scene, cells)
    if row.figure is not None:
        lines += _spread(row.figure.shares)
    for caution in row.cautions:
        source = f"({caution.source.cite}; {_STATUS[caution.source.status]})"
        lines += [(), *_wrapped(plain(caution.says, scene.glyphs), "warning", cells), *_wrapped(source, "dim", cells)]
    for warning in row.warnings:
        says, role = sign(warning, scene.glyphs)
        lines += [(), *_wrapped(says, role, cells)]
    return lines


def _title(row: Row) -> str:
    """The row's label; what a way is called."""
    if row.way is not None:
        return clean(row.spans[-1][0]).strip()
    return clean(row.label).strip() or ("this figure" if row.figure is not None and row.figure.unit else "when")


def _value(row: Row, scene: Scene, cells: int) -> list[Spans]:
    """The value as the row has it, with the figure's range; nothing where it is no number, such as an hour of day."""
    figure = row.figure
    if row.key:
        said = plain(clean(row.value), scene.glyphs) or scene.glyphs.dash
    elif figure is not None and figure.unit:
        said = str(shown(figure.value, figure.unit, scene))
    else:
        return []
    if figure is not None and figure.low is not None and row.key:  # a volume kept has the range of its cells
        amount = shown(figure.value, figure.unit, scene)
        said = said if said.endswith(amount.unit) else f"{said}, {amount}"
    *above, last = _wrapped(said, "text", cells)
    return [*above, last if figure is None else (*last, (" ", "text"), span(figure, scene))]


def _meant(row: Row, scene: Scene, cells: int) -> list[Spans]:
    """What a figure means; of a key, and of an hour of the day, the reason says so itself."""
    means = hints.meaning(row, scene) if not row.key and row.figure is not None and row.figure.unit else ""
    return [(), *_wrapped(plain(means, scene.glyphs), "text", cells)] if means else []


def _usual(row: Row, scene: Scene, cells: int) -> list[Spans]:
    """What is usual there, and by whose word."""
    told, by = hints.usual_of(row, scene), hints.usual_source(row, scene)
    if not by:
        return []
    return [(), ((" usually", "dim"),), *_wrapped(plain(f"{told} ({by})", scene.glyphs), "text", cells)]


def _reasons(row: Row, scene: Scene) -> list[tuple[str, Reason]]:
    """That of the key, and that of the figure where it says something else; before each, what its range means."""
    why = None if row.figure is None else row.figure.why
    if not row.key:
        return [] if why is None else [("holds for", why)]
    of_key = given.reason(scene.plan.session, row.key)
    if why is None or why.says == of_key.says:
        return [("may be", why or of_key)]
    return [("may be", of_key), ("holds for", why)]


def _told(why: Reason, holds: str, scene: Scene, cells: int) -> list[Spans]:
    """The reason in words, its source, where it holds, what is unsure in it."""
    lines: list[Spans] = [(), *_wrapped(plain(why.says, scene.glyphs), "text", cells)]
    source = f"{why.source.cite} ({_STATUS[why.source.status]})"
    for label, text in (("source", source), (holds, why.valid), ("unsure", why.unsure)):
        if text:
            lines += [(), ((f" {label}", "dim"),), *_wrapped(plain(text, scene.glyphs), "text", cells)]
    return lines


def _spread(shares: Shares) -> list[Spans]:
    """The inputs that a range comes from, a line each, the largest part first."""
    if not shares:
        return []
    lead = {True: "mostly:", False: "most:"}[shares[0][1] >= 0.5]
    name_cells = max(len(name) for name, _ in shares)
    lines: list[Spans] = [(), ((" share of the spread", "dim"),)]
    for name, part in shares:
        percent = f"{100 * part:3.0f} %" if part >= 0.005 else " <1 %"
        lines.append(((f" {lead:<7} ", "dim"), (f"{name:<{name_cells}} {percent}", "text")))
        lead = ""
    return lines


def plain_lines(said: Iterable[str], glyphs: Glyphs, cells: int) -> list[Spans]:
    """Lines of plain text."""
    return [line for text in said for line in (_wrapped(plain(text, glyphs), "text", cells) or [()])]


def _wrapped(text: str, role: str, cells: int) -> list[Spans]:
    return [((f" {line}", role),) for line in wrap(clean(text), cells - 2)]
