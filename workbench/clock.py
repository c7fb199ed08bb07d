"""The clocks of this machine. Everything else is handed the time, so that tests and `--at` can set it."""

from __future__ import annotations

import time
from datetime import UTC, datetime
from functools import cache
from pathlib import Path

from workbench.units.mark import Mark

__all__ = ["read"]

_BOOT_ID = "/proc/sys/kernel/random/boot_id"
_KEPT = 8  # letters of it: enough to tell one start of a machine from another


def read() -> Mark:
    """Now, by the wall clock and, where the system has one, by the clock that counts sleep and cannot be set."""
    boot = _boot()
    return Mark(datetime.now(UTC), boot, time.clock_gettime(time.CLOCK_BOOTTIME) if boot else 0.0)


@cache
def _boot() -> str:
    """Which start of which machine this is; "" where the system does not say, or has no such clock."""
    if not hasattr(time, "CLOCK_BOOTTIME"):
        return ""
    try:
        return Path(_BOOT_ID).read_text("ascii")[:_KEPT]
    except (OSError, UnicodeDecodeError):
        return ""
