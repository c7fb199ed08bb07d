"""The wort of each feeding as asked and as measured, and what then stands in the flask."""

from __future__ import annotations

import pytest

from tests.plan.sessions import JAR, W_1034, WORT, codes, happened, plan_of, read, replace, step_of
from workbench.brewing import density, wort
from workbench.session.model import Flask, Step

BOILED = (happened("boil-done", 30),)
W_1030 = density.extract_from_sg(1.030)


def test_the_recipe_of_a_feeding():
    step = step_of(step=(Step(1.6),))
    balance = wort.solve(gravity_w=W_1034, wort_l=1.6, boil_off_ml=80.0)
    assert (step.powder_g.value, step.water_l.value) == (balance.powder_g, balance.water_l)
    assert step.extract_g.value == pytest.approx(balance.extract_g)
    together_g = balance.powder_g + wort.water_mass_g(balance.water_l)
    assert step.hot_boil_l.value == wort.hot_volume_l(together_g, balance.extract_g)


def test_the_hot_boil_is_before_boil_off_and_top_up():
    plain, topped = (step_of(step=(Step(1.6, top_up_l=litres),)) for litres in (0.0, 0.5))
    assert topped.powder_g.value == plain.powder_g.value
    assert topped.water_l.value == pytest.approx(plain.water_l.value - 0.5)
    assert topped.hot_boil_l.value < plain.hot_boil_l.value - 0.5


@pytest.mark.parametrize(("minutes", "boil_off_ml"), [(10.0, 80.0), (15.0, 120.0), (5.0, 40.0)])
def test_the_habits_boil_off_goes_with_the_minutes_boiled(minutes, boil_off_ml):
    step = step_of(step=(Step(1.0, boil_time_s=60.0 * minutes),))
    assert step.boil_off_ml.value == pytest.approx(boil_off_ml)


def test_a_boil_off_stated_for_a_feeding_stands():
    assert step_of(step=(Step(1.0, boil_time_s=1800.0, boil_off_ml=100.0),)).boil_off_ml.value == 100.0


def test_a_pot_has_its_own_boil_off():
    assert step_of(step=(Step(1.0, boil_in="pot"),)).boil_off_ml.value == pytest.approx(200.0)


def test_later_feedings_are_boiled_in_a_pot_unless_a_flask_is_free():
    steps = (Step(0.4), Step(0.4))
    assert [step.boil_in for step in plan_of(step=steps).steps] == ["flask", "pot"]
    assert [step.boil_in for step in plan_of(step=steps, flask=Flask(flasks=2)).steps] == ["flask", "flask"]


def test_feedings_on_top_add_up_in_the_flask():
    assert [step.flask_l.value for step in plan_of(step=(Step(0.4), Step(0.5))).steps] == pytest.approx([0.4, 0.9])


def test_a_decant_leaves_a_little():
    steps = (Step(1.0), Step(1.0, decant=True))
    # the larger of 100 mL and 5 % of the size
    assert plan_of(step=steps).steps[1].flask_l.value == pytest.approx(1.15)
    assert plan_of(step=steps, flask=Flask(1.5)).steps[1].flask_l.value == pytest.approx(1.1)
    own = plan_of(step=steps, wort=replace(WORT, left_after_decant_l=0.25))
    assert own.steps[1].flask_l.value == pytest.approx(1.25)


def test_a_decant_cannot_leave_more_than_there_is():
    steps = (Step(0.1), Step(1.0, decant=True))
    assert plan_of(step=steps, wort=replace(WORT, left_after_decant_l=0.5)).steps[1].flask_l.value == pytest.approx(1.1)


def test_the_liquid_of_a_kept_lot_stands_in_the_flask_from_the_start():
    assert step_of(yeast=(JAR,)).flask_l.value == pytest.approx(1.3)
    poured = step_of(yeast=(JAR,), step=(Step(1.0, decant=True),))
    assert poured.flask_l.value == pytest.approx(1.15)
    assert poured.cells_in_b.value < 0.96 * step_of(yeast=(JAR,)).cells_in_b.value


def test_there_is_nothing_to_pour_off_a_first_feeding_without_liquid():
    plan, plain = plan_of(step=(Step(1.0, decant=True),)), plan_of()
    assert codes(plan) == ["decant-nothing"]
    assert plan.final.cells_b == plain.final.cells_b
    assert plan.steps[0].flask_l == plain.steps[0].flask_l


