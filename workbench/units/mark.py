"""An instant by two clocks: the one on the wall, and one that nobody sets and that runs on while the lid is shut."""

from __future__ import annotations

from datetime import UTC, timedelta
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from datetime import datetime

__all__ = ["Mark", "Passed", "marked", "passed"]

STEPPED_S = 2.0  # the two clocks differ by more than this: the wall clock was set in between


class Mark(NamedTuple):
    """When: `at` by the wall clock, and `uptime_s` seconds since this machine's start number `boot`, sleep counted.

    `boot` is "" where only the wall clock is known: stamped on another machine, or typed in.
    """

    at: datetime
    boot: str = ""
    uptime_s: float = 0.0

    @property
    def text(self) -> str:
        """`3f2a9c1b 12345.6`, as a file keeps it beside `at`; "" where there is nothing to keep."""
        return f"{self.boot} {self.uptime_s:.1f}" if self.boot else ""

    def later(self, seconds: float) -> Mark:
        """The instant so many seconds later."""
        return Mark(self.at + timedelta(seconds=seconds), self.boot, self.uptime_s + seconds)


class Passed(NamedTuple):
    """Seconds between two instants, and by how many the wall clock was set meanwhile (0 where nobody can tell)."""

    seconds: float
    stepped_s: float


def marked(at: datetime, text: str) -> Mark:
    """The mark that `text` makes of `at`; the wall clock alone where it says nothing that can be read."""
    boot, _, uptime = text.partition(" ")
    try:
        return Mark(at.astimezone(UTC), boot, float(uptime)) if boot and uptime else Mark(at.astimezone(UTC))
    except (ValueError, OverflowError):
        return Mark(at)


def passed(first: Mark, second: Mark) -> Passed:
    """What passed from one to the other: by the clock that nobody sets where both know it, else by the wall clock."""
    wall_s = second.at.timestamp() - first.at.timestamp()
    if not first.boot or first.boot != second.boot:
        return Passed(wall_s, 0.0)
    seconds = second.uptime_s - first.uptime_s
    stepped_s = wall_s - seconds
    return Passed(seconds, stepped_s if abs(stepped_s) > STEPPED_S else 0.0)
