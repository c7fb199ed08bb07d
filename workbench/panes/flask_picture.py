"""The flask drawn to scale from its own geometry: a cone with a neck, the wort in it, the surface, the fill limit."""

from __future__ import annotations

from itertools import accumulate
from typing import TYPE_CHECKING

from workbench.panes.spans import fit, join, pad

if TYPE_CHECKING:
    from collections.abc import Mapping

    from workbench.brewing.flask import Shape
    from workbench.panes.glyphs import Glyphs
    from workbench.panes.spans import Spans

__all__ = ["flask"]

_CELL = 2.0  # a cell is about twice as high as wide
_LABEL = 6  # cells beside the flask, for litres
_ROLES = (("limit", "dim"), ("level", "dim"), ("boil", "dim"), ("below", "dim"), ("room", "dim"))


def flask(
    shape: Shape,
    litres: Mapping[str, float | None],
    labels: Mapping[str, str],
    rows: int,
    cells: int,
    g: Glyphs,
    *,
    label: int = _LABEL,
    heights: Mapping[str, float] | None = None,
) -> list[Spans]:
    """The flask in at most `rows` lines of `cells`, `label` of them kept for what is written beside it.

    Of `litres`, "level" is what is in it, "below…" what was in it before feedings on top, "limit" the most that may be,
    "boil" the most at the boil, "room" the middle of the room for foam; "hot" is what stands in it at the boil, "climb"
    that and some foam. What is more than it holds is drawn at the brim. `heights` are lines outside, in mm over the
    inner bottom: "float" for the bath, drawn beside the glass. `labels` says each as the brewer reads it, with
    `heights` the weightiest first: the last are left out where there is no room.
    """
    total = max(1.0, shape.height_mm(shape.brim_l))  # whatever brim was typed
    base = max(3, min(cells - label, int(rows * _CELL * 2 * shape.base_r / total))) | 1
    mm = max(2 * shape.base_r / base * _CELL, total / rows)  # of one row
    count = max(1, round(total / mm))
    tops = {name: shape.height_mm(min(held, shape.brim_l)) / mm for name, held in litres.items() if held is not None}
    tops |= {name: min(max(0.0, height), total) / mm for name, height in (heights or {}).items()}
    beside = _labels(tops, labels) if heights is None else _in_order(tops, litres, labels, count, g)
    lines = (join((*_row(row, mm, base, tops, shape, g), *beside.get(row, ()))) for row in range(count))
    drawn = [pad(fit(line, cells, g.cut), cells, "glass") for line in lines]
    foot: list[Spans] = [] if g.solid else [pad(((" " + "▔_"[g.name == "ascii"] * base, "dim"),), cells, "glass")]
    return drawn[::-1] + foot


def _labels(tops: Mapping[str, float], labels: Mapping[str, str]) -> dict[int, Spans]:
    """The labels beside the rows they reach to; of two in one row the lower goes below."""
    beside: dict[int, Spans] = {}
    order = [(name, role) for kind, role in _ROLES for name in tops if name.startswith(kind) and name in labels]
    for name, role in order:
        row = _surface_row(tops[name])
        if name in ("boil", "room") and row in beside:
            if name == "boil" or row + 1 in beside:
                continue  # said in the rows beside it, too
            row += 1
        while row in beside and row > 0:
            row -= 1
        beside.setdefault(row, ((f" {labels[name]}", role),))
    return beside


def _in_order(
    tops: Mapping[str, float], litres: Mapping[str, float | None], labels: Mapping[str, str], count: int, g: Glyphs
) -> dict[int, Spans]:
    """The labels one above another in the order of what they say, each in its row or next to it.

    Next to it a sign tells whether it belongs higher or lower. Of a crowd the last named is left out until all stand so
    near.
    """
    names = [name for name in labels if name in tops][:count]
    own = {name: min(_surface_row(tops[name]), count - 1) for name in names}
    ranked = sorted(names, key=lambda name: (tops[name], litres.get(name) or 0.0))
    at = _spread(ranked, own, count)
    while any(abs(row - own[name]) > 1 for name, row in at.items()):
        ranked.remove(max((name for name, row in at.items() if row != own[name]), key=names.index))
        at = _spread(ranked, own, count)
    beside: dict[int, Spans] = {}
    for name, row in at.items():
        off = row - own[name]
        sign = g.above if off < 0 else g.more if off > 0 else g.limit if name == "float" else ""
        beside[row] = ((f"{sign} {labels[name]}", "text" if name == "hot" else "dim"),)
    return beside


def _spread(ranked: list[str], own: Mapping[str, int], count: int) -> dict[str, int]:
    """A row for each of those ranked from low to high, none twice: halfway between all pushed up and all down."""
    rows = [own[name] for name in ranked]
    up = accumulate(rows, lambda below, row: max(row, below + 1))
    down = list(accumulate(rows[::-1], lambda above, row: min(row, above - 1)))[::-1]
    halfway = [(high + low) // 2 for high, low in zip(up, down, strict=True)]
    return {name: max(i, min(count - len(rows) + i, halfway[i])) for i, name in enumerate(ranked)}


def _surface_row(top: float) -> int:
    """The row in which something that stands `top` rows high ends, to half a row."""
    return max(0, (round(2 * top) + 1) // 2 - 1)


def _row(row: int, mm: float, base: int, tops: dict[str, float], shape: Shape, g: Glyphs) -> Spans:
    """One row of glass, counted from the bottom: left wall, what is between, right wall."""
    share = shape.radius_mm((row + 0.5) * mm) / shape.base_r
    halves = max(2, round(base * share))  # half cells left and right of the middle
    outside, odd = divmod(base - halves, 2)
    inside = base - 2 * outside - 2 * odd
    level = round(2 * tops.get("level", 0.0))  # in half rows
    full, half = level >= 2 * row + (2 if g.solid else 1), level == 2 * row + 1
    fill, role = (g.wort, "wort") if full else (g.surface, "surface") if half else (g.glass, "glass")
    wall = "wort" if full else "glass"
    if "limit" in tops and _surface_row(tops["limit"]) == row:
        fill, role = g.limit, "limit"
    bath = g.limit if "float" in tops and _surface_row(tops["float"]) == row else " "
    if g.solid:
        left, right = (g.glass_left, g.glass_right) if odd else ("", "")
        return ((bath * (outside + 1), "dim"), (left, wall), (fill * inside, role), (right, wall))
    upright = row * mm >= shape.cone
    left, right = (g.glass_wall, g.glass_wall) if upright else (g.glass_left, g.glass_right)
    gap = base - 2 * outside - 2
    inked = {"limit": "danger", "surface": "wort"}.get(role, role)  # nothing behind it to stand out from
    return ((bath * (outside + 1), "dim"), (left, "dim"), (fill * gap, inked), (right, "dim"))
