"""A screen made of canvases: painted once and then only where it changes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.screen import Screen

from workbench.panes.spans import wrap
from workbench.screens.layout import FLOOR

if TYPE_CHECKING:
    from collections.abc import Mapping

    from rich.style import Style
    from textual.app import ComposeResult
    from textual.geometry import Region, Size

    from workbench.panes.canvas import Canvas
    from workbench.panes.spans import Spans
    from workbench.screens.layout import Box
    from workbench.screens.pointing import Click

__all__ = ["Board", "put", "too_small"]


class Board(Screen[None]):
    """`canvases` have their places before the screen is mounted; `show` draws all of them as things are now."""

    AUTO_FOCUS = ""  # no widget takes keys: all go through the app's queue, in their order
    DEFAULT_CSS = "Board { overflow: hidden; }"

    def __init__(self, canvases: tuple[Canvas, ...], size: Size) -> None:
        super().__init__()
        self.canvases = canvases
        self._composed = self._painted = False
        self._size = size

    def compose(self) -> ComposeResult:
        """What is in sight, already in its place: a second layout would paint twice."""
        self.show()
        yield from (canvas for canvas in self.canvases if canvas.display)
        self._composed = True

    def refresh(self, *regions: Region, repaint: bool = True, layout: bool = False, recompose: bool = False) -> Board:
        """As Textual's, but the first layout paints everything by itself: no second paint of the same."""
        repaint = repaint and self._painted and not layout
        return super().refresh(*regions, repaint=repaint, layout=layout, recompose=recompose)

    def on_mount(self) -> None:
        """Once the first layout is on the screen repaints are let through."""
        self.call_after_refresh(self._wake)

    def _wake(self) -> None:
        self._painted = True
        for canvas in self.canvases:
            canvas.awake = True

    def mount_seen(self) -> None:
        """Mount what has come into sight: a canvas costs start and memory only where it is seen."""
        if self._composed:
            self.mount_all(canvas for canvas in self.canvases if canvas.display and not canvas.is_attached)

    def resized(self, size: Size) -> None:
        """Everything in its place for a new size; Textual tells the size at the start too, where nothing is new."""
        if size != self._size:
            self.place(size)
            self.show()

    def recolour(self, table: Mapping[str, Style]) -> None:
        """Draw with another table of styles."""
        for canvas in self.canvases:
            canvas.recolour(table)

    @property
    def fits(self) -> bool:
        """Whether the window is large enough to show anything."""
        return self._size.width >= FLOOR[0] and self._size.height >= FLOOR[1]

    def place(self, size: Size) -> None:
        """Every canvas in its place for this size."""
        raise NotImplementedError

    def clicked(self, x: int, y: int) -> Click:
        """What a click there does; the cursor may have moved already."""
        raise NotImplementedError

    def show(self, *, whole: bool = True) -> None:
        """Draw everything as it is now; only what changed is repainted."""
        raise NotImplementedError


def put(canvas: Canvas, box: Box | None) -> None:
    """A canvas in its box; out of sight without one."""
    canvas.display = box is not None and box.height > 0
    if box is not None and box.height > 0:
        canvas.styles.position = "absolute"
        canvas.styles.offset = (box.x, box.y)
        canvas.styles.width = box.width
        canvas.styles.height = box.height


def too_small(size: Size) -> list[Spans]:
    """What a window that shows nothing else says."""
    text = f"This needs {FLOOR[0]} by {FLOOR[1]} cells; here are {size.width} by {size.height}."
    lines = [*wrap(text, size.width), *wrap("Make the window larger, or press q.", size.width)]
    return [((line, "text"),) for line in lines]
