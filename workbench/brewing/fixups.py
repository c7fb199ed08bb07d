"""Wort that came out too thin or too strong: powder to raise it, water to lower it, or a longer boil.

Mass balances in grams; `w` and `target_w` are mass fractions of extract, f is the powder's extract (0.5 to 1).
"""

from __future__ import annotations

__all__ = ["boiled_g", "powder_g", "water_g"]


def powder_g(mass_g: float, w: float, target_w: float, f: float) -> float | None:
    """Powder that raises `mass_g` of wort from `w` to `target_w`; None where it does not go up, or no powder does."""
    return mass_g * (target_w - w) / (f - target_w) if w < target_w < f else None


def water_g(mass_g: float, w: float, target_w: float) -> float | None:
    """Water that lowers `mass_g` of wort from `w` to `target_w` above 0; None where it does not go down."""
    return mass_g * (w / target_w - 1.0) if 0.0 < target_w < w else None


def boiled_g(mass_g: float, w: float, target_w: float) -> float | None:
    """Water to boil off `mass_g` of wort from `w` up to `target_w`; None where it does not go up, or there is none."""
    return mass_g * (1.0 - w / target_w) if 0.0 < w < target_w else None
