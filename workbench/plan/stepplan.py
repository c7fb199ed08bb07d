"""One feeding as figures: its wort, how it stands in the flask, what it grows and when."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.brewing import spread
from workbench.plan import recipe, settle, words
from workbench.plan.model import Figure, Reason, Source, StepPlan
from workbench.plan.sources import (
    ASKED,
    BARANYI,
    BUBNIK,
    GEOMETRY,
    GROWTH_STILL,
    GROWTH_STIRRED,
    GROWTH_SWIRLED,
    MASS_BALANCE,
    MEASURED,
    TRADE,
)

if TYPE_CHECKING:
    from workbench.brewing.starter import Fed
    from workbench.plan.culture import Course, Outcomes
    from workbench.plan.made import Content, Made
    from workbench.session.model import Session

__all__ = ["step_plan"]

GROWTH_SOURCE = {"stirred": GROWTH_STIRRED, "swirled": GROWTH_SWIRLED, "still": GROWTH_STILL}
_FITS = 1e-9  # litres: a volume at its limit fits


def step_plan(
    session: Session, index: int, made: Made, content: Content | None, course: Course, drawn: Outcomes
) -> StepPlan:
    """The whole StepPlan of feeding `index`."""
    asked = made.asked
    fed = course.fed[index] if index < len(course.fed) else None
    count = session.flask.flasks
    flask_l = content.volume_l / count if content is not None else None
    hot_l = made.hot_l / count if made.hot_l is not None else None
    fill_limit_l, boil_limit_l = settle.fill_limit_l(session), settle.boil_limit_l(session)
    in_flask = asked.boil_in == "flask"
    measured = MEASURED if made.was_measured else ASKED
    boil_off = f"{asked.boil_off_ml:.0f} mL in {asked.boil_time_s / 60:.0f} min"
    return StepPlan(
        number=asked.number,
        wort_l=_plain(made.wort_l, "L", measured),
        gravity_w=_gravity(made),
        planned_w=asked.gravity_w,
        powder_g=recipe.powder(session, made),
        water_l=recipe.water(made),
        top_up_l=_plain(asked.top_up_l, "L"),
        boil_off_ml=_plain(asked.boil_off_ml, "mL", says=boil_off),
        boil_time_s=_plain(asked.boil_time_s, "s"),
        extract_g=recipe.extract(made),
        decant=session.step[index].decant,
        motion=asked.motion,
        temperature_c=_plain(asked.temperature_c, "°C"),
        boil_in=asked.boil_in,
        flask_l=_content_figure(made, flask_l, count),
        fill_fraction=flask_l / session.flask.size_l if flask_l is not None else None,
        fill_limit_l=_limit(session, "fill_limit", fill_limit_l, "growing"),
        headroom_ml=_headroom(session, flask_l),
        rise_factor=_rise(session, flask_l),
        level_mm=_level(session, flask_l),
        fill_fits=flask_l <= fill_limit_l + _FITS if flask_l is not None else None,
        hot_boil_l=_hot(made, hot_l),
        boil_limit_l=_limit(session, "boil_limit", boil_limit_l, "boiling"),
        boil_fits=hot_l <= boil_limit_l + _FITS if hot_l is not None and in_flask else None,
        cells_in_b=_cells_in(fed),
        cells_out_b=_cells_out(fed, made, drawn.out_b[index] if index < len(drawn.out_b) else None),
        growth=fed.growth if fed is not None else None,
        grown_share=fed.share if fed is not None else None,
        inoculum_b_per_g=fed.inoculum if fed is not None else None,
        hours=_hours(fed, made),
        hours_range=(0.7 * fed.hours, 1.6 * fed.hours) if fed is not None and fed.hours is not None else None,
        hours_planned=course.planned_h[index],
        start=course.starts[index],
        end=course.ends[index],
    )


def _plain(value: float | None, unit: str, source: Source = ASKED, says: str = "as the session says") -> Figure:
    return Figure(value, unit, Reason(says, source))


def _gravity(made: Made) -> Figure:
    says = f"{100 * made.gravity_w:.2f} °P as a sucrose solution, SG 20/20 °C"
    return Figure(made.gravity_w, "w", Reason(says, MEASURED if made.was_measured else BUBNIK))


def _limit(session: Session, key: str, limit_l: float, doing: str) -> Figure:
    if session.is_given(f"flask.{key}"):
        return _plain(limit_l, "L")
    with_or_without = "with" if settle.foam_control(session) else "without"
    share = limit_l / session.flask.size_l
    says = f"{100 * share:.0f} % of {words.litres(session.flask.size_l)} while {doing}, {with_or_without} foam control"
    return Figure(limit_l, "L", Reason(says, TRADE))


def _content_figure(made: Made, flask_l: float | None, count: int) -> Figure:
    if flask_l is None:
        return Figure(None, "L", Reason("needs the wort's volume", MASS_BALANCE))
    before = "what a decant leaves" if made.asked.decant else "what stands there"
    says = f"{before} + {words.litres(made.wort_l or 0.0)} of wort"
    if count > 1:
        says = f"({says}) / {count} flasks"
    return Figure(flask_l, "L", Reason(f"{says} = {words.litres(flask_l)}", MASS_BALANCE, "volumes at 20 °C"))


def _headroom(session: Session, flask_l: float | None) -> Figure:
    room_ml = 1000.0 * (session.flask.size_l - flask_l) if flask_l is not None else None
    says = "the flask's size, up to the base of the neck, less what stands in it"
    return Figure(room_ml, "mL", Reason(says, TRADE))


def _rise(session: Session, flask_l: float | None) -> Figure:
    factor = None if flask_l is None else settle.flask_shape(session).rise_factor(flask_l)
    says = "the base's area over the surface's, in a cone with a neck"
    return Figure(factor, "1", Reason(says, GEOMETRY, "up to the brim", "the flask's measures, above 2 L"))


def _level(session: Session, flask_l: float | None) -> Figure:
    level = None if flask_l is None else settle.flask_shape(session).level_mm(flask_l)
    says = "from the table to the surface, cold, bottom of the flask included"
    return Figure(level, "mm", Reason(says, GEOMETRY, "up to the brim", "the flask's measures, above 2 L"))


def _hot(made: Made, hot_l: float | None) -> Figure:
    if hot_l is None or made.powder_g is None:
        return Figure(None, "L", Reason(made.trouble or "needs the wort's volume", BUBNIK))
    together = f"{words.grams(made.powder_g)} powder and {words.litres(made.water_l or 0.0)} water"
    says = f"{together} at 100 °C, before boil-off"
    return Figure(hot_l, "L", Reason(f"{says} = {words.litres(hot_l)}", BUBNIK, "0 to 100 °C"))


def _cells_in(fed: Fed | None) -> Figure:
    if fed is None:
        return Figure(None, "B", Reason("what the yeast is at this hour is not known", ASKED))
    return Figure(fed.cells_in_b, "B", Reason(f"{words.cells(fed.cells_in_b)} alive when this wort goes in", ASKED))


def _cells_out(fed: Fed | None, made: Made, drawn: list[float] | None) -> Figure:
    source = GROWTH_SOURCE[made.asked.motion]
    if fed is None or fed.out_b is None or fed.growth is None or fed.run_hours is None:
        return Figure(None, "B", Reason("no count can be given: see the warning", source))
    low, high = spread.bounds(drawn, fed.out_b) if drawn else (None, None)
    says = (
        f"{words.cells(fed.cells_in_b)} on {words.grams(fed.extract_g)} of extract (r = {fed.inoculum:.2f} B/g), "
        f"{made.asked.motion}: up to × {fed.growth:.2f}; {100 * (fed.share or 0):.0f} % of it done in "
        f"{words.hours(fed.run_hours)} = {words.cells(fed.out_b)}"
    )
    unsure = "the growth of this yeast in this flask; beyond r = 1.07 the fall is extrapolated"
    return Figure(fed.out_b, "B", Reason(says, source, "r of 0.02 to 1.07 B/g, SG 1.020 to 1.060", unsure), low, high)


def _hours(fed: Fed | None, made: Made) -> Figure:
    if fed is None or fed.hours is None or fed.growth is None:
        why = "too cold or too warm to tell" if fed is not None and fed.slow else "hardly anything to grow"
        return Figure(None, "h", Reason(why if fed is not None else "needs the yeast", BARANYI))
    says = (
        f"95 % of the growth × {fed.growth:.2f} at {made.asked.temperature_c:g} °C, {made.asked.motion}, "
        f"lag h0 = {fed.h0:.2f}: {words.hours(fed.hours)}"
    )
    return Figure(
        fed.hours, "h", Reason(says, BARANYI, "4 to 34 °C", "× 0.7 to × 1.6"), 0.7 * fed.hours, 1.6 * fed.hours
    )
