"""The screen of the first start: a few questions, each with its usual answer in the line already."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual import events
from textual.geometry import Offset

from workbench.panes.canvas import Canvas
from workbench.screens.board import Board, put, too_small
from workbench.screens.layout import Box

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from rich.style import Style
    from textual.geometry import Size

    from workbench.screens.first_desk import FirstDesk

__all__ = ["FirstStart"]


class FirstStart(Board):
    """Shows the questions and takes their keys; `done` is called once, when all are answered or left out."""

    def __init__(self, desk: FirstDesk, table: Mapping[str, Style], size: Size, done: Callable[[], None]) -> None:
        self.desk = desk
        self._done = done
        self.page = Canvas(table, id="first")
        self.bottom = Canvas(table, ground="text_", id="bottom")
        super().__init__((self.page, self.bottom), size)
        self.place(size)

    def place(self, size: Size) -> None:
        """One line at the bottom, the page above it."""
        self._size = size
        below = 1 if self.fits else 0
        put(self.page, Box(0, 0, size.width, size.height - below))
        put(self.bottom, Box(0, size.height - 1, size.width, below))

    def show(self, *, whole: bool = True) -> None:  # noqa: ARG002 - it has no part that changes by itself
        """Draw the questions as they are now; once they are over nothing of this is seen any more."""
        if self.desk.over:
            return
        if not self.fits:
            self.page.show(too_small(self._size))
            return
        self.page.show(self.desk.lines(self._size.width))
        self.bottom.show([self.desk.bottom(self._size.width)])
        self.app.cursor_position = Offset(*self.desk.caret())

    def take(self, event: events.Key | events.Paste) -> None:
        """A key or a paste for the line."""
        if isinstance(event, events.Paste):
            self.desk.paste(event.text)
        else:
            self.desk.press(event.key, event.character)
        if self.desk.over:
            self._done()
        else:
            self.show()
