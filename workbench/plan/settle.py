"""Defaults that depend on other values: what each feeding, the flask and the pitch come to when left out."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from workbench.brewing import buoyancy, flask, foam

if TYPE_CHECKING:
    from workbench.session.model import BeerType, BoilIn, Motion, Pitch, Session

__all__ = [
    "Asked",
    "all_dry",
    "asked",
    "boil_limit_l",
    "drops",
    "fill_limit_l",
    "flask_measures",
    "flask_shape",
    "foam_control",
    "glass_g",
    "is_shelf",
    "kept_liquid_l",
    "left_after_decant_l",
    "pitch",
    "pitch_rate",
    "rest_h",
    "yeast_type",
]

DEFAULT_RATE = {"ale": 0.75, "lager": 1.5}
DRY_RATE = {"ale": 0.4, "lager": 0.8}


def yeast_type(session: Session) -> BeerType:
    """Ale or lager; ale for the shelf."""
    return session.beer.type if session.beer is not None else "ale"


def is_shelf(session: Session) -> bool:
    """A build for the fridge: something to keep and no beer."""
    return session.beer is None and session.keep is not None


def all_dry(session: Session) -> bool:
    """Whether every lot is dry yeast."""
    return bool(session.yeast) and all(lot.kind == "dry" for lot in session.yeast)


def pitch_rate(session: Session) -> float:
    """Million viable cells per mL and °P."""
    if session.beer is not None and session.beer.pitch_rate is not None:
        return session.beer.pitch_rate
    return (DRY_RATE if all_dry(session) else DEFAULT_RATE)[yeast_type(session)]


def pitch(session: Session) -> Pitch:
    """Whether the finished starter goes in whole or is poured off first."""
    if session.batch.pitch is not None:
        return session.batch.pitch
    return "decanted" if yeast_type(session) == "lager" else "whole"


def rest_h(session: Session) -> float:
    """Hours of cold rest before every decant."""
    if session.wort.rest_s is not None:
        return session.wort.rest_s / 3600.0
    return 48.0 if yeast_type(session) == "lager" else 24.0


def foam_control(session: Session) -> bool:
    """Whether drops go into the boil."""
    drops = session.foam.drops
    return drops > 0 if drops is not None else session.foam.drops_per_gallon > 0.0


def glass_g(session: Session) -> float:
    """What one empty flask weighs."""
    return flask_measures(session).glass_g or 0.0


def drops(session: Session, wort_l: float) -> int:
    """Drops of foam control for one boil of so much wort."""
    own = session.foam.drops
    return own if own is not None else foam.drops(wort_l, session.foam.drops_per_gallon)


def fill_limit_l(session: Session) -> float:
    """Most that may stand in one flask while growing."""
    flask = session.flask
    share = 0.90 if foam_control(session) else 0.75
    return flask.fill_limit_l if flask.fill_limit_l is not None else share * flask.size_l


def boil_limit_l(session: Session) -> float:
    """Most that may stand in one flask while boiling."""
    flask = session.flask
    share = 0.70 if foam_control(session) else 0.50
    return flask.boil_limit_l if flask.boil_limit_l is not None else share * flask.size_l


def left_after_decant_l(session: Session) -> float:
    """What stays in all flasks together when spent wort is poured off."""
    left = session.wort.left_after_decant_l
    return session.flask.flasks * (left if left is not None else max(0.1, 0.05 * session.flask.size_l))


def kept_liquid_l(session: Session) -> float:
    """The liquid that kept lots bring into the flask."""
    return sum(lot.volume_l or 0.0 for lot in session.yeast if lot.kind == "kept")


def flask_measures(session: Session) -> flask.Measures:
    """Own measures where they were taken, else those of a typical flask; its glass as weighed, else by its measures."""
    own = session.flask
    measures = flask.typical_measures(own.size_l)
    measures = measures._replace(
        base=own.base_mm or measures.base,
        height=own.height_mm or measures.height,
        neck=own.neck_mm or measures.neck,
        wall=own.wall_mm or measures.wall,
        brim_l=own.brim_l,
    )
    reckoned_g = buoyancy.glass_g(measures, flask.shape(own.size_l, measures))
    return measures._replace(glass_g=reckoned_g if own.glass_g is None else own.glass_g)


def flask_shape(session: Session) -> flask.Shape:
    """The inside of one flask."""
    return flask.shape(session.flask.size_l, flask_measures(session))


class Asked(NamedTuple):
    """One feeding with everything settled but the wort volume, which has no default."""

    number: int
    wort_l: float | None
    gravity_w: float
    top_up_l: float
    decant: bool  # False where there is nothing to pour off
    hours: float | None
    temperature_c: float
    motion: Motion
    boil_time_s: float
    boil_off_ml: float
    boil_in: BoilIn


def asked(session: Session, index: int) -> Asked:
    """The feeding at `index`, with what it leaves out taken from `[wort]`."""
    step, habits = session.step[index], session.wort
    boil_in = step.boil_in or (habits.boil_in if index == 0 or session.flask.flasks > 1 else "pot")
    boil_time_s = step.boil_time_s if step.boil_time_s is not None else habits.boil_time_s
    boil_off_ml = step.boil_off_ml
    if boil_off_ml is None:  # the habit belongs to its own boil time
        habit_ml = habits.boil_off_ml if boil_in == "flask" else habits.boil_off_pot_ml
        boil_off_ml = habit_ml * boil_time_s / habits.boil_time_s
    return Asked(
        number=index + 1,
        wort_l=step.wort_l,
        gravity_w=step.gravity_w if step.gravity_w is not None else habits.gravity_w,
        top_up_l=step.top_up_l,
        decant=step.decant and (index > 0 or kept_liquid_l(session) > 0.0),
        hours=step.hours_s / 3600.0 if step.hours_s is not None else None,
        temperature_c=step.temperature_c if step.temperature_c is not None else habits.temperature_c,
        motion=step.motion or habits.motion,
        boil_time_s=boil_time_s,
        boil_off_ml=boil_off_ml,
        boil_in=boil_in,
    )
