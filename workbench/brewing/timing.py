"""The lead a starter needs, where growth depends on the yeast's age and its age on the lead."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.brewing import starter

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from workbench.brewing.starter import Feeding
    from workbench.brewing.viability import Stock

__all__ = ["planned_hours", "settle_lead", "whole_hours"]

_CLOSE_H = 0.001
_ROUNDS = 30


def settle_lead(lead_of: Callable[[float], float | None], guess: float = 0.0) -> float | None:
    """The lead (hours before pitching) that agrees with itself: lead_of(lead) = lead.

    `lead_of` gives the hours that growth takes with the yeast as old as at that lead, None where they cannot be told.
    It never rises: an earlier start finds younger yeast. So plain iteration settles, and where it swings, bisection.
    """
    lead = guess
    for _ in range(_ROUNDS):
        found = lead_of(lead)
        if found is None:
            return None
        if abs(found - lead) < _CLOSE_H:
            return found
        lead = found
    return _bisect(lead_of, 0.0, max(lead, lead_of(0.0) or lead))


def _bisect(lead_of: Callable[[float], float | None], low: float, high: float) -> float | None:
    while high - low > _CLOSE_H:
        middle = 0.5 * (low + high)
        found = lead_of(middle)
        if found is None:
            return None
        if found > middle:
            low = middle
        else:
            high = middle
    return high


def whole_hours(hours: float) -> float:
    """Hours as planned: rounded up to whole ones, but for a rounding error's worth."""
    whole = float(int(hours - 1e-6))
    return whole if whole >= hours - 1e-6 else whole + 1.0


def planned_hours(
    stock_of: Callable[[float], Stock | None],
    feedings: Sequence[Feeding],
    given: Sequence[float | None],
    rests_h: float,
    *,
    begun: bool = False,
    guess: float = 0.0,
) -> tuple[float | None, ...]:
    """Hours each feeding is left: the brewer's as `given`, else what growth takes, rounded up; None: cannot be told.

    `stock_of` gives the lots as they are so many hours before pitching, `rests_h` the cold rests on the way. `begun`:
    the yeast is in already, its age is known, and `stock_of(0)` is what went in. `feedings` may be fewer than `given`.
    `guess`: a lead to begin with.
    """
    found: list[float | None] = []

    def lead_of(lead_h: float) -> float | None:
        nonlocal found
        stock = stock_of(lead_h)
        fed = starter.feed_all(stock, feedings) if stock is not None else []
        found = [fed[i].run_hours if i < len(fed) else hours for i, hours in enumerate(given)]
        total = rests_h
        for hours in found:
            if hours is None:
                return None
            total += hours
        return total

    if begun or settle_lead(lead_of, guess) is None:
        lead_of(0.0)
    return tuple(
        asked if asked is not None else (None if hours is None else whole_hours(hours))
        for asked, hours in zip(given, found, strict=True)
    )
