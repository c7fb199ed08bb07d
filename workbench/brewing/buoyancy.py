"""When a flask floats in its bath: Archimedes' principle for the truncated cone and neck, measured outside.

Depths are mm from the outer bottom. The bath is water at 0 °C, 999.84 kg/m³.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from workbench.brewing.roots import bisect

if TYPE_CHECKING:
    from workbench.brewing.flask import Measures, Shape

__all__ = ["float_depth_mm", "glass_g", "outside_l"]

BATH_G_PER_L = 999.84
GLASS_G_PER_ML = 2.23  # borosilicate glass 3.3: makers' data


def outside_l(depth_mm: float, measures: Measures, shape: Shape) -> float:
    """Volume of the flask, glass and all, up to a depth; up to the rim at most."""
    base_r, neck_r = measures.base / 2.0, measures.neck / 2.0
    cone_mm = shape.cone + shape.bottom
    neck_mm = min(max(0.0, depth_mm - cone_mm), max(0.0, measures.height - cone_mm))
    h = min(depth_mm, cone_mm)
    top_r = base_r + (neck_r - base_r) * h / cone_mm
    cone = math.pi * h * (base_r**2 + base_r * top_r + top_r**2) / 3.0
    return (cone + math.pi * neck_r**2 * neck_mm) / 1e6


def float_depth_mm(total_g: float, measures: Measures, shape: Shape) -> float | None:
    """The depth of water that lifts glass and content of `total_g` off the bottom; None where none does."""
    wanted_l = total_g / BATH_G_PER_L
    if outside_l(measures.height, measures, shape) < wanted_l:
        return None
    return bisect(lambda depth: outside_l(depth, measures, shape) - wanted_l, 0.0, measures.height)


def glass_g(measures: Measures, shape: Shape) -> float:
    """The glass of a flask by its measures: what it takes up outside, less what it holds to the brim."""
    neck_mm = max(0.0, measures.height - shape.bottom - shape.cone)
    holds_l = shape.size_l + math.pi * shape.neck_r**2 * neck_mm / 1e6
    return max(0.0, outside_l(measures.height, measures, shape) - holds_l) * 1000.0 * GLASS_G_PER_ML
