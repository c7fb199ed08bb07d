"""A conical flask as a truncated cone with a neck: levels, room, how fast foam climbs.

Lengths are mm, volumes L, both inside unless said otherwise. The cone holds the nominal size up to the base of the neck
(the capacity rule of ISO 24450). Typical sizes are read from secondary tables of narrow-neck flasks and are
uncertain above 2 L: own measures come first.
"""

from __future__ import annotations

import math
from typing import NamedTuple

__all__ = ["TYPICAL", "Measures", "Shape", "shape", "typical_measures"]


class Measures(NamedTuple):
    """Outer measures of a flask, mm; `brim_l` where the water to the rim was weighed; `estimated` from another size.

    `glass_g`: what it weighs empty, where that has been weighed or reckoned.
    """

    base: float
    height: float
    neck: float
    wall: float
    bottom: float
    brim_l: float | None = None
    estimated: bool = False
    glass_g: float | None = None


TYPICAL: dict[float, Measures] = {
    0.5: Measures(105.0, 180.0, 34.0, 1.6, 2.0),
    1.0: Measures(131.0, 220.0, 42.0, 1.8, 2.5),
    2.0: Measures(166.0, 280.0, 50.0, 2.0, 3.0),
    3.0: Measures(187.0, 310.0, 52.0, 2.2, 3.0),
    5.0: Measures(220.0, 365.0, 52.0, 2.5, 3.5),
}


def typical_measures(size_l: float) -> Measures:
    """Measures of a typical flask; off the table those of the nearest size, scaled by the cube root of the ratio.

    Meant for 0.25 to 6 L.
    """
    if size_l in TYPICAL:
        return TYPICAL[size_l]
    nearest = min(TYPICAL, key=lambda nominal: abs(math.log(size_l / nominal)))
    scale, m = (size_l / nearest) ** (1.0 / 3.0), TYPICAL[nearest]
    return Measures(m.base * scale, m.height * scale, m.neck * scale, m.wall * scale, m.bottom * scale, estimated=True)


class Shape(NamedTuple):
    """The inside of one flask: a cone of `size_l` on a base of radius `base_r`, then a neck of radius `neck_r`."""

    size_l: float
    base_r: float
    neck_r: float
    bottom: float
    cone: float
    brim_l: float
    apex_l: float  # volume of the full cone; infinite for a cylinder

    def height_mm(self, volume_l: float) -> float:
        """Height of the surface over the inner bottom."""
        if volume_l > self.size_l:
            return self.cone + 1e6 * (volume_l - self.size_l) / (math.pi * self.neck_r**2)
        if math.isinf(self.apex_l):
            return 1e6 * volume_l / (math.pi * self.base_r**2)
        apex_mm = self.base_r * self.cone / (self.base_r - self.neck_r)
        return apex_mm * (1.0 - math.cbrt(1.0 - volume_l / self.apex_l))

    def level_mm(self, volume_l: float) -> float | None:
        """From the table to the surface outside, bottom included; None above the brim."""
        return None if volume_l > self.brim_l else self.bottom + self.height_mm(volume_l)

    def radius_mm(self, height_mm: float) -> float:
        """Inner radius at a height over the inner bottom."""
        if height_mm >= self.cone:
            return self.neck_r
        return self.base_r - (self.base_r - self.neck_r) * height_mm / self.cone

    def rise_factor(self, volume_l: float) -> float | None:
        """How much faster foam climbs at this fill than in a straight pot on the same base; None above the brim."""
        if volume_l > self.brim_l:
            return None
        return (self.base_r / self.radius_mm(self.height_mm(volume_l))) ** 2


def shape(size_l: float, measures: Measures) -> Shape:
    """The inside, from outer measures and the size."""
    base_r, neck_r = (max(1.0, across / 2.0 - measures.wall) for across in (measures.base, measures.neck))
    volume_mm3 = 1e6 * size_l
    if base_r - neck_r < 1.0:  # hardly any taper: a cylinder
        neck_r, cone, apex_l = base_r, volume_mm3 / (math.pi * base_r**2), math.inf
    else:
        cone = 3.0 * volume_mm3 / (math.pi * (base_r**2 + base_r * neck_r + neck_r**2))
        apex_l = math.pi * base_r**2 * (base_r * cone / (base_r - neck_r)) / 3e6
    brim_l = measures.brim_l
    if brim_l is None:
        neck_mm = max(0.0, measures.height - measures.bottom - cone)
        brim_l = size_l + math.pi * neck_r**2 * neck_mm / 1e6
    return Shape(size_l, base_r, neck_r, measures.bottom, cone, brim_l, apex_l)
