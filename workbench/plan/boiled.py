"""What the boil really left of a wort: the minutes that were boiled, and what was lost on the way."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from workbench.brewing import wort
from workbench.plan import stopwatch

if TYPE_CHECKING:
    from workbench.plan.settle import Asked
    from workbench.session.model import Session

__all__ = ["Boiled", "really_boiled"]

_STRONGEST_W = 0.36  # boiled down further than the density of wort is known


class Boiled(NamedTuple):
    """Wort as it came off the boil, top-up included: strength, mass, minutes, and what boiled off or was lost."""

    gravity_w: float
    mass_g: float
    boiled_s: float
    boil_off_ml: float
    lost_l: float
    lost_g: float


def really_boiled(session: Session, asked: Asked, powder_g: float, water_l: float) -> Boiled | None:
    """Of powder and water as weighed in; None as long as no boil is over and nothing was lost.

    Boil-off goes with the minutes; lost wort takes its share of the extract along.
    """
    boil = stopwatch.boil_of(session, asked.number, asked.boil_time_s)
    if boil is None or (boil.done is None and not boil.lost and not boil.earlier_s):
        return None
    boiled_s = boil.all_s if boil.done is not None else boil.earlier_s or asked.boil_time_s
    lost_g = 0.0
    mass_g, extract_g = powder_g + wort.water_mass_g(water_l), session.wort.extract_fraction * powder_g

    def off_g(seconds: float) -> float:
        return wort.water_mass_g(asked.boil_off_ml / 1000.0) * seconds / asked.boil_time_s

    for lost in boil.lost:
        there_g = max(mass_g - off_g(lost.after_s), extract_g / _STRONGEST_W)
        w = extract_g / there_g
        share = min(1.0, wort.finished_mass_g(lost.volume_l, w) / there_g)
        lost_g += share * there_g
        mass_g, extract_g = mass_g - share * there_g, (1.0 - share) * extract_g
    end_g = max(mass_g - off_g(boiled_s), extract_g / _STRONGEST_W) + wort.water_mass_g(asked.top_up_l)
    boil_off_ml = asked.boil_off_ml * boiled_s / asked.boil_time_s
    lost_l = sum(lost.volume_l for lost in boil.lost)
    return Boiled(extract_g / end_g if end_g > 0.0 else 0.0, end_g, boiled_s, boil_off_ml, lost_l, lost_g)
