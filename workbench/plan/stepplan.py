"""One feeding as figures: its wort, how it stands in the flask, what it grows and when."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.plan import grown, recipe, settle, standing
from workbench.plan.model import Figure, Reason, StepPlan
from workbench.plan.sources import ASKED, BUBNIK, MEASURED, USUAL

if TYPE_CHECKING:
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
    drawn_b = drawn.out_b[index] if index < len(drawn.out_b) else None
    before = course.fed[index - 1] if index and fed is not None else None
    return StepPlan(
        number=asked.number,
        wort_l=_wort(session, made),
        gravity_w=_gravity(made),
        planned_w=asked.gravity_w,
        powder_g=recipe.powder(session, made),
        powder_g_per_l=recipe.dose(made),
        water_l=recipe.water(made),
        top_up_l=_set(session, asked.top_up_l, "L", f"{key}.top_up"),
        boil_off_ml=_boil_off(session, made),
        boil_time_s=_set(session, asked.boil_time_s, "s", f"{key}.boil_time", "wort.boil_time"),
        extract_g=recipe.extract(made),
        decant=session.step[index].decant,
        motion=asked.motion,
        temperature_c=_set(session, asked.temperature_c, "°C", f"{key}.temperature", "wort.temperature"),
        boil_in=asked.boil_in,
        flask_l=standing.content(made, flask_l, count),
        fill_fraction=flask_l / session.flask.size_l if flask_l is not None else None,
        fill_limit_l=standing.limit(session, "fill_limit", fill_limit_l, "growing"),
        headroom_ml=standing.headroom(session, flask_l),
        rise_factor=standing.rise(session, flask_l),
        level_mm=standing.level(session, flask_l),
        fill_fits=flask_l <= fill_limit_l + _FITS if flask_l is not None else None,
        hot_boil_l=standing.hot(made, hot_l),
        boiling_l=standing.hot(made, hot_l if in_flask else made.hot_l),
        boil_limit_l=standing.limit(session, "boil_limit", boil_limit_l, "boiling"),
        boil_fits=hot_l <= boil_limit_l + _FITS if hot_l is not None and in_flask else None,
        cells_in_b=grown.cells_in(made, fed, before, course.feedings[index].cold_days if fed is not None else 0.0),
        cells_out_b=grown.cells_out(made, fed, drawn_b),
        growth=fed.growth if fed is not None else None,
        hours=grown.hours(made, fed),
        hours_range=grown.hours_range(fed),
        hours_planned=course.planned_h[index],
        start=course.starts[index],
        end=course.ends[index],
    )


def _set(session: Session, value: float | None, unit: str, *keys: str) -> Figure:
    """A value that the session sets: under the first of `keys` that is given, else as usual."""
    given = next((key for key in keys if session.is_given(key)), None)
    says = "left out: the usual" if given is None else "as typed" if given == keys[0] else f"as {given} says"
    return Figure(value, unit, Reason(says, USUAL if given is None else ASKED))


def _gravity(made: Made) -> Figure:
    says = f"{100 * made.gravity_w:.2f} °P as a sucrose solution, SG 20/20 °C"
    return Figure(made.gravity_w, "w", Reason(says, MEASURED if made.was_measured else BUBNIK))


def _wort(session: Session, made: Made) -> Figure:
    if made.was_measured:
        return Figure(made.wort_l, "L", Reason("as measured, less the samples not put back", MEASURED))
    return _set(session, made.wort_l, "L", f"step.{made.asked.number - 1}.wort")


def _boil_off(session: Session, made: Made) -> Figure:
    asked, key = made.asked, f"step.{made.asked.number - 1}.boil_off"
    habit = "wort.boil_off" if asked.boil_in == "flask" else "wort.boil_off_pot"
    figure = _set(session, asked.boil_off_ml, "mL", key, habit)
    says = f"{asked.boil_off_ml:.0f} mL in {asked.boil_time_s / 60:.0f} min, {figure.why.says}"
    return figure._replace(why=figure.why._replace(says=says))
