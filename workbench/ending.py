"""How the program ends when it is told to from outside, or its terminal has gone: saved, the terminal as it was.

No part of this waits for the screen: its loop stands still where nobody reads the terminal.
"""

from __future__ import annotations

import os
import signal
import termios
import threading
from contextlib import suppress
from queue import Empty, SimpleQueue
from typing import TYPE_CHECKING, Any, Self

from workbench.screens.stopping import in_front

if TYPE_CHECKING:
    from collections.abc import Callable
    from types import FrameType

__all__ = ["SIGNALS", "Ending"]

SIGNALS = (signal.SIGHUP, signal.SIGTERM, signal.SIGINT, signal.SIGQUIT)
PATIENCE_S = 2.0  # for the screen to leave by itself
_LOOK_S = 1.0  # between two looks whether the terminal is still there
_KEYBOARD, _ERRORS = 0, 2
# Paste brackets, mouse, focus reports and the keyboard protocol off, lines wrapped, the other screen left, a cursor.
_LEAVE_SCREEN = b"\x1b[?2004l\x1b[?1000l\x1b[?1003l\x1b[?1006l\x1b[?1004l\x1b[<u\x1b[?7h\x1b[?1049l\x1b[?25h\x1b[0m"


class Ending:
    """While entered, the signals that end a program end it in order, with exit code 128 and the signal's number.

    `save` is called first, `leave` then asks the screen to go; should it not have gone soon, the terminal is put right
    without it. `last` is called at the very end and gives what there is to tell, None if nothing. All three are called
    in another thread than the screen's, and may not raise. A terminal that has gone counts as a hang-up.
    """

    def __init__(
        self, save: Callable[[], object], leave: Callable[[int], object], last: Callable[[], str | None]
    ) -> None:
        self._save, self._leave, self._last = save, leave, last
        self._told: SimpleQueue[int] = SimpleQueue()  # a signal handler may put into it whatever it interrupts
        self._left = threading.Event()
        self._watch = threading.Thread(target=self._wait, name="ending", daemon=True)
        self._before: dict[int, object] = {}
        self._parent = os.getppid()
        self._modes = _modes()

    def __enter__(self) -> Self:
        for number in SIGNALS:
            signal.signal(number, self._hear)  # not the loop's own: it may stand still
        self._watch.start()
        return self

    def __exit__(self, *_: object) -> None:
        """The screen has gone. Does not return where a signal made it go."""
        self._left.set()
        self._told.put(0)
        self._watch.join()

    def _hear(self, number: int, _: FrameType | None) -> None:
        self._told.put(number)

    def _wait(self) -> None:
        """Until a signal comes or the terminal goes: end then."""
        number = None
        while number is None:
            try:
                number = self._told.get(timeout=_LOOK_S)
            except Empty:
                number = None if self._attached() else signal.SIGHUP
        if number:
            self._end(number)

    def _attached(self) -> bool:
        """Whether the terminal is there, and the program that started this one on it."""
        return os.getppid() == self._parent and (self._modes is None or _modes() is not None)

    def _end(self, number: int) -> None:
        self._save()
        if self._attached() and in_front():  # behind a shell the screen is put right already, and can't be touched
            self._leave(128 + number)
            if not self._left.wait(PATIENCE_S):
                self._put_right()
        if problem := self._last():
            _write(_ERRORS, f"not saved: {problem}\r\n".encode(errors="replace"))
        os._exit(128 + number)  # Python's own way out fails where the terminal has gone, and says 120

    def _put_right(self) -> None:
        """The terminal as it was before, as far as it takes anything at all."""
        with suppress(termios.error):
            termios.tcflush(_KEYBOARD, termios.TCIOFLUSH)
            if self._modes is not None:
                termios.tcsetattr(_KEYBOARD, termios.TCSANOW, self._modes)
        _write(_KEYBOARD, _LEAVE_SCREEN)


def _modes() -> list[Any] | None:
    """The terminal's modes; None where there is no terminal any more."""
    try:
        return termios.tcgetattr(_KEYBOARD)
    except termios.error:
        return None


def _write(fd: int, data: bytes) -> None:
    """To the terminal behind `fd`, if it takes it at once; opened anew, as others go on using the one that is open."""
    with suppress(OSError):
        terminal = os.open(os.ttyname(fd), os.O_WRONLY | os.O_NONBLOCK | os.O_NOCTTY)
        try:
            os.write(terminal, data)
        finally:
            os.close(terminal)
