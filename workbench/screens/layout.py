"""Where everything stands on a screen of a size: one place decides between the wide grid and the narrow rail."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterable

__all__ = ["FLOOR", "WIDE", "Box", "Layout", "arrange", "part_at"]

FLOOR = (80, 24)
WIDE = (120, 36)
_COLUMNS = (35, 37, 48)  # at 120; a third of what is left goes to each


class Box(NamedTuple):
    """A rectangle of cells."""

    x: int
    y: int
    width: int
    height: int


class Layout(NamedTuple):
    """Boxes of the top line, the rail, the panes' slots, the hint, the bottom line; `None` is not on the screen.

    In the wide grid slot `i` shows pane `i`; else the first slot shows whichever pane is chosen.
    """

    top: Box
    rail: Box | None
    slots: tuple[Box | None, ...]
    hint: Box
    bottom: Box
    wide: bool
    fits: bool


def arrange(width: int, height: int, *, zoomed: bool = False) -> Layout:
    """The layout of a screen. Below 80 × 24 it does not fit: the first slot has it all, for a plain notice."""
    hint, bottom = Box(0, height - 2, width, 1), Box(0, height - 1, width, 1)
    fits = width >= FLOOR[0] and height >= FLOOR[1]
    if fits and width >= WIDE[0] and height >= WIDE[1] and not zoomed:
        return Layout(Box(0, 0, width, 1), None, _grid(width, height), hint, bottom, wide=True, fits=True)
    if not fits:
        nothing = Box(0, 0, width, 0)
        return Layout(nothing, None, (Box(0, 0, width, height), *[None] * 5), nothing, nothing, wide=False, fits=False)
    only = Box(0, 3, width, height - 5)
    return Layout(Box(0, 0, width, 2), Box(0, 2, width, 1), (only, *[None] * 5), hint, bottom, wide=False, fits=True)


def _grid(width: int, height: int) -> tuple[Box, ...]:
    spare = width - sum(_COLUMNS)
    first, second = _COLUMNS[0] + spare // 3, _COLUMNS[1] + spare // 3
    columns = ((0, first), (first, second), (first + second, width - first - second))
    upper = height // 2 + 1
    rows = ((1, upper), (1 + upper, height - 3 - upper))
    return tuple(Box(x, y, wide, high) for y, high in rows for x, wide in columns)


def part_at(parts: Iterable[tuple[str, int]], x: int) -> str:
    """Which of these parts, each so many cells wide, one after the other, has column `x`."""
    for name, cells in parts:
        if 0 <= x < cells:
            return name
        x -= cells
    return ""
