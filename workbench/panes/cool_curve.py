"""The cool-down as a curve: what was read, the fit through it with its band, and the temperature it is to reach."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.panes.figures import shown
from workbench.panes.spans import join

if TYPE_CHECKING:
    from workbench.brewing.cooling import Curve
    from workbench.panes.rows import Scene
    from workbench.panes.spans import Spans
    from workbench.plan.cool import CoolPlan

__all__ = ["cool_curve"]

_LABEL = 5  # cells of the temperatures at the left
_SIGNS = {  # a reading, the curve in the upper and the lower half of a cell, its band, the curve before it changed
    "full": ("●", "▀", "▄", "░", "·"),
    "console": ("o", "▀", "▄", "░", "."),
    "ascii": ("o", "*", "*", ":", "."),
}


def cool_curve(cool: CoolPlan, scene: Scene, cells: int, rows: int) -> list[Spans]:
    """The curve in `rows` lines of `cells`, its axes among them; nothing without reading and fit, or in words alone."""
    found, bath_c = cool.found, cool.bath_c
    if scene.glyphs.name == "words" or bath_c is None or found is None or (found.curve is None and not cool.readings):
        return []
    width, height = max(4, cells - _LABEL - 2), max(2, rows - 1)
    last_min = max([cool.eta.value or 0.0, *(minutes for minutes, _, _ in cool.readings), 5.0]) * 1.1
    top_c = max([cool.target_c + 5.0, *(celsius for _, celsius, _ in cool.readings), _start_c(found.curve)])
    low_c = min(bath_c, cool.target_c)
    grid = [[(" ", "text")] * width for _ in range(height)]

    def halves(celsius: float) -> int:
        share = (celsius - low_c) / (top_c - low_c)
        return min(2 * height - 1, max(0, int(share * 2 * height)))

    reading, upper, lower, band, before = _SIGNS[scene.glyphs.name]
    for column in range(width):
        minutes = (column + 0.5) / width * last_min
        _line(grid, column, halves(cool.target_c), (scene.glyphs.limit,) * 2, "dim")
        if found.former is not None:
            at = halves(found.former.celsius(minutes))
            _line(grid, column, at, (before,) * 2, "dim")
        if found.curve is None:
            continue
        at, edges = halves(found.curve.celsius(minutes)), found.curve.band(minutes)
        for half in () if edges is None else range(halves(edges[0]), halves(edges[1]) + 1):
            if abs(half - at) >= 2:  # what is nearer than a cell is within the line
                grid[half // 2][column] = (band, "rule")
        _line(grid, column, at, (lower, upper), "text")
    for minutes, celsius, _ in cool.readings:
        column = min(width - 1, int(minutes / last_min * width))
        grid[halves(celsius) // 2][column] = (reading, "accent")
    marks = {height - 1: top_c, 0: low_c, halves(cool.target_c) // 2: cool.target_c}
    lines = [
        join(((f"{_degrees(marks[row], scene) if row in marks else '':>{_LABEL}} ", "dim"), *grid[row]))
        for row in range(height - 1, -1, -1)
    ]
    return [*lines, ((f"{'':{_LABEL}} 0{f'{last_min:.0f} min':>{width - 1}}", "dim"),)]


def _start_c(curve: Curve | None) -> float:
    return 100.0 if curve is None else min(110.0, curve.celsius(0.0))


def _degrees(celsius: float, scene: Scene) -> str:
    return f"{float(shown(celsius, '°C', scene).number.replace(',', '.')):.0f}"


def _line(grid: list[list[tuple[str, str]]], column: int, half: int, signs: tuple[str, str], role: str) -> None:
    """A piece of a line in the lower or the upper half of its cell."""
    grid[half // 2][column] = (signs[half % 2], role)
