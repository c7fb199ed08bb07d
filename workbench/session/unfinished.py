"""The line that is being typed, in a file of its own beside the batch until it is entered or left."""

from __future__ import annotations

import os
import tomllib
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from workbench.errors import FileRefused, SaveFailed
from workbench.session.load import read_bytes
from workbench.session.saver import Saver
from workbench.session.saving import write_atomically

if TYPE_CHECKING:
    from collections.abc import Callable

__all__ = ["Line", "Unfinished", "line_path"]

_LONGEST_S = 1.0  # on a disk that hangs the batch has had its time


class Line(NamedTuple):
    """What was typed, and what it was about: a key of the file, or what was asked for."""

    about: str
    text: str


class Unfinished:
    """Keeps one line as the saver keeps the batch: soon, in its own thread. Nothing is written before it is needed.

    `saved` has the batch saved, and is asked in that thread: only then a line that was entered is not needed any more.
    """

    def __init__(self, batch: str | os.PathLike[str], saved: Callable[[], bool] = lambda: True) -> None:
        self._path, self._saved = line_path(batch), saved
        self._saver = Saver(self._path, b"", write=self._write)
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
        if self._last is not None:
            self._last = None
            self._saver.put(b"")

    def take(self) -> Line | None:
        """The line that was open when the program died, if one was; it is not kept any longer."""
        try:
            told = tomllib.loads(read_bytes(self._path).decode())
            found = Line(str(told["about"]), str(told["text"]))
        except (FileRefused, ValueError, KeyError):
            found = None
        self._remove()
        return found

    def flush(self) -> bool:
        """Have it written now. False where that fails or takes long."""
        return self._saver.flush(_LONGEST_S)

    def end(self) -> None:
        """Write what is to be written, and end its thread. A line that is open stays in its file."""
        self._saver.close(_LONGEST_S)

    def _write(self, data: bytes, before: bytes) -> None:
        if data:
            write_atomically(self._path, data, on_disk=before)
        elif self._saved():
            self._remove()
        else:
            raise SaveFailed("it stays until the batch is saved")

    def _remove(self) -> None:
        with suppress(OSError):
            self._path.unlink()


def line_path(batch: str | os.PathLike[str]) -> Path:
    """Where the line of a batch is kept: `.alder.toml.line` beside it."""
    target = Path(os.path.realpath(batch))
    return target.with_name(f".{target.name}.line")
