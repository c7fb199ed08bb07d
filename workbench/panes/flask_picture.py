"""The flask drawn to scale: a cone with a neck, the wort in it, the surface, the fill limit.

Its proportions are those of a typical flask of 2 L (inner base radius 81 mm, neck 23 mm, cone 213 mm, in all
280 mm; common practice, no source); other sizes are like it, so the picture needs only volumes over the size.
"""

from __future__ import annotations

from math import pi
from typing import TYPE_CHECKING

from workbench.panes.spans import join, pad

if TYPE_CHECKING:
    from workbench.panes.glyphs import Glyphs
    from workbench.panes.spans import Spans

__all__ = ["flask", "height_mm", "radius_mm"]

_SIZE_L = 2.0
_BASE, _NECK, _CONE, _TOTAL = 81.0, 23.0, 213.0, 280.0  # mm
_CELL = 2.0  # a cell is about twice as high as wide


def radius_mm(height: float) -> float:
    """Inner radius of the 2 L flask at a height over its bottom, mm."""
    return _NECK if height >= _CONE else _BASE - (_BASE - _NECK) * height / _CONE


def height_mm(litres: float) -> float:
    """How high so much stands in the 2 L flask, 0 to 280 mm; more than it holds stands at the brim."""
    cubic = max(0.0, litres) * 1e6
    slope = (_BASE - _NECK) / _CONE
    cone = pi / (3 * slope) * (_BASE**3 - _NECK**3)
    if cubic > cone:
        return min(_TOTAL, _CONE + (cubic - cone) / (pi * _NECK**2))
    radius: float = (_BASE**3 - 3 * slope * cubic / pi) ** (1 / 3)
    return (_BASE - radius) / slope


def flask(
    size_l: float, level_l: float | None, limit_l: float | None, below_l: float | None, rows: int, cells: int, g: Glyphs
) -> list[Spans]:
    """The flask in at most `rows` lines of `cells`, six of them kept for litres beside it.

    `level_l` is what is in it, `below_l` what was in it before this feeding, `limit_l` the most that may be.
    """
    base = min(cells - 6, int(rows * _CELL * 2 * _BASE / _TOTAL)) | 1
    mm = 2 * _BASE / base * _CELL  # of one row
    count = round(_TOTAL / mm)
    scale = _SIZE_L / size_l
    tops = {
        name: height_mm(litres * scale) / mm
        for name, litres in (("level", level_l), ("limit", limit_l), ("below", below_l))
        if litres is not None
    }
    beside = _labels(tops, {"level": level_l, "limit": limit_l, "below": below_l})
    drawn = [pad(join((*_row(row, mm, base, tops, g), *beside.get(row, ()))), cells, "glass") for row in range(count)]
    foot: list[Spans] = [] if g.solid else [pad(((" " + "▔_"[g.name == "ascii"] * base, "dim"),), cells, "glass")]
    return drawn[::-1] + foot


def _labels(tops: dict[str, float], litres: dict[str, float | None]) -> dict[int, Spans]:
    """Litres beside the rows they reach to; of two in one row the lower goes below."""
    beside: dict[int, Spans] = {}
    for name, role in (("limit", "danger"), ("level", "text"), ("below", "dim")):
        if name in tops:
            row = _surface_row(tops[name])
            while row in beside and row > 0:
                row -= 1
            beside.setdefault(row, ((f" {litres[name]:.2f}", role),))
    return beside


def _surface_row(top: float) -> int:
    """The row in which something that stands `top` rows high ends, to half a row."""
    return max(0, (round(2 * top) + 1) // 2 - 1)


def _row(row: int, mm: float, base: int, tops: dict[str, float], g: Glyphs) -> Spans:
    """One row of glass, counted from the bottom: left wall, what is between, right wall."""
    halves = max(2, round(radius_mm((row + 0.5) * mm) / (mm / _CELL / 2)))  # half cells left and right of the middle
    outside, odd = divmod(base - halves, 2)
    inside = base - 2 * outside - 2 * odd
    level = round(2 * tops.get("level", 0.0))  # in half rows
    full, half = level >= 2 * row + (2 if g.solid else 1), level == 2 * row + 1
    fill, role = (g.wort, "wort") if full else (g.surface, "surface") if half else (g.glass, "glass")
    wall = "wort" if full else "glass"
    if "limit" in tops and _surface_row(tops["limit"]) == row:
        fill, role = g.limit, "limit"
    if g.solid:
        left, right = (g.glass_left, g.glass_right) if odd else ("", "")
        return ((" " * (outside + 1), "glass"), (left, wall), (fill * inside, role), (right, wall))
    upright = row * mm >= _CONE
    left, right = (g.glass_wall, g.glass_wall) if upright else (g.glass_left, g.glass_right)
    gap = base - 2 * outside - 2
    inked = {"limit": "danger", "surface": "wort"}.get(role, role)  # nothing behind it to stand out from
    return ((" " * (outside + 1), "dim"), (left, "dim"), (fill * gap, inked), (right, "dim"))
