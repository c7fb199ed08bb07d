"""The terminal: Textual's driver of it, but for how keys are read and how few bytes are written."""

from __future__ import annotations

import os
import select
from codecs import getincrementaldecoder
from typing import Any

from textual.drivers.linux_driver import LinuxDriver

from workbench.screens.keyboard import Pieces
from workbench.screens.terse import Terse

__all__ = ["Terminal"]

_ESC_S = 0.1  # how soon a lone Esc is told


class Terminal(LinuxDriver):
    """Made by Textual when the app begins, whose arguments it takes."""

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        self._terse = Terse()
        self._ended, self._end = os.pipe()  # wakes the thread that waits for keys: while it waits it costs nothing

    def start_application_mode(self) -> None:
        """Take the terminal, now or again after a stop: who knows in which colours it writes."""
        self._terse = Terse()
        super().start_application_mode()  # type: ignore[no-untyped-call]

    def write(self, data: str) -> None:
        """Write what looks like `data`."""
        super().write(self._terse.write(data))

    def run_input_thread(self) -> None:
        """Hand on what is sent until the program leaves or the terminal has gone. What is no UTF-8 ends nothing."""
        keys, decode = Pieces(), getincrementaldecoder("utf-8")("replace").decode
        while not self.exit_event.is_set():
            ready = select.select([self.fileno, self._ended], [], [], _ESC_S if keys.waits else None)[0]
            if self.fileno in ready:
                sent = self._sent()
                if not sent:
                    return
                for message in keys.feed(decode(sent)):
                    self.process_message(message)
            for message in keys.tick():
                self.process_message(message)

    def _sent(self) -> bytes:
        """What has been sent; nothing once the terminal has gone."""
        try:
            return os.read(self.fileno, 4096)
        except OSError:
            return b""

    def disable_input(self) -> None:
        """Read no more keys."""
        os.write(self._end, b".")
        super().disable_input()  # which waits for the thread
        os.read(self._ended, 1)
