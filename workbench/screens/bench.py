"""The screen of one batch: top line, rail, six slots, hint, keys; painted once and then only where it changes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.geometry import Offset

from workbench.panes.canvas import Canvas
from workbench.panes.spans import fit, halves
from workbench.screens import bars, drawing, hints
from workbench.screens.board import Board, put, too_small
from workbench.screens.desk import CLOCK
from workbench.screens.layout import DAY, arrange

if TYPE_CHECKING:
    from collections.abc import Mapping

    from rich.style import Style
    from textual.geometry import Size

    from workbench.panes.spans import Spans
    from workbench.screens.desk import Desk
    from workbench.screens.layout import Box, Layout
    from workbench.screens.pointing import Click

__all__ = ["Bench"]

_MOST_CELLS = 100  # of a pane alone: longer lines are hard to read


class Bench(Board):
    """Shows a desk. `show` after anything changed; `table` holds the style of each role."""

    def __init__(self, desk: Desk, table: Mapping[str, Style], size: Size) -> None:
        self.desk = desk
        # lines in two: only the right of a canvas is cut for bytes
        self.top = Canvas(table, ground="text_", id="top")
        self.outlook = Canvas(table, ground="text_", id="outlook")
        self.rail = Canvas(table, id="rail")
        self.slots = [Canvas(table, id=f"p{i}") for i in range(1, 7)]
        self.hint = Canvas(table, id="hint")
        self.bottom = Canvas(table, ground="text_", id="bottom")
        self.tail = Canvas(table, ground="text_", id="tail")
        super().__init__((self.top, self.outlook, self.rail, *self.slots, self.hint, self.bottom, self.tail), size)
        self._left = 0  # the pane in the first slot, where the day has one of its own
        self._shown = arrange(size.width, size.height, zoomed=desk.filling)
        self._settle()

    def place(self, size: Size) -> None:
        """Everything in its place; where nothing moves nothing is touched, which would wake a layout."""
        self._size = size
        shown = arrange(size.width, size.height, zoomed=self.desk.filling)
        if shown != self._shown:
            self._shown = shown
            self._settle()

    def _settle(self) -> None:
        """A box for each canvas, a width for each pane."""
        shown = self._shown
        self._cut = bars.tail(self.desk, shown.bottom.width) if shown.fits else 0
        halves = _halves(shown.top, shown.top.width // 2), _halves(shown.bottom, self._cut)
        boxes = (*halves[0], shown.rail, *shown.slots, shown.hint, *halves[1])
        for canvas, box in zip(self.canvases, boxes, strict=True):
            put(canvas, box)
        self.mount_seen()
        for pane in range(6):
            self.desk.widths[pane] = self._cells(pane)
        self.desk.redraw()

    def clicked(self, x: int, y: int) -> Click:
        """What a click there does."""
        from workbench.screens import pointing  # with the first click

        shown = self._shown
        places = [pointing.Place(pane, box, self._titled(pane)) for _, pane, box in self._panes(shown)]
        return pointing.on_bench(self.desk, shown, places, x, y)

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
            slot.show(drawing.pane(self.desk, pane, self._cells(pane), box.height, titled=self._titled(pane)))
        top = bars.top(self.desk, shown.top.width, shown.top.height)
        self._show_halves(self.top, self.outlook, top, shown.top.width // 2)
        if not whole:
            return
        if shown.rail is not None:
            self.rail.show(bars.rail(self.desk, shown.rail.width, self._left if shown.pair else None))
        self.hint.show([hints.hint(self.desk, shown.hint.width)])
        self._show_halves(self.bottom, self.tail, bars.bottom(self.desk, shown.bottom.width), self._cut)
        self._point()

    def _show_halves(self, left: Canvas, right: Canvas, lines: list[Spans], at: int) -> None:
        """Lines across two canvases."""
        parts = [halves(line, at) for line in lines]
        left.show([before for before, _ in parts])
        right.show([fit(after, self._size.width - at, self.desk.glyphs.cut) for _, after in parts])

    def _panes(self, shown: Layout) -> list[tuple[Canvas, int, Box]]:
        """Which slot shows which pane, where."""
        if self.desk.pane != DAY:
            self._left = self.desk.pane
        first = self._left if shown.pair else self.desk.pane
        pairs = zip(self.slots, shown.slots, strict=True)
        return [(slot, index if index or shown.wide else first, box) for index, (slot, box) in enumerate(pairs) if box]

    def _titled(self, pane: int) -> bool:
        """Whether a pane has its name above it; else that is in the rail."""
        return self._shown.wide or (self._shown.pair and pane == DAY)

    def _cells(self, pane: int) -> int:
        """Cells that a pane may fill: a blank column is left to its neighbour."""
        box = self._box(pane)
        return box.width - 1 if self._shown.wide else min(box.width - self._shown.pair, _MOST_CELLS)

    def _box(self, pane: int) -> Box:
        """Where a pane is, or would be if it were chosen."""
        own = self._shown.slots[pane] if self._titled(pane) else None
        return own or self._shown.slots[0] or self._shown.bottom

    def _point(self) -> None:
        """The terminal's own cursor to where the cursor is, for magnifiers and screen readers."""
        box = self._box(self.desk.pane)
        titled = self._titled(self.desk.pane)
        x, y = drawing.caret(self.desk, self._cells(self.desk.pane), box.height, titled=titled)
        self.app.cursor_position = Offset(box.x + x, box.y + y)


def _halves(box: Box, at: int) -> tuple[Box, Box]:
    """A box in two, side by side."""
    return box._replace(width=at), box._replace(x=box.x + at, width=box.width - at)
