"""One feeding as figures: limits, room, growth and hours, each beside its reason."""

from __future__ import annotations

import pytest

from tests.plan.sessions import LAGER_IN_TWO_STEPS, STIRRED_ALE, plan_of, step_of
from workbench.brewing import growth
from workbench.session.model import Flask, Step


@pytest.mark.parametrize(
    ("litres", "fits"), [(2.6, True), (2.7, True), (2.7 + 1e-10, True), (2.7 + 1e-6, False), (2.9, False)]
)
def test_a_volume_at_the_fill_limit_fits(litres, fits):
    step = step_of(step=(Step(litres, boil_in="pot"),))
    assert step.fill_limit_l.value == pytest.approx(2.7)
    assert step.fill_fits is fits


def test_own_limits_stand():
    step = step_of(flask=Flask(3.0, fill_limit_l=0.9, boil_limit_l=0.8))
    assert (step.fill_limit_l.value, step.boil_limit_l.value) == (0.9, 0.8)
    assert (step.fill_fits, step.boil_fits) == (False, False)


def test_only_a_boil_in_the_flask_is_held_to_its_limit():
    assert step_of().boil_fits is True
    assert step_of(step=(Step(2.5),)).boil_fits is False
    assert step_of(step=(Step(2.5, boil_in="pot"),)).boil_fits is None


def test_room_above_the_wort():
    step = step_of(**STIRRED_ALE)
    assert step.headroom_ml.value == pytest.approx(1400.0)
    assert step.fill_fraction == pytest.approx(1.6 / 3.0)


def test_above_the_brim_nothing_is_said_of_levels_but_cells_are():
    full, over = (step_of(step=(Step(litres, boil_in="pot"),)) for litres in (2.5, 4.5))
    assert full.level_mm.value > 0.0
    assert full.rise_factor.value > 1.0
    assert (over.level_mm.value, over.rise_factor.value) == (None, None)
    assert over.cells_out_b.value > full.cells_out_b.value


def test_growth_as_figures():
    step = step_of(**STIRRED_ALE)
    inoculum = step.cells_in_b.value / step.extract_g.value
    assert step.growth == pytest.approx(1.0 + growth.STIRRED_PLATEAU_B_PER_G / inoculum)
    done = (step.cells_out_b.value / step.cells_in_b.value - 1.0) / (step.growth - 1.0)
    assert 0.95 <= done < 0.97  # the hours are rounded up


def test_the_hours_have_a_range():
    hours = step_of(**STIRRED_ALE).hours
    assert step_of(**STIRRED_ALE).hours_range == (0.7 * hours.value, 1.6 * hours.value)
    assert (hours.low, hours.high) == (0.7 * hours.value, 1.6 * hours.value)


def test_each_feeding_begins_with_what_the_one_before_made():
    first, second = plan_of(**LAGER_IN_TWO_STEPS).steps
    assert second.cells_in_b.value == pytest.approx(0.95 * first.cells_out_b.value)
    assert (first.number, second.number) == (1, 2)


@pytest.mark.parametrize("motion", ["still", "swirled", "stirred"])
def test_the_source_of_the_growth_is_that_of_the_motion(motion):
    source = step_of(step=(Step(1.0, motion=motion),)).cells_out_b.why.source
    assert source.status == {"still": "quoted", "swirled": "recommended", "stirred": "recommended"}[motion]


def test_reasons_hold_the_numbers_of_their_figures():
    step = step_of(**STIRRED_ALE)
    assert f"= {step.powder_g.value:.1f} g" in step.powder_g.why.says
    assert f"= {step.water_l.value:.2f} L" in step.water_l.why.says
    assert f"= {step.extract_g.value:.1f} g" in step.extract_g.why.says
    assert f"= {step.cells_out_b.value:.0f} B" in step.cells_out_b.why.says
    assert "0.95" in step.powder_g.why.says
    assert "80 mL boiled off" in step.water_l.why.says


def test_an_impossible_wort_says_why_in_place_of_powder_and_water():
    step = step_of(step=(Step(1.0, top_up_l=1.5),))
    for figure in (step.powder_g, step.water_l, step.hot_boil_l):
        assert figure.value is None
        assert "use less top-up" in figure.why.says
