"""How a feeding stands in the flask, as figures: content, room, level, limits, and the hot wort at the boil."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.plan import given, settle, words
from workbench.plan.model import Figure, Reason
from workbench.plan.sources import BUBNIK, GEOMETRY, MASS_BALANCE

if TYPE_CHECKING:
    from workbench.plan.made import Made
    from workbench.session.model import Session

__all__ = ["boil_limit", "content", "fill_limit", "headroom", "hot", "level", "rise"]


def fill_limit(session: Session) -> Figure:
    """The most that may stand in one flask while growing."""
    return Figure(settle.fill_limit_l(session), "L", given.reason(session, "flask.fill_limit"))


def boil_limit(session: Session) -> Figure:
    """The most that may stand in one flask while boiling."""
    return Figure(settle.boil_limit_l(session), "L", given.reason(session, "flask.boil_limit"))


def content(made: Made, flask_l: float | None, count: int) -> Figure:
    """What stands in one flask once this wort is in."""
    if flask_l is None or made.wort_l is None:
        return Figure(None, "L", Reason("needs the wort's volume", MASS_BALANCE))
    before_l = flask_l * count - made.wort_l
    says = f"{words.litres(made.wort_l)} of wort"
    if before_l > 1e-9:
        before = "left by the decant" if made.asked.decant else "there before"
        says = f"{words.litres(before_l)} {before} + {says} = {words.litres(before_l + made.wort_l)}"
    if count > 1:
        says += f"; in {count} flasks {words.litres(flask_l)} each"
    return Figure(flask_l, "L", Reason(says, MASS_BALANCE, "volumes at 20 °C"))


def headroom(session: Session, flask_l: float | None) -> Figure:
    """Free volume up to the base of the neck; below 0 where the wort stands in it."""
    if flask_l is None:
        return Figure(None, "mL", Reason("needs the wort's volume", GEOMETRY))
    room_ml = 1000.0 * (session.flask.size_l - flask_l)
    size = words.litres(session.flask.size_l)
    says = f"{size} up to the base of the neck - {words.litres(flask_l)} = {words.millilitres(room_ml)}"
    return Figure(room_ml, "mL", Reason(says, GEOMETRY, "cold wort, at 20 °C"))


def rise(session: Session, flask_l: float | None) -> Figure:
    """How much faster foam climbs here than in a straight pot."""
    shape = settle.flask_shape(session)
    factor = None if flask_l is None else shape.rise_factor(flask_l)
    if flask_l is None or factor is None:
        return Figure(None, "1", Reason("above the brim, or no volume known", GEOMETRY))
    surface = shape.radius_mm(shape.height_mm(flask_l))
    says = f"(base {shape.base_r:.0f} mm / surface {surface:.0f} mm)² = {factor:.2f}: foam climbs so much faster"
    return Figure(factor, "1", Reason(says, GEOMETRY, "up to the brim", _measured(session)))


def level(session: Session, flask_l: float | None) -> Figure:
    """The surface over the table, mm."""
    shape = settle.flask_shape(session)
    level_mm = None if flask_l is None else shape.level_mm(flask_l)
    if flask_l is None or level_mm is None:
        return Figure(None, "mm", Reason("above the brim, or no volume known", GEOMETRY))
    wort = f"{shape.height_mm(flask_l):.0f} mm of cold wort"
    says = f"{shape.bottom:.1f} mm of glass + {wort} = {level_mm:.0f} mm over the table"
    return Figure(level_mm, "mm", Reason(says, GEOMETRY, "up to the brim", _measured(session)))


def _measured(session: Session) -> str:
    """How well the flask's shape is known."""
    own = session.flask
    if None not in (own.base_mm, own.height_mm, own.neck_mm, own.wall_mm):
        return "your own measures"
    if settle.flask_measures(session).estimated:
        return "estimated: measures scaled from another size; take your own"
    return "measures of a typical flask, uncertain above 2 L"


def hot(made: Made, hot_l: float | None) -> Figure:
    """What stands at the boil in one flask, this wort alone."""
    if hot_l is None or made.powder_g is None:
        return Figure(None, "L", Reason(made.trouble or "needs the wort's volume", BUBNIK))
    together = f"{words.grams(made.powder_g)} powder and {words.litres(made.water_l or 0.0)} water"
    says = f"{together} at 100 °C, before boil-off"
    return Figure(hot_l, "L", Reason(f"{says} = {words.litres(hot_l)}", BUBNIK, "0 to 100 °C"))
