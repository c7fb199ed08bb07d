"""The program in a pseudo-terminal, from the outside."""

from __future__ import annotations

import fcntl
import os
import pty
import select
import struct
import subprocess
import sys
import termios
import time
from contextlib import suppress
from pathlib import Path

ROOT = Path(__file__).parents[2]
FRAME = b"\x1b[?2026h"  # what a frame begins with on a terminal that shows frames whole
_ASKED, _ANSWER = b"\x1b[?2026$p", b"\x1b[?2026;2$y"  # whether it does: yes
_MOST_WHILES = 10  # so many quiet ones in a row: what keeps it busy is its look at the clock
_BUSY_MS = 3.0  # of processor in a quiet while: more, and there is something to come still
PROGRAM = """
import fcntl, sys, termios
from pathlib import Path
from tests.panes.scenes import CET, NOW
from workbench.app import Workbench, show
from workbench.config import Config
from workbench.clock import read
from workbench.units.mark import Mark
file, clock = Path(sys.argv[1]), read if sys.argv[2:3] == ["real"] else lambda: Mark(NOW)
if sys.argv[3:] == ["--controlled"]:
    fcntl.ioctl(0, termios.TIOCSCTTY, 0)
sys.exit(show(Workbench(file, clock=clock, config=Config(), tz=CET, home=file.is_dir())))
"""


class Terminal:
    """The screen on a file, or on a folder of batches, in a pty of a size.

    `controlled`: the pty is its controlling terminal, whose end the kernel tells it of. `words` runs something else;
    `env` is added to the environment. It shows frames whole, as most
    terminals do, and says so when asked.
    """

    def __init__(
        self,
        file: Path,
        size: tuple[int, int] = (80, 24),
        *,
        clock: str = "fixed",
        controlled: bool = False,
        words: list[str] | None = None,
        env: dict[str, str] | None = None,
    ) -> None:
        self.fd, inside = pty.openpty()
        self.modes = termios.tcgetattr(self.fd)
        fcntl.ioctl(inside, termios.TIOCSWINSZ, struct.pack("HHHH", size[1], size[0], 0, 0))
        self.program = subprocess.Popen(
            words or [sys.executable, "-c", PROGRAM, str(file), clock, *["--controlled"][:controlled]],
            cwd=ROOT,
            env={k: v for k, v in os.environ.items() if k not in {"NO_COLOR", "COLORTERM"}}
            | {"TERM": "xterm-256color", "LC_ALL": "C.UTF-8"}
            | (env or {}),
            stdin=inside,
            stdout=inside,
            stderr=inside,
            start_new_session=True,
        )
        os.close(inside)

    def __enter__(self) -> Terminal:
        return self

    def __exit__(self, *_: object) -> None:
        self.program.kill()
        self.program.wait()
        self.hang_up()

    def hang_up(self) -> None:
        """Close the terminal, once."""
        if self.fd >= 0:
            os.close(self.fd)
        self.fd = -1

    @property
    def put_right(self) -> bool:
        """Whether its modes are those of before."""
        return termios.tcgetattr(self.fd) == self.modes

    def unread(self) -> int:
        """Bytes that it has written and nobody has read."""
        return int.from_bytes(fcntl.ioctl(self.fd, termios.FIONREAD, bytes(4)), sys.byteorder)

    def read_until(self, wanted: bytes, seconds: float = 20.0) -> bytes:
        """What it writes up to that, or to its end."""
        end, seen = time.monotonic() + seconds, b""
        while wanted not in seen:
            assert time.monotonic() < end, f"{wanted!r} does not come after {seen[-2000:]!r}"
            if select.select([self.fd], [], [], 0.1)[0]:
                try:
                    seen += self.read()
                except OSError:  # the program has gone
                    break
        return seen

    def watch(self, seconds: float) -> bytes:
        """All that it writes in that time, or up to its end."""
        end, seen = time.monotonic() + seconds, b""
        while (left := end - time.monotonic()) > 0.0:
            if select.select([self.fd], [], [], left)[0]:
                try:
                    seen += self.read()
                except OSError:  # the program has gone
                    break
        return seen

    def read(self) -> bytes:
        """What is there. Raises OSError where the program has gone."""
        found = os.read(self.fd, 65536)
        if _ASKED in found:
            os.write(self.fd, _ANSWER)
        return found

    def answer(self, keys: bytes = b"", quiet: float = 0.2) -> bytes:
        """What it writes for these keys, until it has been quiet for a while and has had nothing to do in it."""
        os.write(self.fd, keys)
        seen, used, whiles = b"", self.processor_ms(), 0
        while True:
            if select.select([self.fd], [], [], quiet)[0]:
                seen, whiles = seen + self.read(), 0
            elif whiles == _MOST_WHILES or not (self.processor_ms() - used >= _BUSY_MS or self.waits_for_processor()):
                return seen
            used, whiles = self.processor_ms(), whiles + 1

    def processor_ms(self) -> float:
        """Milliseconds of processor that it has used so far, all threads; 0 where the system does not tell."""
        return sum(int(line.split()[0]) for line in self._threads("schedstat")) / 1e6

    def waits_for_processor(self) -> bool:
        """Whether one of its threads would run, if it were let, or waits for the disk."""
        return any(line.rpartition(")")[2].split()[0] in "RD" for line in self._threads("stat"))

    def _threads(self, name: str) -> list[str]:
        """What the system tells of each of its threads."""
        found = []
        for path in Path(f"/proc/{self.program.pid}/task").glob(f"*/{name}"):
            with suppress(OSError):  # it has just ended
                found.append(path.read_text("ascii", errors="replace"))
        return found

    def end(self) -> int:
        """Read until the program has gone; its exit code."""
        self.watch(20.0)
        return self.program.wait(timeout=20)
