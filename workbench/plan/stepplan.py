"""One feeding as figures: its wort, how it stands in the flask, what it grows and when."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.brewing import density
from workbench.plan import bath, foaming, given, grown, recipe, settle, standing, words
from workbench.plan.model import Figure, Reason, StepPlan
from workbench.plan.sources import BUBNIK, MASS_BALANCE, MEASURED

if TYPE_CHECKING:
    from workbench.plan.boiled import Boiled
    from workbench.plan.culture import Course, Outcomes
    from workbench.plan.made import Content, Made
    from workbench.session.model import Session

__all__ = ["step_plan"]

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
    key = f"step.{index}"
    before = course.fed[index - 1] if index and fed is not None else None
    return StepPlan(
        number=asked.number,
        wort_l=_wort(session, made, f"{key}.wort"),
        gravity_w=_gravity(made),
        planned_w=asked.gravity_w,
        powder_g=recipe.powder(session, made),
        powder_g_per_l=recipe.dose(made),
        water_l=recipe.water(made),
        top_up_l=Figure(asked.top_up_l, "L", given.reason(session, f"{key}.top_up")),
        boil_off_ml=Figure(asked.boil_off_ml, "mL", given.reason(session, f"{key}.boil_off")),
        boil_time_s=Figure(asked.boil_time_s, "s", given.reason(session, f"{key}.boil_time")),
        extract_g=recipe.extract(made),
        decant=session.step[index].decant,
        motion=asked.motion,
        temperature_c=Figure(asked.temperature_c, "°C", given.reason(session, f"{key}.temperature")),
        boil_in=asked.boil_in,
        flask_l=standing.content(made, flask_l, count),
        fill_fraction=flask_l / session.flask.size_l if flask_l is not None else None,
        fill_limit_l=standing.fill_limit(session),
        headroom_ml=standing.headroom(session, flask_l),
        rise_factor=standing.rise(session, flask_l),
        level_mm=standing.level(session, flask_l),
        fill_fits=flask_l <= fill_limit_l + _FITS if flask_l is not None else None,
        hot_boil_l=standing.hot(made, hot_l),
        boiling_l=standing.hot(made, hot_l if in_flask else made.hot_l),
        boil_limit_l=standing.boil_limit(session),
        boil_fits=hot_l <= boil_limit_l + _FITS if hot_l is not None and in_flask else None,
        cells_in_b=grown.cells_in(made, fed, before, course.feedings[index].cold_days if fed is not None else 0.0),
        cells_out_b=grown.cells_out(made, fed, drawn, index),
        growth=fed.growth if fed is not None else None,
        hours=grown.hours(made, fed, settle.yeast_type(session)),
        hours_range=grown.hours_range(fed),
        hours_planned=course.planned_h[index],
        start=course.starts[index],
        end=course.ends[index],
        foam=foaming.foam_plan(session, made, content),
        bath=bath.bath_plan(session, made, content),
    )


def _gravity(made: Made) -> Figure:
    says = f"SG {density.sg(made.gravity_w):.4f} at 20/20 °C = {100 * made.gravity_w:.2f} °P, as a sucrose solution"
    if made.boiled is not None and not made.was_measured:
        says = f"{_as_boiled(made.boiled)}: {says}"
    source = MEASURED if made.was_measured else BUBNIK
    return Figure(made.gravity_w, "w", Reason(says, source, "0 to 35 °P", "the sugars of wort are not all sucrose"))


def _wort(session: Session, made: Made, key: str) -> Figure:
    if made.was_measured and made.wort_l is not None:
        says = f"{words.litres(made.wort_l)} by what was measured, less the samples not put back"
        return Figure(made.wort_l, "L", Reason(says, MEASURED, "at 20 °C"))
    if made.boiled is not None and made.wort_l is not None:
        says = f"{_as_boiled(made.boiled)}: {words.litres(made.wort_l)}"
        return Figure(
            made.wort_l, "L", Reason(says, MASS_BALANCE, "at 20 °C", "the boil-off of this stove: measure it")
        )
    return Figure(made.wort_l, "L", given.reason(session, key))


def _as_boiled(boiled: Boiled) -> str:
    lost = f", {words.millilitres(1000.0 * boiled.lost_l)} lost" if boiled.lost_l else ""
    return f"{boiled.boiled_s / 60.0:.1f} min at a boil took {boiled.boil_off_ml:.0f} mL of water{lost}"
