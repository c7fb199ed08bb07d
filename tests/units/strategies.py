"""Quantities for property tests: every kind with each of its units, and values that a unit can hold."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hypothesis import strategies as st

from workbench.units.kinds import GRAVITY, KINDS

if TYPE_CHECKING:
    from workbench.units.kinds import Kind, Unit

EVERY_UNIT = [(kind, unit) for kind in KINDS for unit in kind.units]
UNIT_IDS = [f"{kind.name}-{unit.name}" for kind, unit in EVERY_UNIT]


def base_values(kind: Kind) -> st.SearchStrategy[float]:
    """Values in base units: extract fractions of wort, or any size that a brewer may meet and far beyond."""
    if kind is GRAVITY:
        return st.floats(-0.029, 0.36)
    return st.floats(-1e12, 1e12, allow_subnormal=False)


def tolerance(kind: Kind, unit: Unit) -> float:
    """Absolute error allowed beside the relative one: an offset or SG's 1 swamps the last digits of small values."""
    return 1e-11 if unit.offset or kind is GRAVITY else 1e-300
