"""A program in a pseudo-terminal, with the moment at which each piece of its output came."""

from __future__ import annotations

import re
import sys
import time
from pathlib import Path
from typing import NamedTuple

from tests.screens.terminals import FRAME, Terminal
from tests.speed.picture import Picture

__all__ = ["BARE", "WORKBENCH", "Answer", "Start", "Timed"]

_BARE = """
from textual.app import App
from textual.widgets import Static
class Bare(App):
    def compose(self):
        yield Static("bare")
Bare().run(mouse=False)
"""
BARE = [sys.executable, "-c", _BARE]
WORKBENCH = [sys.executable, "-m", "workbench"]
_UNFINISHED = re.compile(rb"\x1b[^@-Z\\-~]*$|\x1b\[[0-?]*[ -/]*$|[\xc0-\xff][\x80-\xbf]*$")


class Start(NamedTuple):
    """From the start of the process: the first byte, and the last that changed the picture; what was sent by then."""

    sign_ms: float
    ready_ms: float
    sent: int
    memory_mib: float


class Answer(NamedTuple):
    """To a key: the last byte of it, how many bytes and how many frames they were."""

    ms: float
    sent: int
    frames: int


class Timed(Terminal):
    """The program that `words` run."""

    def __init__(self, words: list[str], size: tuple[int, int]) -> None:
        self.pieces: list[tuple[float, bytes]] = []
        self._began = time.perf_counter()
        super().__init__(Path(), size, words=words)

    def read(self) -> bytes:
        """What is there, with the moment at which it came."""
        found = super().read()
        self.pieces.append(((time.perf_counter() - self._began) * 1e3, found))
        return found

    def start(self) -> Start:
        """Wait until it stands."""
        self.read_until(FRAME)
        self.answer(quiet=0.4)
        return Start(self.pieces[0][0], self._last_change_ms(), sum(len(data) for _, data in self.pieces), self._mib())

    def key(self, keys: bytes) -> Answer:
        """Press keys, all at once, and wait for what comes of it."""
        self.pieces.clear()
        sent_ms = (time.perf_counter() - self._began) * 1e3
        found = self.answer(keys)
        return Answer(self.pieces[-1][0] - sent_ms if self.pieces else 0.0, len(found), found.count(FRAME))

    def rest(self, seconds: float) -> tuple[float, float]:
        """Leave it alone for so long: bytes a second, and percent of a processor."""
        used, began = self.processor_ms(), time.perf_counter()
        sent = len(self.watch(seconds))
        passed = time.perf_counter() - began
        return sent / passed, (self.processor_ms() - used) / passed / 10.0

    def _last_change_ms(self) -> float:
        picture, rest, changed_ms = Picture(), b"", 0.0
        for at_ms, data in self.pieces:
            whole = rest + data
            cut = _UNFINISHED.search(whole)
            end = cut.start() if cut else len(whole)
            rest = whole[end:]
            if picture.write(whole[:end].decode("utf-8", "replace")):
                changed_ms = at_ms
        return changed_ms

    def _mib(self) -> float:
        """The most memory that it has had so far."""
        for line in Path(f"/proc/{self.program.pid}/status").read_text("ascii").splitlines():
            if line.startswith("VmHWM"):
                return int(line.split()[1]) / 1024
        return 0.0
