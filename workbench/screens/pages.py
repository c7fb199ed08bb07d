"""The pages that a pane can show instead of its rows: the reason of a figure, and the keys."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.panes.figures import shown, span
from workbench.panes.glyphs import plain
from workbench.panes.rows import sign
from workbench.panes.spans import clean, wrap
from workbench.screens.keys import PANES

if TYPE_CHECKING:
    from collections.abc import Iterable

    from workbench.panes.glyphs import Glyphs
    from workbench.panes.rows import Row, Scene
    from workbench.panes.spans import Spans
    from workbench.plan.model import Figure
    from workbench.screens.keys import Action

__all__ = ["help_lines", "why_lines"]

_STATUS = {
    "published": "published",
    "computed": "computed here",
    "memory": "from memory, not verified",
    "common practice": "common practice, no source",
    "recommended": "recommended by this program, no source",
    "typed": "as you typed it",
}


def why_lines(row: Row, scene: Scene, cells: int) -> list[Spans]:
    """Why the figure of a row is what it is: its formula, source, range, doubts, and its warnings in full."""
    title = clean(row.label).strip() or ("this figure" if row.figure is not None and row.figure.unit else "when")
    lines: list[Spans] = [((f" {title}", "key"),)]
    if row.figure is not None:
        lines += _reason(row.figure, scene, cells)
    for warning in row.warnings:
        says, role = sign(warning, scene.glyphs)
        lines += [(), *_wrapped(says, role, cells)]
    return lines


def _reason(figure: Figure, scene: Scene, cells: int) -> list[Spans]:
    said = shown(figure.value, figure.unit, scene)
    why = figure.why
    number: list[Spans] = [((f" {said} ", "text"), span(figure, scene))]
    lines = number if figure.unit else []  # an hour has a reason, but is no number
    lines += [(), *_wrapped(plain(why.says, scene.glyphs), "text", cells)]
    status = _STATUS.get(why.source.status, why.source.status)
    source = why.source.cite if why.source.status == "typed" else f"{why.source.cite} ({status})"
    for label, text in (("source", source), ("holds for", why.valid), ("unsure", why.unsure)):
        if text:
            lines += [(), ((f" {label}", "dim"),), *_wrapped(plain(text, scene.glyphs), "text", cells)]
    return lines


def help_lines(pane: int, actions: Iterable[Action], glyphs: Glyphs, cells: int) -> list[Spans]:
    """The keys of a pane, one action a line."""
    here = [action for action in actions if pane in action.panes]
    lines: list[Spans] = [((f" Keys in {PANES[pane]}", "key"),), ()]
    numbers = [action.key for action in here if action.id.startswith("pane-")]
    entries = [(action.key, action.help) for action in here if not action.id.startswith("pane-")]
    for key, text in [*entries, (f"{numbers[0]}{glyphs.dash}{numbers[-1]}", "a pane by its number")]:
        first, *rest = wrap(plain(text, glyphs), cells - 9) or [""]
        lines.append(((f" {plain(key, glyphs):<6}", "accent"), (f" {first}", "text")))
        lines += [((f"{'':8}{line}", "text"),) for line in rest]
    lines += [(), *_wrapped("ctrl+p lists every action. Esc leaves this page.", "dim", cells)]
    return lines


def _wrapped(text: str, role: str, cells: int) -> list[Spans]:
    return [((f" {line}", role),) for line in wrap(clean(text), cells - 2)]
