"""Where everything stands on a screen of a size: one place decides between one pane, two, and all six."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterable

__all__ = ["DAY", "FLOOR", "WIDE", "Box", "Layout", "arrange", "part_at"]

FLOOR = (80, 24)
WIDE = (120, 36)
ROOMY = (176, 48)  # from which no pane but a long one is cut short
DAY = 5  # the pane that stays beside the chosen one where there is room for two
_PAIR = 100  # cells from which there is
_DAY = 46  # cells that a day's tasks need
_COLUMNS = (35, 37, 48)  # at 120; a third of what is left goes to each
_ROOMY_COLUMNS = (40, 52, 38, 46)  # at 176; a quarter


class Box(NamedTuple):
    """A rectangle of cells."""

    x: int
    y: int
    width: int
    height: int


class Layout(NamedTuple):
    """Boxes of the top line, the rail, the panes' slots, the hint, the bottom line; `None` is not on the screen.

    Where it is `wide` slot `i` shows pane `i`; else the first slot shows whichever pane is chosen, and in a `pair` the
    last one what the day brings, beside it.
    """

    top: Box
    rail: Box | None
    slots: tuple[Box | None, ...]
    hint: Box
    bottom: Box
    wide: bool
    fits: bool

    @property
    def pair(self) -> bool:
        """Whether it shows two panes."""
        return not self.wide and self.slots[DAY] is not None


def arrange(width: int, height: int, *, zoomed: bool = False) -> Layout:
    """The layout of a screen. Below 80 × 24 it does not fit: the first slot has it all, for a plain notice."""
    hint, bottom = Box(0, height - 2, width, 1), Box(0, height - 1, width, 1)
    fits = width >= FLOOR[0] and height >= FLOOR[1]
    if not fits:
        nothing = Box(0, 0, width, 0)
        return Layout(nothing, None, (Box(0, 0, width, height), *[None] * 5), nothing, nothing, wide=False, fits=False)
    if width >= WIDE[0] and height >= WIDE[1] and not zoomed:
        roomy = width >= ROOMY[0] and height >= ROOMY[1]
        grid = _four_columns(width, height) if roomy else _grid(width, height)
        return Layout(Box(0, 0, width, 1), None, grid, hint, bottom, wide=True, fits=True)
    right = max(_DAY, width * 2 // 5) if width >= _PAIR and not zoomed else 0
    left = width - right
    day = Box(left, 2, right, height - 4) if right else None
    slots = (Box(0, 3, left, height - 5), *[None] * 4, day)
    return Layout(Box(0, 0, width, 2), Box(0, 2, left, 1), slots, hint, bottom, wide=False, fits=True)


def _grid(width: int, height: int) -> tuple[Box, ...]:
    """Three panes over three."""
    spare = width - sum(_COLUMNS)
    first, second = _COLUMNS[0] + spare // 3, _COLUMNS[1] + spare // 3
    columns = ((0, first), (first, second), (first + second, width - first - second))
    upper = height // 2 + 1
    rows = ((1, upper), (1 + upper, height - 3 - upper))
    return tuple(Box(x, y, wide, high) for y, high in rows for x, wide in columns)


def _four_columns(width: int, height: int) -> tuple[Box, ...]:
    """Yeast over wort, steps over clock; doses and day, the longest, from top to bottom."""
    spare = width - sum(_ROOMY_COLUMNS)
    one, two, three, four = (cells + spare // 4 for cells in _ROOMY_COLUMNS)
    four += spare % 4
    high = height - 3
    upper = high * 3 // 5
    lower, below = high - upper, 1 + upper
    yeast, wort = Box(0, 1, one, upper), Box(0, below, one, lower)
    steps, clock = Box(one, 1, two, upper), Box(one, below, two, lower)
    doses, day = Box(one + two, 1, three, high), Box(one + two + three, 1, four, high)
    return yeast, wort, steps, doses, clock, day


def part_at(parts: Iterable[tuple[str, int]], x: int) -> str:
    """Which of these parts, each so many cells wide, one after the other, has column `x`."""
    for name, cells in parts:
        if 0 <= x < cells:
            return name
        x -= cells
    return ""
