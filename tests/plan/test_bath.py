"""The bath of one flask in the plan: its share of the wort, pot or flask, top-up, altitude, float line."""

from __future__ import annotations

import pytest

from tests.plan.sessions import JAR, WORT, ale, happened, plan_of, read
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
    assert found.lifts_mm == pytest.approx(found.float_mm.value, abs=0.01)  # nothing but this wort is in it
    assert found.fill_mm.value == pytest.approx(found.lifts_mm - 15.0)
    level = plan_of(beer=ALE, flask=Flask(2.0), step=(Step(1.2),)).steps[0].level_mm.value
    assert found.fill_mm.low == pytest.approx(level, abs=0.01)
    assert level < found.fill_mm.value
    heavy = bath(flask=Flask(2.0, glass_g=700.0), step=(Step(1.7),))  # worked out by hand: no depth lifts it
    assert heavy.float_mm.value is heavy.lifts_mm is None
    assert "does not float" in heavy.fill_mm.why.says


def test_light_wort_in_a_light_flask_has_its_bath_below_the_wort():
    found = bath(flask=Flask(2.0, glass_g=10.0), step=(Step(1.2),))
    assert found.fill_mm.low == found.fill_mm.high == found.fill_mm.value


def test_what_the_flask_will_hold_besides_does_not_weigh_it_down_in_the_bath():
    # 1 L at 1.034 (1032.1 g) in a 2 L flask, by hand: L_o = 309.56 mm, V_o = 2233.2 mL outside, 427 g of glass
    by_hand = 309.56 * (1.0 - (1.0 - (1032.1 + 427.0) / 999.84 / 2.2332) ** (1 / 3))
    one = {"flask": Flask(2.0), "step": (Step(1.0),)}
    found = bath(yeast=(JAR,), **one)
    assert found.lifts_mm == pytest.approx(by_hand, abs=0.5)
    assert found.fill_mm.value == bath(**one).fill_mm.value
    assert found.float_mm.value > found.lifts_mm + 20.0  # all that stands in it then: 0.3 L more
    assert "this wort alone" in found.fill_mm.why.says


def test_nor_does_a_feeding_before_it_nor_what_is_topped_up_later():
    two = {"flask": Flask(2.0, flasks=2)}
    second = plan_of(beer=ALE, step=(Step(1.0), Step(1.0)), **two).steps[1].bath
    assert second.fill_mm.value == pytest.approx(bath(step=(Step(1.0),), **two).fill_mm.value)
    topped = bath(flask=Flask(2.0), step=(Step(1.2, top_up_l=0.4),))
    assert topped.lifts_mm < bath(flask=Flask(2.0), step=(Step(1.2),)).lifts_mm - 20.0


def test_where_less_was_measured_than_is_topped_up_there_is_no_hot_wort_to_lift():
    volume, gravity = read("volume", 0.5, 40), read("gravity", WORT.gravity_w, 40)
    found = bath(step=(Step(1.6, top_up_l=0.8),), reading=(volume, gravity), event=(happened("boil-done", 41),))
    assert found.heat_kj.value is not None
    assert found.fill_mm.why.says.startswith("0.0 g of this wort alone")


def test_a_flask_that_overflows_once_filled_may_stand_in_the_bath_with_its_wort():
    jar = JAR._replace(volume_l=1.5)
    found = bath(flask=Flask(2.0), yeast=(jar,), step=(Step(1.0),))
    assert found.float_mm.value is None
    assert "brim" in found.float_mm.why.says
    assert found.fill_mm.value == pytest.approx(found.lifts_mm - 15.0)


@pytest.mark.parametrize(
    ("tables", "says"),
    [
        ({"step": (Step(1.0, boil_in="pot"),)}, "in a pot"),
        ({"wort": WORT._replace(temperature_c=90.0), "place": Place(4000.0)}, "no heat"),
        ({"flask": Flask(1.0), "step": (Step(1.3),)}, "brim"),
        ({"step": (Step(None),)}, "needs the wort's volume"),
    ],
)
def test_where_no_flask_is_cooled_no_depth_is_told_and_it_is_said_why(tables, says):
    found = bath(**tables)
    assert found.fill_mm.value is found.lifts_mm is None
    assert says in found.fill_mm.why.says
