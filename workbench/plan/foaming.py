"""Foam and what holds it down, as figures: drops for each boil, silicone in flask and beer, how far foam climbs."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from workbench.brewing import foam
from workbench.plan import settle, words
from workbench.plan.model import Figure, FoamPlan, Reason, Warning
from workbench.plan.sources import DROPS, GEOMETRY, MASS_BALANCE, MISSING, SILICONE

if TYPE_CHECKING:
    from collections.abc import Iterator

    from workbench.plan.made import Content, Made
    from workbench.plan.model import Final, StepPlan
    from workbench.session.model import Session

__all__ = ["beer_silicone", "foam_plan", "foam_warnings"]

_FOAM_L = 0.1  # the foam that is told of
_STEEP = 3.0  # from this many times as far as in a straight pot it is worth a word
_UNSURE = "the size of a drop and the strength of the emulsion: see its label"


def foam_plan(session: Session, made: Made, content: Content | None) -> FoamPlan:
    """Drops for one boil, silicone in the flask once it is in, and how far the next foam climbs at the boil."""
    climb, straight = _climb(session, made)
    return FoamPlan(_drops(session, made), _in_flask(content), climb, straight)


def _drops(session: Session, made: Made) -> Figure:
    asked, rule = session.foam, "a brewer's number for each boil"
    if made.asked.wort_l is None:
        return Figure(None, "1", Reason("needs the wort's volume", MISSING))
    count = settle.drops(session, made.asked.wort_l)
    if asked.drops is None:
        wort = words.litres(made.asked.wort_l)
        rule = f"{asked.drops_per_gallon:g} a US gallon × {wort} / {foam.L_PER_US_GALLON:.3f} L, rounded up = {count}"
    if not count:
        rule = "no foam control: the limits of the flask are lower for it"
    return Figure(float(count), "1", Reason(rule, DROPS, "by its label", "the label of your own comes first"))


def _in_flask(content: Content | None) -> Figure:
    there = math.nan if content is None or not content.volume_l else content.silicone_mg / content.volume_l
    if content is None or not math.isfinite(there):
        return Figure(None, "mg/L", Reason("needs the wort's volume", MISSING))
    says = f"{content.silicone_mg:.1f} mg so far / {words.litres(content.volume_l)} = {there:.1f} mg/L in the flask"
    return Figure(there, "mg/L", Reason(says, MASS_BALANCE, "only the beer is judged by the limit", _UNSURE))


def _climb(session: Session, made: Made) -> tuple[Figure, Figure]:
    if made.hot_l is None or made.asked.boil_in != "flask":
        none = Figure(None, "mm", Reason("told for a boil in the flask whose volume is known", MISSING))
        return none, none
    shape, hot_l = settle.flask_shape(session), made.hot_l / session.flask.flasks
    climb, straight = foam.climb_mm(shape, hot_l, _FOAM_L)
    where = f"{words.millilitres(1000.0 * _FOAM_L)} of foam on {words.litres(hot_l)} of boiling wort"
    says = f"{where} climb {climb:.0f} mm" if climb is not None else f"{where} go over the rim"
    why = Reason(f"{says}, {straight:.0f} mm in a straight pot on the same base", GEOMETRY, "up to the brim")
    return Figure(climb, "mm", why), Figure(straight, "mm", why)


def beer_silicone(session: Session, content: Content | None, poured: Figure, *, decanted: bool) -> Figure:
    """Silicone in the beer as pitched, mg/L; decanted, what the yeast still stands in goes along."""
    beer_l = session.beer.volume_l if session.beer is not None else None
    if not session.step and beer_l is not None:
        return Figure(0.0, "mg/L", Reason("0 feedings: no drops go in", SILICONE, "with no feeding"))
    if content is None or beer_l is None or poured.value is None or content.volume_l <= 0.0:
        return Figure(None, "mg/L", Reason("needs the volumes of beer and starter", MISSING))
    goes_in_l = min(settle.left_after_decant_l(session), poured.value) if decanted else poured.value
    silicone_mg = content.silicone_mg * (goes_in_l / content.volume_l)
    there = silicone_mg / (beer_l + goes_in_l)
    says = f"{silicone_mg:.2f} mg of silicone / {words.litres(beer_l + goes_in_l)} = {there:.2f} mg/L"
    valid = f"up to {foam.MOST_SILICONE_MG_PER_L:.0f} mg/L in food"
    return Figure(there if math.isfinite(there) else None, "mg/L", Reason(says, SILICONE, valid, _UNSURE))


def foam_warnings(steps: tuple[StepPlan, ...], final: Final) -> Iterator[Warning]:
    """Foam that climbs fast, and more silicone than food may hold."""
    for step in steps:
        climb, straight = step.foam.climb_mm.value, step.foam.straight_mm.value
        if straight is not None and (climb is None or climb >= _STEEP * straight):
            how = "go over the rim" if climb is None else f"climb {climb:.0f} mm here"
            text = f"the next 100 mL of foam {how}, {straight:.0f} mm in a straight pot: stay and watch it"
            yield Warning("foam-climbs", "note", text, f"step.{step.number - 1}.foam")
    there, most = final.silicone_mg_per_l.value, foam.MOST_SILICONE_MG_PER_L
    if there is not None and there > most:
        fewer = int(most / there * sum(step.foam.drops.value or 0.0 for step in steps))
        stay = f"{fewer} drop{'' if fewer == 1 else 's'} in all stay{'s' if fewer == 1 else ''} below"
        text = f"{there:.1f} mg/L of silicone in the beer, over {most:.0f}: {stay}"
        yield Warning("much-silicone", "caution", text, "final.silicone")
