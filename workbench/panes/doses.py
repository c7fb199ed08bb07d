"""Pane 4, Doses: what goes into the feeding considered, what mends it, how it is cooled, and what it all comes to."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.panes.empty import leads
from workbench.panes.figures import figure, shown, value
from workbench.panes.rows import Rows

if TYPE_CHECKING:
    from workbench.panes.rows import Row, Scene
    from workbench.plan.model import BathPlan, Fix, FixPlan, StepPlan

__all__ = ["rows"]

_AT_MOST = [("at most", "dim")]
_SURE_L = 2.0  # up to this size a typical flask's measures can be trusted
_FIXES = {"powder": "add powder", "water": "add water", "boil": "boil on"}


def rows(scene: Scene, cells: int) -> list[Row]:
    """All rows of the pane, for a width."""
    pane = Rows(scene, cells)
    steps = scene.plan.steps
    if steps:
        step = steps[min(scene.step, len(steps) - 1)]
        _step(pane, step)
        _mend(pane, step)
        _cool(pane, step)
    else:
        pane.say(f"Nothing to weigh yet. {leads(scene)}")
    pane.blank()
    _limits(pane)
    pane.blank()
    _all_together(pane)
    pane.blank()
    _measures(pane)
    return pane.rows


def _step(pane: Rows, step: StepPlan) -> None:
    """Powder, water and drops of one feeding, and how its foam climbs."""
    scene, key = pane.scene, f"dose.{step.number}"
    wort, count = shown(step.wort_l.value, "L", scene), len(scene.plan.steps)
    which = f"{step.number} of {count} {scene.key('step-back', 'step-on')}" if count > 1 else f"{step.number}"
    pane.say(f"feeding {which}: {wort}", "text")
    pane.add(figure("powder", step.powder_g, scene, id=f"{key}.powder"), note=[(_rate(scene, step), "dim")])
    pane.add(figure("water", step.water_l, scene, id=f"{key}.water"), note=[(_top_up(scene, step), "dim")])
    pane.add(figure("extract", step.extract_g, scene, id=f"{key}.extract"), note=[("in the wort", "dim")])
    drops = value("drops", "foam.drops", step.foam.drops.value, "1", scene, step.foam.drops)
    pane.add(drops, note=[("in cold", "dim")])
    straight = step.foam.straight_mm
    if straight.value is not None:
        pot = f"pot: {shown(straight.value, 'mm', scene)}"
        climb = figure("foam", step.foam.climb_mm, scene, id=f"{key}.foam")
        pane.add(climb, note=[(pot, "dim")], keys=(f"step.{step.number - 1}.foam",))


def _rate(scene: Scene, step: StepPlan) -> str:
    """The same dose to the litre, or the quart, of finished wort."""
    dose = step.powder_g_per_l.value
    return "" if dose is None else str(shown(dose, "g/L", scene))


def _top_up(scene: Scene, step: StepPlan) -> str:
    return f"{shown(step.top_up_l.value, 'L', scene)} on top" if step.top_up_l.value else ""


def _mend(pane: Rows, step: StepPlan) -> None:
    """What to do about a gravity that was measured and is not the one planned, until the yeast is in."""
    plan = next((fix for fix in pane.scene.plan.fixes if fix.step == step.number), None)
    if plan is None or not plan.fixes:
        return
    pane.blank()
    wanted = shown(plan.target_w, "w", pane.scene)
    pane.say(f"measured; to make it {wanted}, one of:", "text")
    for fix in plan.fixes:
        _fix(pane, plan, fix)
    volume = figure("volume", plan.volume_l, pane.scene, id=f"fix.{plan.place}.volume")
    pane.add(volume, note=[("it is now", "dim")], keys=(f"reading.{plan.place}.value",))
    if plan.harmless:
        pane.say(f"{pane.scene.glyphs.fine} or leave it: 1.020 to 1.050 does the yeast no harm", "fine")


def _fix(pane: Rows, plan: FixPlan, fix: Fix) -> None:
    scene = pane.scene
    then = f"{scene.glyphs.arrow} {shown(fix.wort_l, 'L', scene)}"
    row = figure(_FIXES[fix.what], fix.amount, scene, id=f"fix.{plan.place}.{fix.what}")
    too_full = fix.fits is False
    pane.add(row, note=[(f"{then}, too full" if too_full else then, "warning" if too_full else "dim")])


def _cool(pane: Rows, step: StepPlan) -> None:
    """From the boil down: heat and ice for one flask, and how deep its bath may be."""
    scene, key, bath = pane.scene, f"bath.{step.number}", step.bath
    pane.blank()
    grows, hot = shown(step.temperature_c.value, "°C", scene), bath.heat_kj.value != 0.0
    one = " one flask" if scene.plan.session.flask.flasks > 1 else ""
    one += "'s share" if one and step.boil_in == "pot" else ""
    pane.say(f"cooling{one} to {grows}" if hot else f"nothing to cool: it grows at {grows}", "text")
    pane.add(figure("boils at", bath.boil_c, scene, id=f"{key}.boil"))
    pane.add(value("altitude", "place.altitude", scene.plan.session.place.altitude_m, "m", scene))
    if hot:
        _ice(pane, bath, key)


def _ice(pane: Rows, bath: BathPlan, key: str) -> None:
    scene = pane.scene
    pane.add(figure("heat", bath.heat_kj, scene, id=f"{key}.heat"), note=[("to take out", "dim")])
    pane.add(figure("ice", bath.ice_kg, scene, id=f"{key}.ice"))
    pane.add(figure("or", bath.after_tap_kg, scene, id=f"{key}.tap"), note=[("tap first", "dim")])
    water, degrees = scene.plan.session.bath.water_l, scene.plan.session.bath.temperature_c
    pane.add(value("bath has", "bath.water", water, "L", scene), note=[("water in it", "dim")])
    pane.add(value("that is", "bath.temperature", degrees, "°C", scene))
    rate = scene.plan.session.bath.rate_per_min
    if rate is not None:
        pane.add(value("cools at", "bath.rate", rate, "/min", scene), note=[("as learnt", "dim")])
    if bath.fill_mm.value is not None:
        floats = "it never floats" if bath.lifts_mm is None else f"floats: {shown(bath.lifts_mm, 'mm', scene)}"
        pane.add(figure("bath to", bath.fill_mm, scene, id=f"{key}.fill"), note=[(floats, "dim")])


def _all_together(pane: Rows) -> None:
    """What all feedings come to: silicone in the beer, nutrient, powder left, money."""
    scene, plan = pane.scene, pane.scene.plan
    session, supplies = plan.session, plan.supplies
    silicone = plan.final.silicone_mg_per_l
    pane.say("all feedings together", "text")
    if silicone.value is not None:
        row = figure("silicone", silicone, scene, id="final.silicone")
        pane.add(row, note=[("at most 10", "dim")], keys=("final.silicone",))
    rate = session.supplies.nutrient_g_per_l
    nutrient = value("nutrient", "supplies.nutrient", rate, "1", scene, supplies.nutrient_g)
    grams = "g/L on label" if rate is None else f"g/L: {shown(supplies.nutrient_g.value, 'g', scene)}"
    pane.add(nutrient, note=[(grams, "dim")])
    on_hand = value("on hand", "supplies.powder", session.supplies.powder_g, "g", scene)
    pane.add(on_hand, note=[("powder", "dim")])
    if supplies.left_g.value is not None:
        short = supplies.left_g.value < 0.0
        left = figure("left", supplies.left_g, scene, id="supplies.left")
        pane.add(left, note=[("it does not reach", "warning") if short else ("after this", "dim")])
    if supplies.cost.value is not None:
        pane.add(figure("costs", supplies.cost, scene, id="supplies.cost"), note=[("your money", "dim")])
    if supplies.instead.value is not None:
        pane.add(figure("or packs", supplies.instead, scene, id="supplies.instead"), note=[("no starter", "dim")])


def _measures(pane: Rows) -> None:
    """The flask, as sold and as measured: what is left out is that of a typical one."""
    scene, plan = pane.scene, pane.scene.plan
    own, m = plan.session.flask, plan.measures
    pane.say("the flask as it measures", "text")
    pane.add(value("flask", "flask.size", own.size_l, "L", scene))
    for label, amount in (("base", m.base), ("height", m.height), ("neck", m.neck), ("wall", m.wall)):
        _measure(pane, label, amount, "mm", "")
    weigh = own.size_l > _SURE_L and own.brim_l is None
    brim = [("unsure: weigh it full", "accent") if weigh else ("to the rim", "dim")]
    pane.add(value("brim", "flask.brim", plan.flask.brim_l, "L", scene), note=brim)
    _measure(pane, "glass", m.glass_g, "g", "when empty")


def _measure(pane: Rows, label: str, amount: float | None, unit: str, own: str) -> None:
    """One measure of the flask: `own` is what is said of it where it was taken, not typical."""
    key = f"flask.{label}"
    note = own if pane.scene.plan.session.is_given(key) else "typical"
    pane.add(value(label, key, amount, unit, pane.scene), note=[(note, "dim")])


def _limits(pane: Rows) -> None:
    """How many flasks there are and what may stand in one; foam control raises both limits."""
    scene, plan = pane.scene, pane.scene.plan
    flask, foam = plan.session.flask, plan.session.foam
    pane.say("limits and foam control", "text")
    pane.add(value("flasks", "flask.count", float(flask.flasks), "1", scene), note=[("of one size", "dim")])
    pane.add(
        value("growing", "flask.fill_limit", plan.fill_limit_l.value, "L", scene, plan.fill_limit_l), note=_AT_MOST
    )
    pane.add(
        value("boiling", "flask.boil_limit", plan.boil_limit_l.value, "L", scene, plan.boil_limit_l), note=_AT_MOST
    )
    pane.add(value("rule", "foam.drops_per_gallon", foam.drops_per_gallon, "1", scene), note=[("per US gallon", "dim")])
    pane.add(value("a drop", "foam.drop", foam.drop_mg / 1000.0, "g", scene), note=[("weighs", "dim")])
    pane.add(value("active", "foam.active", foam.active, "1", scene), note=[("is silicone", "dim")])
