"""What the planner looks for in one search, and the work it has done."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Sequence

    from workbench.plan.kitchen import Kitchen
    from workbench.plan.portion import Portion

__all__ = ["Hunt", "Wish", "Work"]


class Work:
    """The work a proposal takes, as a count: the same on every machine, so that what is proposed is too.

    `done`: feedings reckoned so far, each in each draw; one of the enumeration takes the time of four of these.
    """

    def __init__(self) -> None:
        self.done = 0


class Wish(NamedTuple):
    """What is best. `thrifty`: the least extract goes before the least hours; `any_will_do`: nothing is."""

    thrifty: bool
    any_will_do: bool


class Hunt(NamedTuple):
    """What is looked for: feedings in these places with this pattern of decants, in at most so many hours.

    `places` holds the portions each feeding may be, `pattern` tells before which of them spent wort is poured off.
    """

    room: Kitchen
    places: Sequence[Sequence[Portion]]
    pattern: tuple[bool, ...]
    best_h: float
    work: Work
    wish: Wish
