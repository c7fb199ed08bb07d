"""Stopping, as ctrl+z does it in a shell, and going on: what the shell's job control asks of a program."""

from __future__ import annotations

import os
import signal
import time
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from asyncio import AbstractEventLoop
    from collections.abc import Callable

__all__ = ["in_front", "listen", "stop"]

_KEYBOARD = 0
_BEHIND_S = 1.0  # for who was told to end while it stood still


def listen(loop: AbstractEventLoop, stopped: Callable[[], object], continued: Callable[[], object]) -> None:
    """Have `stopped` called in the loop when told to stop, and `continued` when going on, by SIGTSTP and SIGCONT.

    In the loop, not in the handler: what is interrupted may hold the lock that leaving the screen needs.
    """
    signal.signal(signal.SIGTSTP, lambda *_: loop.call_soon_threadsafe(stopped))
    signal.signal(signal.SIGCONT, lambda *_: loop.call_soon_threadsafe(continued))


def stop() -> None:
    """Stop this program and what was started with it; returns once it goes on in the foreground.

    By the signal that the kernel ignores where nobody could have it go on, as without a shell.
    """
    ours = {number: signal.signal(number, signal.SIG_DFL) for number in (signal.SIGTSTP, signal.SIGCONT)}
    try:
        os.kill(0, signal.SIGTSTP)
        while not in_front():  # it goes on behind the shell: nothing can be shown there
            time.sleep(_BEHIND_S)
            os.kill(0, signal.SIGTSTP)
    finally:
        for number, handler in ours.items():
            signal.signal(number, handler)


def in_front() -> bool:
    """Whether the terminal is ours; also where there is none any more, which is not for us to wait for."""
    try:
        return os.tcgetpgrp(_KEYBOARD) == os.getpgrp()
    except OSError:
        return True
