"""Defaults that depend on other values."""

from __future__ import annotations

import pytest

from tests.plan.sessions import JAR, PACK, PITCH_AT, SACHET, WORT, lager, replace, session
from workbench.plan import settle
from workbench.session.model import Batch, Flask, Foam, Keep, Session, Step


@pytest.mark.parametrize(
    ("foam", "shares"),
    [
        (Foam(), (0.90, 0.70)),
        (Foam(drops_per_gallon=0.0), (0.75, 0.50)),
        (Foam(drops=0), (0.75, 0.50)),
        (Foam(drops_per_gallon=0.0, drops=1), (0.90, 0.70)),
    ],
)
def test_limits_follow_foam_control(foam, shares):
    made = session(foam=foam, flask=Flask(2.0))
    assert (settle.fill_limit_l(made), settle.boil_limit_l(made)) == pytest.approx((2.0 * shares[0], 2.0 * shares[1]))


@pytest.mark.parametrize(
    ("tables", "hours"),
    [
        ({}, 24.0),
        ({"beer": lager()}, 48.0),
        ({"beer": None}, 24.0),
        ({"wort": replace(WORT, rest_s=7200.0)}, 2.0),
        ({"wort": replace(WORT, rest_s=0.0)}, 0.0),
    ],
)
def test_the_rest_before_a_decant(tables, hours):
    assert settle.rest_h(session(**tables)) == hours


@pytest.mark.parametrize(
    ("flask", "left_l", "litres"),
    [(Flask(3.0), None, 0.15), (Flask(1.0), None, 0.1), (Flask(3.0), 0.0, 0.0), (Flask(3.0, flasks=2), 0.2, 0.4)],
)
def test_what_a_decant_leaves_in_all_flasks_together(flask, left_l, litres):
    made = session(flask=flask, wort=replace(WORT, left_after_decant_l=left_l))
    assert settle.left_after_decant_l(made) == pytest.approx(litres)


def test_only_kept_lots_bring_liquid():
    slurry = replace(PACK, kind="slurry", volume_l=0.2)
    assert settle.kept_liquid_l(session(yeast=(JAR, slurry, replace(JAR, volume_l=None), JAR))) == pytest.approx(0.6)


@pytest.mark.parametrize(
    ("yeast", "dry"), [((), False), ((SACHET,), True), ((SACHET, SACHET), True), ((SACHET, PACK), False)]
)
def test_whether_all_is_dry(yeast, dry):
    assert settle.all_dry(session(yeast=yeast)) is dry


def test_the_shelf_is_something_kept_and_no_beer():
    assert settle.is_shelf(session(beer=None, keep=Keep(cells_b=1.0)))
    assert not settle.is_shelf(session(keep=Keep(cells_b=1.0)))
    assert not settle.is_shelf(Session())


@pytest.mark.parametrize(
    ("tables", "pitch"),
    [
        ({}, "whole"),
        ({"beer": lager()}, "decanted"),
        ({"beer": lager(), "batch": Batch("x", PITCH_AT, "whole")}, "whole"),
    ],
)
def test_how_it_is_pitched(tables, pitch):
    assert settle.pitch(session(**tables)) == pitch


def test_a_feeding_takes_what_it_leaves_out_from_the_habits():
    own = settle.asked(session(step=(Step(1.0),), wort=replace(WORT, motion="still", temperature_c=19.0)), 0)
    assert (own.gravity_w, own.motion, own.temperature_c, own.boil_in) == (WORT.gravity_w, "still", 19.0, "flask")
    assert (own.boil_time_s, own.boil_off_ml, own.hours) == (600.0, 80.0, None)


def test_a_feeding_keeps_what_it_says():
    step = Step(1.0, 0.07, 0.2, decant=True, hours_s=7200.0, temperature_c=25.0, motion="swirled", boil_in="pot")
    told = settle.asked(session(step=(Step(1.0), step)), 1)
    assert (told.number, told.wort_l, told.gravity_w, told.top_up_l, told.decant) == (2, 1.0, 0.07, 0.2, True)
    assert (told.hours, told.temperature_c, told.motion, told.boil_in) == (2.0, 25.0, "swirled", "pot")


def test_the_flasks_own_measures_come_first():
    typical = settle.flask_shape(session())
    own = settle.flask_shape(session(flask=Flask(3.0, base_mm=200.0, brim_l=3.4)))
    assert own.base_r > typical.base_r
    assert own.neck_r == typical.neck_r
    assert own.brim_l == 3.4
