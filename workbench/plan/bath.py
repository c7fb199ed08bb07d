"""The ice bath of one flask, as figures: where it boils, heat to take out, ice for it, how deep before it floats."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.brewing import buoyancy, density, heat, wort
from workbench.plan import settle, words
from workbench.plan.model import BathPlan, Figure, Reason
from workbench.plan.sources import ARCHIMEDES, BOILING, CALORIMETRY, MISSING

if TYPE_CHECKING:
    from workbench.plan.made import Content, Made
    from workbench.session.model import Session

__all__ = ["bath_plan"]

_BELOW_FLOAT_MM = 15.0  # so far below the float line the bath is filled at most (recommended)
_NO_WORT = Reason("needs the wort's volume", MISSING)
_OVER_BRIM = Reason("more than goes in up to the brim", ARCHIMEDES)
_IN_A_POT = Reason("boiled and cooled in a pot: no flask stands in the bath", CALORIMETRY)
_NOT_HOT = Reason("no heat to take out: no bath is asked for", CALORIMETRY)


def bath_plan(session: Session, made: Made, content: Content | None) -> BathPlan:
    """For one of the flasks, its share of this feeding's wort boiled and to be cooled."""
    heat_kj = _heat(session, made, heat.boiling_c(session.place.altitude_m))
    fill_mm, lifts_mm = _fill(session, made, heat_kj)
    return BathPlan(
        boil_c=_boil(session),
        heat_kj=heat_kj,
        ice_kg=_ice(session, heat_kj, "all of it by ice"),
        after_tap_kg=_ice(session, _heat(session, made, heat.TAP_C), f"what is left at {heat.TAP_C:.0f} °C"),
        float_mm=_float(session, content),
        fill_mm=fill_mm,
        lifts_mm=lifts_mm,
    )


def _boil(session: Session) -> Figure:
    altitude_m = session.place.altitude_m
    boil_c, hpa = heat.boiling_c(altitude_m), heat.pressure_pa(altitude_m) / 100.0
    says = f"water at {altitude_m:.0f} m, {hpa:.0f} hPa: {boil_c:.2f} °C"
    return Figure(boil_c, "°C", Reason(says, BOILING, "-500 to 9,000 m", "the weather: ± 1 °C; wort some tenths above"))


def _heat(session: Session, made: Made, from_c: float) -> Figure:
    """From a temperature down to that of growth, one flask's share; nothing where it is as cool already."""
    asked = made.asked
    if made.mass_g is None or made.trouble:
        return Figure(None, "kJ", _NO_WORT)
    glass_g = settle.glass_g(session) if asked.boil_in == "flask" else 0.0
    (hot_g, hot_w), to_c = _boiled(session, made), asked.temperature_c
    cold_g = wort.water_mass_g(asked.top_up_l) / session.flask.flasks
    found = heat.heat_kj(hot_g, hot_w, max(from_c, to_c), to_c, glass_g=glass_g, top_up_g=cold_g)
    with_glass = f" and {words.grams(glass_g)} of glass" if glass_g else ""
    less = f", less what {words.grams(cold_g)} of cold top-up take" if cold_g else ""
    says = f"{words.grams(hot_g)} of wort{with_glass} from {from_c:.0f} to {to_c:g} °C{less}: {found:.0f} kJ"
    return Figure(found, "kJ", Reason(says, CALORIMETRY, "0 to 100 °C, 0 to 30 °P", "warmth from the room"))


def _ice(session: Session, heat_kj: Figure, what: str) -> Figure:
    if heat_kj.value is None:
        return Figure(None, "kg", _NO_WORT)
    bath = session.bath
    ice_kg = heat.ice_kg(heat_kj.value, bath.water_l, bath.temperature_c)
    water = f" and {words.litres(bath.water_l)} of water at {bath.temperature_c:g} °C to 0 °C" if bath.water_l else ""
    says = f"{what}: ({heat_kj.value:.0f} kJ{water}) / {heat.HEAT_OF_FUSION} kJ/kg = {ice_kg:.2f} kg"
    return Figure(ice_kg, "kg", Reason(says, CALORIMETRY, "ice at 0 °C, all of it melted", "more melts in the air"))


def _boiled(session: Session, made: Made) -> tuple[float, float]:
    """Grams and extract fraction of one flask's share as it comes off the boil, before it is topped up.

    What was measured may be less than what is topped up, or leave next to no water: then as strong as wort can be.
    """
    hot_g = max(0.0, (made.mass_g or 0.0) - wort.water_mass_g(made.asked.top_up_l))
    w = (made.extract_g or 0.0) / hot_g if hot_g > 0.0 else 0.0
    return hot_g / session.flask.flasks, min(w, density.W_HIGH)


def _float(session: Session, content: Content | None) -> Figure:
    """The float line of all that stands in one flask once the wort is in."""
    if content is None:
        return Figure(None, "mm", _NO_WORT)
    count = session.flask.flasks
    if content.volume_l / count > settle.flask_shape(session).brim_l:
        return Figure(None, "mm", _OVER_BRIM)
    depth, why = _lifting(session, content.mass_g / count, "")
    return Figure(depth, "mm", why)


def _fill(session: Session, made: Made, heat_kj: Figure) -> tuple[Figure, float | None]:
    """How deep the bath is to be at most, and the depth that lifts the flask as it cools; None: none does.

    By then only this feeding's boiled wort is in it: what a flask holds besides goes in later, or stood there cold, and
    may not be counted on to weigh it down. `low`: up to the wort's surface, where that is not deeper.
    """
    shape, (hot_g, hot_w) = settle.flask_shape(session), _boiled(session, made)
    level = shape.level_mm(hot_g / density.wort(hot_w, 20.0))
    if heat_kj.value is None:
        return Figure(None, "mm", heat_kj.why), None
    if made.asked.boil_in == "pot" or heat_kj.value == 0.0 or level is None:
        why = _IN_A_POT if made.asked.boil_in == "pot" else _OVER_BRIM if level is None else _NOT_HOT
        return Figure(None, "mm", why), None
    lifts_mm, why = _lifting(session, hot_g, " of this wort alone, as it cools,")
    if lifts_mm is None:
        deep = shape.bottom + shape.cone
        says = f"up to the wort at {level:.0f} mm, no deeper than the neck at {deep:.0f} mm"
    else:
        deep = max(0.0, lifts_mm - _BELOW_FLOAT_MM)
        says = f"fill it to {_BELOW_FLOAT_MM:.0f} mm less at most; wort up to {level:.0f} mm"
    why = why._replace(says=f"{why.says}; {says}", valid="over the table")
    return Figure(deep, "mm", why, low=min(level, deep), high=deep), lifts_mm


def _lifting(session: Session, inside_g: float, what: str) -> tuple[float | None, Reason]:
    """The depth of water that lifts one flask with so much in it, and why; None: none does."""
    glass_g = settle.glass_g(session)
    depth = buoyancy.float_depth_mm(glass_g + inside_g, settle.flask_measures(session), settle.flask_shape(session))
    lifts = "it does not float, no depth of water lifts it" if depth is None else f"{depth:.0f} mm of water lift it"
    says = f"{words.grams(inside_g)}{what} and {words.grams(glass_g)} of glass: {lifts}"
    unsure = "" if session.flask.glass_g is not None else "the glass, reckoned: weigh the empty flask"
    return depth, Reason(says, ARCHIMEDES, "water at 0 °C, no ice under it", unsure)
