"""The work a proposal takes, as a count: the same on every machine, so that what is proposed is too."""

from __future__ import annotations

__all__ = ["Work"]


class Work:
    """`done`: feedings reckoned so far, each in each draw; one of the enumeration takes the time of four of these."""

    def __init__(self) -> None:
        self.done = 0
