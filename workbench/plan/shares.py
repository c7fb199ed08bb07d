"""Which uncertain inputs the range of an estimate comes from: one at a time from its low to its high end.

An input's part is the square of ln(high end / low end) of the estimate, all other inputs held at their likely values:
exact where the estimate is a product of powers of the inputs, a guide where it is not (recommended).
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from workbench.brewing import spread
from workbench.plan.model import Figure

if TYPE_CHECKING:
    from collections.abc import Sequence

    from workbench.plan.model import Reason, Shares

__all__ = ["ENDS", "INPUTS", "estimate", "in_words", "shares"]

INPUTS = {"cells": "cells when made", "loss": "loss in store", "growth": "growth in the flask", "time": "time"}
"""The four deviates of a draw, and what they are called."""

ENDS = tuple(spread.LIKELY._replace(**{name: z}) for name in INPUTS for z in (-spread.Z90, spread.Z90))
"""Each input at its low and its high end, the others likely."""

_NOTHING = 1e-9  # a part below this is a rounding error


def shares(at_ends: Sequence[float]) -> Shares:
    """The inputs that an estimate's spread comes from, the largest part first; the parts add up to 1.

    `at_ends` is the estimate at each of `ENDS`. Empty where it is 0 at one of them, or nothing varies.
    """
    if not at_ends or min(at_ends) <= 0.0:
        return ()
    squares = [math.log(high / low) ** 2 for low, high in zip(at_ends[::2], at_ends[1::2], strict=True)]
    total = sum(squares)
    if total <= 0.0:
        return ()
    parts = [(name, square / total) for name, square in zip(INPUTS.values(), squares, strict=True)]
    return tuple(sorted((part for part in parts if part[1] > _NOTHING), key=lambda part: -part[1]))


def estimate(value: float, unit: str, why: Reason, drawn: list[float], at_ends: Sequence[float]) -> Figure:
    """A figure with its range over the 512 draws, and the inputs which that comes from."""
    low, high = spread.bounds(drawn, value) if drawn else (None, None)
    return Figure(value, unit, why, low, high, shares(at_ends))


def in_words(parts: Shares) -> str:
    """`mostly from growth in the flask (71 %)`; where no input has half of it the two largest; nothing of nothing."""
    told = [f"{name} ({100 * part:.0f} %)" for name, part in parts[:2]]
    if not told:
        return ""
    return f"mostly from {told[0]}" if parts[0][1] >= 0.5 else f"from {' and '.join(told)}"
