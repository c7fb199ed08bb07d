"""Numbers as words inside a reason or a warning: always metric, always with the unit."""

from __future__ import annotations

from workbench.brewing.density import sg

__all__ = ["cells", "density", "grams", "gravity", "hours", "litres", "millilitres", "spread"]


def cells(value_b: float) -> str:
    """Billions to three significant digits: `214 B`, `7.4 B`."""
    if value_b >= 100.0:
        return f"{value_b:.0f} B"
    return f"{value_b:.3g} B"


def density(b_per_ml: float) -> str:
    """Cells per mL to three significant digits, as on the screen: `43.6 M/mL`, `0.35 B/mL`."""
    return f"{1000.0 * b_per_ml:.3g} M/mL" if b_per_ml < 0.09995 else f"{b_per_ml:.3g} B/mL"


def spread(low_b: float | None, high_b: float | None) -> str:
    """A range of cells: `186–349 B`."""
    return "range not known" if low_b is None or high_b is None else f"{cells(low_b)[:-2]}–{cells(high_b)}"


def litres(value_l: float) -> str:
    """`1.60 L`."""
    return f"{value_l:.2f} L"


def millilitres(value_ml: float) -> str:
    """`80 mL`."""
    return f"{value_ml:.0f} mL"


def grams(value_g: float) -> str:
    """`149 g`."""
    return f"{value_g:.0f} g" if value_g >= 10.0 else f"{value_g:.1f} g"


def gravity(w: float) -> str:
    """`1.034`."""
    return f"{sg(w):.4f}".rstrip("0").ljust(5, "0")


def hours(value_h: float) -> str:
    """`21.9 h`."""
    return f"{value_h:.0f} h" if value_h >= 100.0 else f"{value_h:.3g} h"
