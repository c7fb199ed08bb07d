"""Has the file changed? Asked once a second, it costs one look at its status while it has not."""

from __future__ import annotations

import time
from pathlib import Path
from typing import TYPE_CHECKING

from workbench.session.load import read_bytes

if TYPE_CHECKING:
    import os

__all__ = ["Watch"]

_RESTED_S = 0.5  # an editor that writes in place is done by then


class Watch:
    """Watches one file, through symlinks, also where another file is put in its place."""

    def __init__(self, path: str | os.PathLike[str]) -> None:
        self._path = Path(path)
        self._seen: tuple[int, ...] | None = None  # of the version given last
        self._file = 0  # its inode
        self._begun: tuple[int, ...] = ()  # of one that may be half written
        self._since = 0.0  # when, on the monotonic clock

    def look(self, *, now: bool = False) -> bytes | None:
        """The file's bytes where it may have changed since the last look, None where it has not or is not there.

        The first look gives them always. A file that is written over in its place is given once it has rested, or with
        `now`; one put in its place is whole. Raises FileRefused, once for each change, where it cannot be read.
        """
        try:
            status = self._path.stat()
        except OSError:  # gone, or between two names
            return None
        seen = (status.st_ino, status.st_size, status.st_mtime_ns, status.st_ctime_ns)
        if seen == self._seen:
            return None
        if seen[0] == self._file and not now and not self._rested(seen):
            return None
        self._seen, self._file = seen, seen[0]
        return read_bytes(self._path)

    def again(self) -> None:
        """Give the file at the next look, whether it changes or not."""
        self._seen = None

    def _rested(self, seen: tuple[int, ...]) -> bool:
        if seen != self._begun:
            self._begun, self._since = seen, time.monotonic()
        return time.monotonic() - self._since >= _RESTED_S
