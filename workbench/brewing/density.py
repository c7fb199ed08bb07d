"""Density of water and wort, and gravity: SG 20/20 (in vacuum), degrees Plato, mass fraction of extract.

Wort is taken as a sucrose solution of the same extract. `w` is the mass fraction of extract, 0 to 0.36
(readings may lie slightly below 0); °P = 100 w; temperatures are °C, 0 to 100; densities are kg/m³.
"""

from __future__ import annotations

from functools import lru_cache

__all__ = ["RHO_WATER_20", "extract_from_plato", "extract_from_sg", "plato", "sg", "solve_extract", "water", "wort"]

# Bubnik, Kadlec, Urban, Bruhns, Sugar Technologists Manual (1995) p. 164, the ICUMSA polynomial.
_A = (385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.289)
_B = (-46.272, -7.172, 1.1597, 5.1126, 17.5254)
_C = (59.7712, 7.2491, 12.363, -35.4791)
_D = (-47.2207, -21.6977, 27.6301)
_E = (18.3184, 12.3081)

W_LOW, W_HIGH = -0.03, 0.365  # a little past 36 °P, so that every reading up to 1.160 has an answer


def _powers(coefficients: tuple[float, ...], w: float) -> float:
    """Sum of c_i w^i for i from 1, by Horner's rule."""
    total = 0.0
    for c in reversed(coefficients):
        total = (total + c) * w
    return total


def water(t_c: float) -> float:
    """Density of air-free water at one atmosphere, kg/m³, for 0 to 100 °C (Kell 1975)."""
    t = t_c
    numerator = 999.83952 + t * (
        16.952577 + t * (-7.9905127e-3 + t * (-46.241757e-6 + t * (105.84601e-9 + t * -281.03006e-12)))
    )
    return numerator / (1.0 + 16.887236e-3 * t)


def wort(w: float, t_c: float) -> float:
    """Density of wort of extract fraction `w` at `t_c` °C, kg/m³ (ICUMSA polynomial over Kell's water)."""
    th = (t_c - 20.0) / 100.0
    inner = _powers(_D, w) + th * _powers(_E, w)
    return water(t_c) + _powers(_A, w) + th * (_powers(_B, w) + th * (_powers(_C, w) + th * inner))


RHO_WATER_20 = water(20.0)


def sg(w: float) -> float:
    """Specific gravity 20/20 °C, in vacuum, of wort of extract fraction `w`."""
    return wort(w, 20.0) / RHO_WATER_20


def plato(w: float) -> float:
    """Degrees Plato of extract fraction `w`."""
    return 100.0 * w


def extract_from_plato(degrees: float) -> float:
    """Extract fraction of `degrees` °P."""
    return degrees / 100.0


def solve_extract(rho: float, t_c: float) -> float:
    """Extract fraction of a wort of density `rho` kg/m³ at `t_c` °C; the inverse of `wort`, by Newton's method.

    Raises ValueError where the answer lies outside -3…36 °P.
    """
    w = (rho - water(t_c)) / 400.0
    for _ in range(60):
        slope = (wort(w + 1e-6, t_c) - wort(w - 1e-6, t_c)) / 2e-6
        step = (wort(w, t_c) - rho) / slope
        w = min(max(w - step, 2 * W_LOW), 1.5 * W_HIGH)
        if abs(step) < 1e-15:
            break
    if not W_LOW <= w <= W_HIGH:
        raise ValueError(f"a density of {rho:.1f} kg/m³ at {t_c:.1f} °C is no wort between -3 and 36 °P")
    return w


@lru_cache(maxsize=256)
def extract_from_sg(gravity: float) -> float:
    """Extract fraction of specific gravity 20/20 `gravity`, 0.988 to 1.160; ValueError outside."""
    return solve_extract(gravity * RHO_WATER_20, 20.0)
