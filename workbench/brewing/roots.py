"""Root finding for monotone functions: slow, sure, no derivative asked."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

__all__ = ["bisect"]


def bisect(f: Callable[[float], float], low: float, high: float) -> float:
    """The x in [low, high] where the monotone `f` changes sign, to the last bit that matters.

    Raises ValueError where f has the same sign at both ends.
    """
    at_low, at_high = f(low), f(high)
    if at_low == 0.0:
        return low
    if at_high == 0.0:
        return high
    if (at_low > 0) == (at_high > 0):
        raise ValueError(f"no change of sign between {low:g} and {high:g}")
    for _ in range(200):
        middle = 0.5 * (low + high)
        if middle in (low, high):
            break
        if (f(middle) > 0) == (at_low > 0):
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)
