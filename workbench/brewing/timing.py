"""The lead a starter needs, where growth depends on the yeast's age and its age on the lead."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

__all__ = ["settle_lead", "whole_hours"]

_CLOSE_H = 0.001
_ROUNDS = 30


def settle_lead(lead_of: Callable[[float], float | None]) -> float | None:
    """The lead (hours before pitching) that agrees with itself: lead_of(lead) = lead.

    `lead_of` gives the hours that growth takes with the yeast as old as at that lead, None where they cannot be told.
    It never rises: an earlier start finds younger yeast. So plain iteration settles, and where it swings, bisection.
    """
    lead = 0.0
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
