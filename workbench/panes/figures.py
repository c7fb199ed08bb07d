"""Figures and values as rows: the number on the grid, the range behind it, the text an edit starts from."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.panes.glyphs import plain
from workbench.panes.rows import Row, number
from workbench.panes.spans import clean
from workbench.plan.chance import chance_text
from workbench.units.kinds import (
    CELLS,
    DENSITY,
    DURATION,
    GRAVITY,
    LENGTH,
    MASS,
    SMALL_LENGTH,
    SMALL_VOLUME,
    TEMPERATURE,
    VOLUME,
)
from workbench.units.show import Shown, show, show_gravity

if TYPE_CHECKING:
    from workbench.panes.rows import Scene
    from workbench.panes.spans import Span
    from workbench.plan.model import Figure
    from workbench.units.kinds import Kind
    from workbench.units.show import System

__all__ = ["choice", "figure", "plato", "shown", "span", "value", "words_row"]

_KINDS: dict[str, tuple[Kind, float]] = {
    "L": (VOLUME, 1.0),
    "mL": (VOLUME, 1e-3),
    "µL": (SMALL_VOLUME, 1.0),
    "g": (MASS, 1.0),
    "kg": (MASS, 1000.0),
    "m": (LENGTH, 1.0),
    "mm": (SMALL_LENGTH, 1.0),
    "B": (CELLS, 1.0),
    "B/mL": (DENSITY, 1.0),
    "w": (GRAVITY, 1.0),
    "°C": (TEMPERATURE, 1.0),
    "s": (DURATION, 1.0),
}

_PLAIN = {
    "%": lambda amount: Shown(f"{100 * amount:.0f}", "%"),
    "1": lambda amount: Shown(f"{amount:.2f}" if amount % 1 else f"{amount:.0f}", ""),
    "min": lambda amount: Shown(f"{amount:.0f}", "min"),
    "/min": lambda amount: Shown(f"{amount:.3f}", "/min"),
    "mg/L": lambda amount: Shown(f"{amount:.2f}", "mg/L"),
    "kJ": lambda amount: Shown(f"{amount:.0f}", "kJ"),
    "money": lambda amount: Shown(f"{amount:.2f}", ""),
    "h": lambda amount: Shown(f"{amount:.1f}".removesuffix(".0"), "h"),
    "chance": lambda amount: Shown(chance_text(amount), ""),
}
_WHOLE_CELLS = 20.0  # billions: from here on a decimal says nothing


def shown(amount: float | None, unit: str, scene: Scene) -> Shown:
    """An amount in a base unit of the plan as number and unit; `%` is a share as percent, other units are kept."""
    said = _shown(amount, unit, scene.system)
    decimals = said.number.replace(".", ",") if scene.comma else said.number
    return Shown(plain(decimals, scene.glyphs), plain(said.unit, scene.glyphs))


def _shown(amount: float | None, unit: str, system: System) -> Shown:
    if amount is None:
        return Shown(show(None, CELLS).number, "")
    if unit in _PLAIN:
        return _PLAIN[unit](amount)
    if unit == "g/L":
        per = VOLUME.unit("L" if system == "metric" else "qt")
        said = show(amount * per.factor, MASS, system)
        return Shown(said.number, f"{said.unit}/{per.name}")
    if unit not in _KINDS:
        return Shown(f"{amount:.3g}", unit)
    kind, factor = _KINDS[unit]
    if kind is CELLS and amount >= _WHOLE_CELLS:
        return show(amount, CELLS, system, decimals=0)
    said = show(amount * factor, kind, system)
    whole = said.number.removesuffix(".00")
    return Shown(whole, said.unit) if len(whole) > 1 else said  # 23 L, but 3.00 L


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
