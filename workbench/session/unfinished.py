"""The line that is being typed, in a file of its own beside the batch until it is entered or left."""

from __future__ import annotations

import os
import tomllib
from contextlib import suppress
from pathlib import Path
from typing import NamedTuple

from workbench.errors import FileRefused
from workbench.session.load import read_bytes
from workbench.session.saver import Saver

__all__ = ["Line", "Unfinished", "line_path"]


class Line(NamedTuple):
    """What was typed, and what it was about: a key of the file, or what was asked for."""

    about: str
    text: str


class Unfinished:
    """Keeps one line as the saver keeps the batch: soon, in its own thread. Nothing is written before it is needed."""

    def __init__(self, batch: str | os.PathLike[str]) -> None:
        self._path = line_path(batch)
        self._saver = Saver(self._path, b"")
        self._last: Line | None = None

    @property
    def there(self) -> bool:
        """Whether a line lies there, of this program or of one that died."""
        return self._path.exists()

    def put(self, line: Line) -> None:
        """Have a line kept."""
        if line == self._last:
            return
        from workbench.session.literal import literal  # with the first key typed, not before

        self._last = line
        self._saver.put(f"about = {literal(line.about)}\ntext = {literal(line.text)}\n".encode())

    def clear(self) -> None:
        """It has been entered, or left."""
        if self._last is None:
            return
        self._last = None
        self._saver.turn_to(self._path, self._saver.on_disk)  # what still waits is not needed
        if self._saver.on_disk:
            self._remove()
            self._saver.turn_to(self._path, b"")

    def take(self) -> Line | None:
        """The line that was open when the program died, if one was; it is not kept any longer."""
        try:
            told = tomllib.loads(read_bytes(self._path).decode())
            found = Line(str(told["about"]), str(told["text"]))
        except (FileRefused, ValueError, KeyError):
            found = None
        self._remove()
        return found

    def flush(self, timeout: float) -> bool:
        """Have it written now. False where that fails, or takes longer than `timeout` seconds."""
        return self._saver.flush(timeout)

    def end(self) -> None:
        """Write what is to be written, and end its thread. A line that is open stays in its file."""
        self._saver.close()

    def _remove(self) -> None:
        with suppress(OSError):
            self._path.unlink()


def line_path(batch: str | os.PathLike[str]) -> Path:
    """Where the line of a batch is kept: `.alder.toml.line` beside it."""
    target = Path(os.path.realpath(batch))
    return target.with_name(f".{target.name}.line")
