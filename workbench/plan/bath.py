"""The ice bath of one flask, as figures: where it boils, heat to take out, ice for it, how deep before it floats."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.brewing import buoyancy, heat, wort
from workbench.plan import settle, words
from workbench.plan.model import BathPlan, Figure, Reason
from workbench.plan.sources import ARCHIMEDES, BOILING, CALORIMETRY, MISSING

if TYPE_CHECKING:
    from workbench.plan.made import Content, Made
    from workbench.session.model import Session

__all__ = ["bath_plan"]

_BELOW_FLOAT_MM = 15.0  # so far below the float line the bath is filled at most (recommended)
_NO_WORT = Reason("needs the wort's volume", MISSING)


def bath_plan(session: Session, made: Made, content: Content | None) -> BathPlan:
    """For one of the flasks, its share of this feeding's wort boiled and to be cooled."""
    boil_c = _boil(session)
    heat_kj = _heat(session, made, boil_c.value or 100.0)
    floats = _float(session, content)
    return BathPlan(
        boil_c=boil_c,
        heat_kj=heat_kj,
        ice_kg=_ice(session, heat_kj, "all of it by ice"),
        after_tap_kg=_ice(session, _heat(session, made, heat.TAP_C), f"what is left at {heat.TAP_C:.0f} °C"),
        float_mm=floats,
        fill_mm=_fill(session, content, floats),
    )


def _boil(session: Session) -> Figure:
    altitude_m = session.place.altitude_m
    boil_c, hpa = heat.boiling_c(altitude_m), heat.pressure_pa(altitude_m) / 100.0
    says = f"water at {altitude_m:.0f} m, {hpa:.0f} hPa: {boil_c:.2f} °C"
    return Figure(boil_c, "°C", Reason(says, BOILING, "-500 to 9,000 m", "the weather: ± 1 °C; wort some tenths above"))


def _heat(session: Session, made: Made, from_c: float) -> Figure:
    """From a temperature down to that of growth, one flask's share; nothing where it is as cool already."""
    asked, count = made.asked, session.flask.flasks
    if made.mass_g is None or made.trouble:
        return Figure(None, "kJ", _NO_WORT)
    top_up_g = wort.water_mass_g(asked.top_up_l)
    glass_g = settle.glass_g(session) if asked.boil_in == "flask" else 0.0
    hot_g, to_c = (made.mass_g - top_up_g) / count, asked.temperature_c
    cold_g = top_up_g / count
    hot_w = (made.extract_g or 0.0) / count / hot_g if hot_g > 0.0 else 0.0  # before it is topped up
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


def _float(session: Session, content: Content | None) -> Figure:
    if content is None:
        return Figure(None, "mm", _NO_WORT)
    measures, shape = settle.flask_measures(session), settle.flask_shape(session)
    glass_g, inside_g = settle.glass_g(session), content.mass_g / session.flask.flasks
    depth = None
    if content.volume_l / session.flask.flasks <= shape.brim_l:
        depth = buoyancy.float_depth_mm(glass_g + inside_g, measures, shape)
    weighs = f"{words.grams(inside_g)} and {words.grams(glass_g)} of glass"
    lifts = "no depth of water lifts it" if depth is None else f"{depth:.0f} mm of water lift it"
    unsure = "" if session.flask.glass_g is not None else "the glass, reckoned: weigh the empty flask"
    return Figure(depth, "mm", Reason(f"{weighs}: {lifts}", ARCHIMEDES, "water at 0 °C, no ice under it", unsure))


def _fill(session: Session, content: Content | None, floats: Figure) -> Figure:
    """How deep the bath is to be at most; `low`: up to the wort's surface, where that is not deeper."""
    shape = settle.flask_shape(session)
    level = None if content is None else shape.level_mm(content.volume_l / session.flask.flasks)
    if content is None or level is None:
        return Figure(None, "mm", _NO_WORT)
    if floats.value is None:
        deep = shape.bottom + shape.cone
        says = f"it does not float: up to the wort at {level:.0f} mm, no deeper than the neck at {deep:.0f} mm"
    else:
        deep = max(0.0, floats.value - _BELOW_FLOAT_MM)
        says = f"wort up to {level:.0f} mm, {_BELOW_FLOAT_MM:.0f} mm below the float line at {floats.value:.0f} mm"
    return Figure(deep, "mm", Reason(says, ARCHIMEDES, "over the table"), low=min(level, deep), high=deep)
