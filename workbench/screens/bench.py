"""The screen of one batch: top line, rail, six slots, bottom line; painted once and then only where it changes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.geometry import Offset

from workbench.panes.canvas import Canvas
from workbench.panes.spans import split
from workbench.screens import bars, drawing
from workbench.screens.board import Board, put, too_small
from workbench.screens.desk import CLOCK
from workbench.screens.layout import arrange

if TYPE_CHECKING:
    from collections.abc import Mapping

    from rich.style import Style
    from textual.geometry import Size

    from workbench.screens.desk import Desk
    from workbench.screens.layout import Box, Layout

__all__ = ["Bench"]


class Bench(Board):
    """Shows a desk. `show` after anything changed; `table` holds the style of each role."""

    def __init__(self, desk: Desk, table: Mapping[str, Style], size: Size) -> None:
        self.desk = desk
        self.top = Canvas(table, ground="text_", id="top")
        self.rail = Canvas(table, id="rail")
        self.slots = [Canvas(table, id=f"p{i}") for i in range(1, 7)]
        self.bottom = Canvas(table, ground="text_", id="bottom")
        self.tail = Canvas(table, ground="text_", id="tail")  # its own: only the right of a canvas is cut for bytes
        super().__init__((self.top, self.rail, *self.slots, self.bottom, self.tail), size)
        self._shown = arrange(size.width, size.height, zoomed=desk.zoomed)
        self._settle()

    def place(self, size: Size) -> None:
        """Everything in its place; where nothing moves nothing is touched, which would wake a layout."""
        self._size = size
        shown = arrange(size.width, size.height, zoomed=self.desk.zoomed)
        if shown != self._shown:
            self._shown = shown
            self._settle()

    def _settle(self) -> None:
        """A box for each canvas, a width for each pane."""
        shown = self._shown
        boxes = (shown.top, shown.rail, *shown.slots, *self._halves(shown.bottom))
        for canvas, box in zip(self.canvases, boxes, strict=True):
            put(canvas, box)
        self.mount_seen()
        for pane in range(6):
            self.desk.widths[pane] = self._cells(pane)
        self.desk.redraw()

    def _halves(self, box: Box) -> tuple[Box, Box]:
        """The bottom line in two: what all panes share, and the rest."""
        self._cut = bars.tail(self.desk, box.width) if box.height else 0
        left = box._replace(width=self._cut)
        return left, box._replace(x=self._cut, width=box.width - self._cut)

    def show(self, *, whole: bool = True) -> None:
        """Draw the desk as it is now, or the clock alone; only what changed is repainted."""
        self.place(self._size)
        shown = self._shown
        if not shown.fits:
            self.slots[0].show(too_small(self._size))
            return
        for slot, pane, box in self._panes(shown):
            if not whole and pane != CLOCK:
                continue
            slot.show(drawing.pane(self.desk, pane, self._cells(pane), box.height, titled=shown.wide))
        self.top.show(bars.top(self.desk, shown.top.width, shown.top.height))
        if not whole:
            return
        if shown.rail is not None:
            self.rail.show(bars.rail(self.desk, shown.rail.width))
        line = bars.bottom(self.desk, shown.bottom.width)[0]
        for half, spans in zip((self.bottom, self.tail), split(line, self._cut), strict=True):
            half.show([spans])
        self._point(shown)

    def _panes(self, shown: Layout) -> list[tuple[Canvas, int, Box]]:
        """Which slot shows which pane, where."""
        pairs = zip(self.slots, shown.slots, strict=True)
        return [
            (slot, index if shown.wide else self.desk.pane, box)
            for index, (slot, box) in enumerate(pairs)
            if box is not None
        ]

    def _cells(self, pane: int) -> int:
        """Cells that a pane may fill: in the grid a blank column is left to its neighbour."""
        box = self._box(pane)
        return box.width - 1 if self._shown.wide else min(box.width, 100)

    def _box(self, pane: int) -> Box:
        """Where a pane is, or would be if it were chosen."""
        wide = self._shown.slots[pane] if self._shown.wide else None
        return wide or self._shown.slots[0] or self._shown.bottom

    def _point(self, shown: Layout) -> None:
        """The terminal's own cursor to where the cursor is, for magnifiers and screen readers."""
        box = self._box(self.desk.pane)
        x, y = drawing.caret(self.desk, self._cells(self.desk.pane), box.height, titled=shown.wide)
        self.app.cursor_position = Offset(box.x + x, box.y + y)
