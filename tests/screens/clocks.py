"""A clock that goes only when it is told to, and may be set, put to sleep or started anew."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from workbench.units.mark import Mark


class FakeClock:
    """`wall` and the seconds since `boot`; calling it reads it."""

    def __init__(self, at: datetime, boot: str = "aaaa1111", uptime_s: float = 5000.0) -> None:
        self.wall, self.boot, self.uptime_s = at.astimezone(UTC), boot, uptime_s

    def __call__(self) -> Mark:
        return Mark(self.wall, self.boot, self.uptime_s)

    def go(self, **span: float) -> None:
        """Time passes."""
        passed = timedelta(**span)
        self.wall += passed
        self.uptime_s += passed.total_seconds()

    def set_by(self, **span: float) -> None:
        """Somebody sets the clock on the wall."""
        self.wall += timedelta(**span)

    def reboot(self, **span: float) -> None:
        """The machine is started anew, some time later."""
        self.go(**span)
        self.boot, self.uptime_s = "bbbb2222", 3.0
