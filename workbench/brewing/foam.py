"""Foam control at the boil: drops by the label's rule, the silicone they bring, and how far foam climbs in a flask."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from workbench.brewing.flask import Shape

__all__ = ["MOST_SILICONE_MG_PER_L", "climb_mm", "drops", "silicone_mg"]

L_PER_US_GALLON = 3.785411784  # 231 cubic inches, by definition
MOST_SILICONE_MG_PER_L = 10.0  # 21 CFR 173.340: 10 parts per million in food; E 900: 10 mg/L


def drops(wort_l: float, per_gallon: float) -> int:
    """Whole drops for so much wort by a rule of drops per US gallon, rounded up; 0 where the rule is 0."""
    return math.ceil(per_gallon * wort_l / L_PER_US_GALLON - 1e-9)


def silicone_mg(count: float, drop_mg: float, active: float) -> float:
    """Silicone in so many drops of an emulsion of which it is the share `active`, 0 to 1."""
    return count * drop_mg * active


def climb_mm(shape: Shape, volume_l: float, foam_l: float) -> tuple[float | None, float]:
    """How far so much foam climbs on that fill, and in a straight pot on the same base; None: it leaves the flask."""
    straight = 1e6 * foam_l / (math.pi * shape.base_r**2)
    if volume_l + foam_l > shape.brim_l:
        return None, straight
    return shape.height_mm(volume_l + foam_l) - shape.height_mm(volume_l), straight
