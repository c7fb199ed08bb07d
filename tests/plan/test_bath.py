"""The bath of one flask in the plan: its share of the wort, pot or flask, top-up, altitude, float line."""

from __future__ import annotations

import pytest

from tests.plan.sessions import WORT, ale, plan_of
from workbench.session.model import Bath, Flask, Place, Step

ALE = ale(23.0, 1.056)


def bath(**tables):
    return plan_of(**{"beer": ALE, "step": (Step(1.6),), **tables}).steps[0].bath


def test_heat_of_the_wort_and_its_glass():
    found, kg = bath(), 1.6 * 1.0321  # 1.6 L at 1.034
    mean_cp = 4.184 - 2.511 * 0.0853 + 0.0075 * 0.0853 * 60.5
    wort_kj = kg * mean_cp * (found.boil_c.value - 21.0)
    glass_kj = 0.588 * 0.83 * (found.boil_c.value - 21.0)
    assert found.heat_kj.value == pytest.approx(wort_kj + glass_kj, rel=0.003)
    in_a_pot = bath(step=(Step(1.6, boil_in="pot"),))
    assert in_a_pot.heat_kj.value == pytest.approx(wort_kj, rel=0.003)


def test_ice_with_the_bath_water_and_after_the_tap():
    found = bath(bath=Bath(4.0, 15.0))
    bath_kj = 4.0 * 4.184 * 15.0
    assert found.ice_kg.value == pytest.approx((found.heat_kj.value + bath_kj) / 333.4)
    share = (35.0 - 21.0) / (found.boil_c.value - 21.0)
    assert found.after_tap_kg.value == pytest.approx((share * found.heat_kj.value + bath_kj) / 333.4, rel=0.01)


def test_of_two_flasks_each_has_half():
    one, two = bath(), bath(flask=Flask(3.0, flasks=2))
    glass_kj = 0.588 * 0.83 * (one.boil_c.value - 21.0)
    assert two.heat_kj.value - glass_kj == pytest.approx((one.heat_kj.value - glass_kj) / 2.0, rel=0.003)


def test_high_up_it_boils_cooler():
    assert bath(place=Place(1600.0)).boil_c.value == pytest.approx(94.65, abs=0.03)


def test_growing_at_the_boil_takes_no_ice():
    assert bath(wort=WORT._replace(temperature_c=105.0)).ice_kg.value == 0.0


def test_the_bath_is_filled_from_the_wort_to_below_the_float_line():
    found = bath(flask=Flask(2.0), step=(Step(1.2),))
    assert found.fill_mm.value == pytest.approx(found.float_mm.value - 15.0)
    assert found.fill_mm.low <= found.fill_mm.value
    heavy = bath(flask=Flask(2.0, glass_g=700.0), step=(Step(1.7),))  # worked out by hand: no depth lifts it
    assert heavy.float_mm.value is None
    assert "does not float" in heavy.fill_mm.why.says
