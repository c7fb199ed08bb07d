"""The boil and the way down from it: boiling point by altitude, heat to take out of the wort, ice for it.

Boiling point: saturation of water by IAPWS-IF97 region 4 (Wagner et al. 2000; its coefficients from memory, held to the
iapws library in the tests) at the pressure of the standard atmosphere (ISO 2533:1975, from memory). Specific heat of
sucrose solutions after Bubnik et al. 1995, valid to 30 °P and 100 °C. Heat of fusion 333.4 kJ/kg.
"""

from __future__ import annotations

import math

__all__ = ["TAP_C", "boiling_c", "heat_kj", "ice_kg", "pressure_pa", "specific_heat"]

HEAT_OF_FUSION = 333.4  # kJ/kg
GLASS_HEAT = 0.83  # kJ/kg/K, borosilicate
TOP_UP_C = 20.0  # boiled and cooled water
TAP_C = 35.0  # to which running tap water takes a flask before the ice (common practice)


def pressure_pa(altitude_m: float) -> float:
    """Pressure of the standard atmosphere, Pa, from -500 to 9,000 m."""
    return float(101_325.0 * (1.0 - 2.25577e-5 * altitude_m) ** 5.25588)


def boiling_c(altitude_m: float) -> float:
    """Where water boils, °C, from -500 to 9,000 m; wort a few tenths above."""
    beta = math.sqrt(math.sqrt(pressure_pa(altitude_m) / 1e6))
    e = beta**2 - 17.073846940092 * beta + 14.915108613530
    f = 1167.0521452767 * beta**2 + 12_020.824702470 * beta - 4823.2657361591
    g = -724_213.16703206 * beta**2 - 3_232_555.0322333 * beta + 405_113.40542057
    d = 2.0 * g / (-f - math.sqrt(f * f - 4.0 * e * g))
    s = 650.17534844798 + d
    return (s - math.sqrt(s * s - 4.0 * (-0.23855557567849 + 650.17534844798 * d))) / 2.0 - 273.15


def specific_heat(w: float, t_c: float) -> float:
    """Of wort with the extract fraction `w`, kJ/kg/K, at 0 to 100 °C."""
    return 4.184 - 2.511 * w + 0.0075 * w * t_c


def heat_kj(
    wort_g: float, w: float, from_c: float, to_c: float, *, glass_g: float = 0.0, top_up_g: float = 0.0
) -> float:
    """Heat to take out of `wort_g` of hot wort and its glass; cold water topped up takes some of it; never below 0."""
    wort = wort_g / 1000.0 * specific_heat(w, 0.5 * (from_c + to_c)) * (from_c - to_c)
    glass = glass_g / 1000.0 * GLASS_HEAT * (from_c - to_c)
    return max(0.0, wort + glass - top_up_g / 1000.0 * specific_heat(0.0, to_c) * (to_c - TOP_UP_C))


def ice_kg(heat_kj: float, bath_l: float, bath_c: float) -> float:
    """Ice that melts to take out so much heat, and to bring the water that is in the bath to 0 °C."""
    return max(0.0, heat_kj + bath_l * specific_heat(0.0, bath_c) * bath_c) / HEAT_OF_FUSION
