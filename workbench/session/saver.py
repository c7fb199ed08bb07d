"""A thread that saves: soon after the last change, never long after the first, again and again until it works."""

from __future__ import annotations

import threading
import time
from typing import TYPE_CHECKING

from workbench.errors import NotLasting, SaveFailed
from workbench.session.saving import write_atomically

if TYPE_CHECKING:
    import os
    from collections.abc import Callable

__all__ = ["Saver"]

SETTLE_S = 0.25  # after the last change
LONGEST_S = 0.4  # after the first change, while changes go on: what stands on the screen for half a second is saved
_FIRST_PAUSE_S = 0.5  # after a failure, doubled each time
_LONGEST_PAUSE_S = 30.0
_UNDER_WAY_S = 2.0  # how long a save may take that is waited for


class Saver:
    """Saves one file. The thread starts with the first change; a timer of the screen would stop with the screen.

    `first` is what it does before anything else, once, at `begin` or the first change.
    `problem` says why the last attempt failed, None if it did not; `saved_at` is when (time.time()) the last one
    succeeded; `tell` is called in the thread after each attempt. `write`, of a version and the one before, is what
    saves, else it is `write_atomically`; it raises SaveFailed.
    """

    def __init__(
        self,
        path: str | os.PathLike[str],
        on_disk: bytes,
        *,
        tell: Callable[[], None] | None = None,
        first: Callable[[], None] | None = None,
        write: Callable[[bytes, bytes], None] | None = None,
    ) -> None:
        self.path = path
        self.problem: str | None = None
        self.saved_at: float | None = None
        self._tell, self._first, self._write = tell, first, write
        self._on_disk = on_disk
        self._waiting: bytes | None = None  # what is to be written
        self._writing: bytes | None = None  # the version of it that is being written
        self._due = self._latest = 0.0  # when, on the monotonic clock
        self._pause = _FIRST_PAUSE_S
        self._urgent = self._closing = False
        self._attempts = self._failed = 0  # how many were begun, and which of them failed last
        self._changed = threading.Condition()
        self._thread: threading.Thread | None = None

    @property
    def dirty(self) -> bool:
        """Whether something is not on the disk yet."""
        return self._waiting is not None

    @property
    def on_disk(self) -> bytes:
        """What was last read or written there, as far as is known here."""
        return self._on_disk

    @property
    def under_way(self) -> bool:
        """Whether it is just writing."""
        return self._writing is not None

    def is_own(self, found: bytes) -> bool:
        """Whether a version found on the disk is no other program's: as read or written here, or just being written."""
        with self._changed:
            return found in (self._on_disk, self._writing)

    def turn_to(
        self, path: str | os.PathLike[str], on_disk: bytes, waiting: bytes | None = None, *, known: bytes | None = None
    ) -> None:
        """From now on save `waiting` to `path`, over the version `on_disk`; what was still to be written is dropped.

        A save under way is waited for. Where one has ended since `on_disk` was found there over `known` (left out: what
        is known now), what that wrote lies there now, or the next one finds out. At no moment nothing seems to wait.
        """
        with self._changed:
            before = self._on_disk if known is None else known
            self._changed.wait_for(lambda: self._writing is None, _UNDER_WAY_S)
            if path != self.path or self._on_disk == before:
                self._on_disk = on_disk
            self.path, self._waiting = path, None
            self.problem, self._pause = None, _FIRST_PAUSE_S
            if waiting is not None:
                self.put(waiting)
            self._changed.notify_all()

    def put(self, data: bytes) -> None:
        """Have `data` saved soon. Costs the caller nothing."""
        with self._changed:
            now = time.monotonic()
            if self._waiting is self._writing:  # both None, or all that waited is on its way
                self._latest = now + LONGEST_S
            if self.problem is None:
                self._due = min(now + SETTLE_S, self._latest)
            self._waiting = data
            self.begin()
            self._changed.notify_all()

    def begin(self) -> None:
        """Start the thread, if it does not run yet."""
        with self._changed:
            if self._thread is None:
                self._thread = threading.Thread(target=self._run, name="saver", daemon=True)
                self._thread.start()

    def flush(self, timeout: float = 5.0) -> bool:
        """Save now. False where the attempt failed or is not over after `timeout` seconds."""
        with self._changed:
            if self._waiting is None or self._closing:
                return self._waiting is None
            before = self._attempts  # one under way may be of older data
            self._urgent = True
            self._changed.notify_all()
            self._changed.wait_for(lambda: self._waiting is None or self._failed > before, timeout)
            return self._waiting is None

    def close(self, timeout: float = 5.0) -> bool:
        """Save now and end the thread. False where that failed; what is not saved then stays in `waiting`."""
        saved = self.flush(timeout)
        with self._changed:
            self._closing = True
            self._changed.notify_all()
        if self._thread is not None:
            self._thread.join(timeout)
        return saved

    @property
    def waiting(self) -> bytes | None:
        """What is to be written, None where all is on the disk."""
        return self._waiting

    def _run(self) -> None:
        if self._first is not None:
            self._first()
        while (data := self._next()) is not None:
            problem = self._save(data)
            with self._changed:
                self._note(data, problem)
                self._changed.notify_all()
            if self._tell is not None:
                self._tell()

    def _next(self) -> bytes | None:
        """Wait until something is due; None at the end."""
        with self._changed:
            while not self._closing:
                if self._waiting is None:
                    self._changed.wait()
                elif (left := self._due - time.monotonic()) > 0 and not self._urgent:
                    self._changed.wait(left)
                else:
                    self._urgent = False
                    self._attempts += 1
                    self._writing = self._waiting
                    return self._writing
            return None

    def _save(self, data: bytes) -> str | None:
        try:
            if self._write is None:
                write_atomically(self.path, data, on_disk=self._on_disk)
            else:
                self._write(data, self._on_disk)
        except NotLasting as error:
            self._on_disk = data
            return str(error)
        except SaveFailed as error:
            return str(error)
        self._on_disk = data
        return None

    def _note(self, data: bytes, problem: str | None) -> None:
        self.problem, self._writing = problem, None
        if problem is not None:
            self._failed = self._attempts
            self._due = time.monotonic() + self._pause
            self._pause = min(2 * self._pause, _LONGEST_PAUSE_S)
            return
        self._pause, self.saved_at = _FIRST_PAUSE_S, time.time()
        if self._waiting is data:  # else it was changed while being saved
            self._waiting = None
