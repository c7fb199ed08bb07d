"""The home screen: the batches of the folder and what each waits for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual import events
from textual.geometry import Offset

from workbench.panes.canvas import Canvas
from workbench.screens import home_actions, home_drawing
from workbench.screens.board import Board, put, too_small
from workbench.screens.layout import Box

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    from rich.style import Style
    from textual.geometry import Size

    from workbench.screens.home_desk import HomeDesk
    from workbench.screens.pointing import Click

__all__ = ["Home"]

_SLICE_S = 0.03  # of reading batches at a time: a key is never kept waiting longer
_SHOW_EVERY = 16  # slices, so that little is sent while many are read


class Home(Board):
    """Shows a home desk and takes its keys; `show_batch` opens a file of the list."""

    def __init__(
        self, desk: HomeDesk, table: Mapping[str, Style], size: Size, show_batch: Callable[[Path], None]
    ) -> None:
        self.desk = desk
        self._show_batch = show_batch
        self._slices = 0
        self.top = Canvas(table, ground="text_", id="top")
        self.list = Canvas(table, id="list")
        self.bottom = Canvas(table, ground="text_", id="bottom")
        super().__init__((self.top, self.list, self.bottom), size)
        self.place(size)

    def place(self, size: Size) -> None:
        """Two lines on top, one at the bottom, the list between."""
        self._size = size
        around = 1 if self.fits else 0
        put(self.top, Box(0, 0, size.width, 2 * around))
        put(self.list, Box(0, 2 * around, size.width, size.height - 3 * around))
        put(self.bottom, Box(0, size.height - 1, size.width, around))
        self.mount_seen()

    def clicked(self, x: int, y: int) -> Click:
        """What a click there does."""
        from workbench.screens import pointing  # with the first click

        return pointing.on_home(self.desk, self._size.width, self._size.height, x, y)

    def show(self, *, whole: bool = True) -> None:  # noqa: ARG002 - it has no part that changes by itself
        """Draw the desk as it is now; only what changed is repainted."""
        if not self.fits:
            self.list.show(too_small(self._size))
            return
        cells, height = self._size.width, self._size.height
        self.list.show(home_drawing.body(self.desk, cells, height - 3))
        self.top.show(home_drawing.top(self.desk, cells))
        self.bottom.show([home_drawing.bottom(self.desk, cells)])
        self.app.cursor_position = Offset(*home_drawing.caret(self.desk, cells, height))

    def tick(self) -> None:
        """The hour, or a file, is another one: look again."""
        since = self.desk.now
        self.desk.look()
        if due := self.desk.due(since):
            self.desk.said = f"RING {due}"
            self.app.bell()
        self.show()
        self._read_on()

    def come_back(self, message: str | None) -> None:
        """A batch has been left; what there is to say of that."""
        self.desk.said = message or ""
        self.tick()

    def on_screen_resume(self) -> None:
        """In sight: batches not known yet are read while the others can be seen."""
        self.set_timer(_SLICE_S, self._read_on)

    def _read_on(self) -> None:
        """Read some batches; the rest after the keys that came meanwhile, or once this screen is back."""
        desk = self.desk
        if not self.is_current:
            return
        if desk.index.pending:
            desk.index.read(_SLICE_S)
            self._slices += 1
            if not desk.index.pending or self._slices % _SHOW_EVERY == 0:
                desk.recount()
                self.show()
        if desk.index.pending:
            self.set_timer(0.001, self._read_on)
        else:
            desk.index.save()

    def take(self, event: events.Key | events.Paste) -> None:
        """A key or a paste for the line that is being typed."""
        question = self.desk.question
        if question is None:
            return
        if isinstance(event, events.Paste):
            home_actions.paste(self.desk, question, event.text)
        else:
            home_actions.press(self.desk, question, event.key, event.character)
        self.show()
        self._open()

    def action_home(self, action_id: str, told: str = "") -> None:
        """Do what an action of the table says, or what it is `told`."""
        if action_id == "quit":
            self.app.exit(0)
        elif self.fits and self.desk.question is None:
            home_actions.run(self.desk, action_id, told)
            self.show()
            self._open()

    def _open(self) -> None:
        """Show the batch that was chosen or made, if one was."""
        path, self.desk.opening = self.desk.opening, None
        if path is not None:
            self._show_batch(path)