def test_several_flasks_share_the_content_but_not_the_powder():
    one, two = (step_of(step=(Step(1.6),), flask=Flask(flasks=n)) for n in (1, 2))
    assert two.flask_l.value == pytest.approx(one.flask_l.value / 2.0)
    assert two.fill_fraction == pytest.approx(one.fill_fraction / 2.0)
    assert two.hot_boil_l.value == pytest.approx(one.hot_boil_l.value / 2.0)
    assert two.headroom_ml.value == pytest.approx(one.headroom_ml.value + 800.0)
    for total in ("wort_l", "powder_g", "water_l", "extract_g", "cells_in_b", "cells_out_b"):
        assert getattr(two, total).value == getattr(one, total).value
    decanted = plan_of(step=(Step(1.0), Step(1.0, decant=True)), flask=Flask(flasks=2))
    assert decanted.steps[1].flask_l.value == pytest.approx((2 * 0.15 + 1.0) / 2.0)


def test_a_feeding_without_a_volume_leaves_all_after_it_open():
    plan = plan_of(step=(Step(0.5), Step(), Step(0.5)))
    assert [step.flask_l.value for step in plan.steps] == [0.5, None, None]
    assert [step.cells_in_b.value is None for step in plan.steps] == [False, True, True]
    assert plan.steps[1].powder_g.value is None
    assert plan.steps[2].powder_g.value > 0.0
    assert "needs-wort" in codes(plan)


def test_a_measured_gravity_replaces_the_planned_one():
    plain, found = step_of(), step_of(event=BOILED, reading=(read("gravity", W_1030, 29),))
    assert found.gravity_w.value == pytest.approx(W_1030, abs=1e-12)
    assert (found.planned_w, found.powder_g.value, found.water_l.value) == (
        plain.planned_w,
        plain.powder_g.value,
        plain.water_l.value,
    )
    mass_g = wort.finished_mass_g(1.0, W_1034)  # the planned mass stays
    assert found.extract_g.value == pytest.approx(W_1030 * mass_g)
    assert found.wort_l.value == pytest.approx(mass_g / density.wort(W_1030, 20.0))
    assert found.cells_out_b.value < plain.cells_out_b.value


def test_with_a_measured_volume_the_extract_is_what_is_there():
    found = step_of(event=BOILED, reading=(read("gravity", W_1030, 29), read("volume", 0.9, 29)))
    assert found.extract_g.value == pytest.approx(W_1030 * wort.finished_mass_g(0.9, W_1030))
    assert found.wort_l.value == pytest.approx(0.9)
    assert found.flask_l.value == pytest.approx(0.9)


def test_the_last_of_several_readings_counts():
    readings = (read("gravity", W_1030, 28), read("gravity", W_1034 + 0.01, 29))
    assert step_of(event=BOILED, reading=readings).gravity_w.value == pytest.approx(W_1030, abs=1e-12)


def test_a_refractometer_counts_as_well():
    assert step_of(event=BOILED, reading=(read("brix", 8.32, 29),)).gravity_w.value == pytest.approx(0.08)


PITCHED = (*BOILED, happened("yeast-in", 24))
OUTSIDE_THE_WINDOW = {
    "no boil done": ((), read("gravity", W_1030, 29)),
    "before the boil was done": (BOILED, read("gravity", W_1030, 31)),
    "after the yeast went in": (PITCHED, read("gravity", W_1030, 23)),
    "of another feeding": (BOILED, read("gravity", W_1030, 29, step=2)),
    "no gravity": (BOILED, read("temperature", 24.0, 29)),
    "without a time": (BOILED, replace(read("gravity", W_1030, 29), at=None)),
    "without a value": (BOILED, replace(read("gravity", W_1030, 29), value=None)),
}


@pytest.mark.parametrize(("events", "reading"), OUTSIDE_THE_WINDOW.values(), ids=OUTSIDE_THE_WINDOW)
def test_other_readings_leave_the_plan_alone(events, reading):
    assert step_of(event=events, reading=(reading,)).gravity_w.value == W_1034


@pytest.mark.parametrize("hours", [30.0, 24.0])
def test_a_reading_at_the_very_edge_of_the_window_counts(hours):
    assert step_of(event=PITCHED, reading=(read("gravity", W_1030, hours),)).gravity_w.value < W_1034


def test_a_discarded_sample_takes_its_share_away():
    plain = step_of(step=(Step(1.6),), event=BOILED)
    less = step_of(step=(Step(1.6),), event=BOILED, reading=(read("gravity", W_1034, 29, discarded_ml=100.0),))
    assert less.extract_g.value == pytest.approx(plain.extract_g.value * 15.0 / 16.0)
    assert less.wort_l.value == pytest.approx(1.5)
    assert less.gravity_w.value == pytest.approx(W_1034, abs=1e-12)
