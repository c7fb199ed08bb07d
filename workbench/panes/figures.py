"""Figures and values as rows: the number on the grid, the range behind it, the text an edit starts from."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.panes.glyphs import plain
from workbench.panes.rows import Row, number
from workbench.panes.spans import clean
from workbench.plan.amounts import amount as told
from workbench.units.show import Shown, show_gravity

if TYPE_CHECKING:
    from workbench.panes.rows import Scene
    from workbench.panes.spans import Span
    from workbench.plan.model import Figure

__all__ = ["about", "choice", "figure", "plato", "shown", "span", "value", "words_row"]


def shown(amount: float | None, unit: str, scene: Scene) -> Shown:
    """An amount in a base unit of the plan as number and unit; `%` is a share as percent, other units are kept."""
    said = told(amount, unit, scene.system)
    decimals = said.number.replace(".", ",") if scene.comma else said.number
    return Shown(plain(decimals, scene.glyphs), plain(said.unit, scene.glyphs))


def about(amount: float, unit: str, scene: Scene) -> str:
    """An amount as `shown` has it, to a whole number of its unit: 39 °C, 103 °F."""
    said = told(amount, unit, scene.system)
    return f"{float(said.number):.0f} {plain(said.unit, scene.glyphs)}"


def span(figure: Figure, scene: Scene) -> Span:
    """`(186–349)`, dim; empty where the figure has no range."""
    if figure.low is None or figure.high is None:
        return "", "dim"
    low, high = (shown(x, figure.unit, scene) for x in (figure.low, figure.high))
    unit = "" if low.unit == high.unit else f" {low.unit}"
    return f"({low.number}{unit}{scene.glyphs.dash}{high.number})", "dim"


def plato(w: float | None, scene: Scene) -> str:
    """`8.5 °P`, or nothing."""
    return "" if w is None else str(show_gravity(w, "plato", comma=scene.comma))


def figure(label: str, worked_out: Figure, scene: Scene, *, id: str) -> Row:  # noqa: A002 - the row's own word
    """A row that shows something worked out; it can't be edited, but asked why."""
    said = shown(worked_out.value, worked_out.unit, scene)
    return Row(label, number(said.number, said.unit, scene.glyphs), id=id, figure=worked_out)


def value(label: str, key: str, amount: float | None, unit: str, scene: Scene, why: Figure | None = None) -> Row:
    """A row that edits `key`: marked if the brewer typed it, else what is used instead, or a dash."""
    said = shown(amount, unit, scene)
    spans = number(said.number, said.unit, scene.glyphs, typed=scene.plan.session.is_given(key))
    return Row(label, spans, id=key, key=key, value="" if amount is None else str(said), figure=why)


def choice(label: str, key: str, word: str, words: tuple[str, ...], scene: Scene) -> Row:
    """A row that edits a word out of a few."""
    return words_row(label, key, word, scene, choices=words)


def words_row(
    label: str, key: str, text: str, scene: Scene, *, start: str | None = None, choices: tuple[str, ...] = ()
) -> Row:
    """A row that edits a text; `start` is what the edit begins with, where that is not what is shown."""
    typed = scene.plan.session.is_given(key)
    role = "typed" if typed else "text"
    spans = ((scene.glyphs.typed if typed else " ", role), (f" {plain(clean(text), scene.glyphs)}", role))
    return Row(label, spans, id=key, key=key, value=text if start is None else start, choices=choices)
