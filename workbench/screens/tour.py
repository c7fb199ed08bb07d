"""A tour on one page: what the panes are for, the keys to know, and the order of a brew day."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.panes.glyphs import plain
from workbench.panes.spans import fit, wrap
from workbench.screens.keys import PANES

if TYPE_CHECKING:
    from workbench.panes.glyphs import Glyphs
    from workbench.panes.spans import Spans
    from workbench.screens.keys import Action

__all__ = ["tour_lines"]

_PANES = (
    "what the beer needs, the yeast there is, and how much of it is alive",
    "powder and water for a feeding; what was measured, put right",
    "the feedings and the flask to scale; {plan} sets other ways side by side",
    "foam control, what mends a wort, ice, how deep the bath may be",
    "the boil with its holds, the cool-down with its curve, the growth",
    "every task with its hour, the next one on top",
)
_KEYS = (
    ("edit", "changes a value"),
    ("why", "says why"),
    ("done", "does the next task"),
    ("undo", "undoes"),
    ("help", "all keys"),
)
_DAY = (
    ("before", "fill in Yeast: each value leads to the next, until a plan stands"),
    ("wort", "weigh, dissolve, boil: {boil} starts the clock and holds it for foam"),
    ("cool", "into the bath: {temperature} notes temperatures, a curve says when it is cool"),
    ("yeast", "{measure} notes the gravity, {done} puts the yeast in, Clock follows its growth"),
    ("pitch", "rest and pour off where that is planned, then into the beer"),
)
_LABEL = 9


def tour_lines(actions: tuple[Action, ...], glyphs: Glyphs, cells: int) -> list[Spans]:
    """The page in `cells`, at 80 no longer than a pane is there; keys as the brewer has them."""
    by_id = {action.id: action.key for action in actions}
    lines: list[Spans] = [((" A tour: enough live yeast by brew day", "key"),)]
    for number, (name, says) in enumerate(zip(PANES, _PANES, strict=True), 1):
        lines += _entry(f"{number} {name}", says.format(**by_id), glyphs, cells)
    lines += [(), ((" Five keys to know", "key"),)]
    known = [span for id_, says in _KEYS for span in ((f" {by_id[id_]}", "accent"), (f" {says} ", "text"))]
    lines.append(fit([(plain(text, glyphs), role) for text, role in known], cells, glyphs.cut))
    lines += [(), ((" The day", "key"),)]
    for label, says in _DAY:
        lines += _entry(label, says.format(**by_id), glyphs, cells)
    return [*lines, (), ((f" {by_id['back']} leaves this page, {by_id['tour']} shows it again.", "dim"),)]


def _entry(label: str, says: str, glyphs: Glyphs, cells: int) -> list[Spans]:
    """A label, and beside it what there is to say."""
    first, *rest = wrap(plain(says, glyphs), cells - _LABEL - 2)
    lines: list[Spans] = [((f" {label:<{_LABEL}}", "accent"), (first, "text"))]
    return lines + [((f" {'':{_LABEL}}{line}", "text"),) for line in rest]
