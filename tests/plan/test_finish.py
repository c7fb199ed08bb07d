"""What is kept back, what is pitched, how sure that is, and what it does to the beer's gravity."""

from __future__ import annotations

import pytest

from tests.plan.sessions import (
    JAR,
    LAGER_IN_TWO_STEPS,
    PACK,
    PITCH_AT,
    SACHET,
    STIRRED_ALE,
    W_1034,
    ale,
    lager,
    plan_of,
    replace,
    small_ale,
    small_lager,
)
from workbench.brewing import density
from workbench.session.model import Batch, Keep, Step

DECANTED = Batch("x", PITCH_AT, "decanted")
WHOLE = Batch("x", PITCH_AT, "whole")


@pytest.mark.parametrize(
    ("tables", "pitch"),
    [
        ({}, "whole"),
        ({"beer": lager()}, "decanted"),
        ({"batch": DECANTED}, "decanted"),
        ({"beer": lager(), "batch": WHOLE}, "whole"),
        ({"beer": None, "keep": Keep(cells_b=100.0)}, "whole"),
    ],
)
def test_how_it_is_pitched(tables, pitch):
    assert plan_of(**tables).final.pitch == pitch


def test_a_whole_starter_is_pitched_to_the_last_cell():
    final = plan_of().final
    assert (final.kept_b.value, final.pitched_b.value) == (0.0, final.cells_b.value)
    assert (final.kept_b.low, final.kept_b.high, final.kept_b.shares) == (None, None, ())  # nothing has no range
    assert final.poured_l.value == 1.0


def test_a_decant_before_pitching_costs_five_percent():
    final = plan_of(**LAGER_IN_TWO_STEPS).final
    assert final.pitched_b.value == pytest.approx(0.95 * final.cells_b.value)
    assert final.pitched_b.low == pytest.approx(0.95 * final.cells_b.low)


@pytest.mark.parametrize("batch", [WHOLE, DECANTED])
def test_cells_are_kept_before_the_decant(batch):
    through = 0.95 if batch is DECANTED else 1.0
    final = plan_of(batch=batch, keep=Keep(cells_b=60.0)).final
    assert final.kept_b.value == 60.0
    assert final.pitched_b.value == pytest.approx(through * (final.cells_b.value - 60.0))
    assert final.pitched_b.high == pytest.approx(through * (final.cells_b.high - 60.0))


def test_a_volume_is_kept_of_the_stirred_up_flask():
    final = plan_of(keep=Keep(volume_l=0.25)).final
    assert final.kept_b.value == pytest.approx(0.25 * final.cells_b.value)
    assert final.pitched_b.value == pytest.approx(0.75 * final.cells_b.value)
    assert final.pitched_b.low == pytest.approx(0.75 * final.cells_b.low)
    assert final.poured_l.value == pytest.approx(0.75)


def test_a_volume_kept_counts_against_all_that_stands_in_the_flask():
    plan = plan_of(yeast=(JAR,), keep=Keep(volume_l=0.65))
    assert plan.final.kept_b.value == pytest.approx(plan.final.cells_b.value * 0.65 / 1.3)


@pytest.mark.parametrize("keep", [Keep(cells_b=60.0), Keep(volume_l=0.25)])
def test_what_is_poured_into_the_jar_is_a_share_of_what_may_have_grown(keep):
    final = plan_of(keep=keep).final
    share = final.kept_b.value / final.cells_b.value
    assert (final.kept_b.low, final.kept_b.high) == pytest.approx(
        (share * final.cells_b.low, share * final.cells_b.high)
    )
    assert final.kept_l.value == pytest.approx(share * 1.0)


@pytest.mark.parametrize("keep", [Keep(cells_b=1e6), Keep(volume_l=50.0)])
def test_no_more_can_be_kept_than_there_is(keep):
    final = plan_of(keep=keep).final
    assert final.kept_b.value == final.cells_b.value
    assert (final.pitched_b.value, final.meets_need, final.chance.value) == (0.0, False, 0.0)


def test_without_a_feeding_the_lots_are_pitched_as_they_are():
    plan = plan_of(beer=small_ale(), step=())
    assert plan.final.pitched_b.value == plan.final.cells_b.value == plan.hand.cells_b.value
    assert plan.final.beer_gravity_w.value == plan.session.beer.gravity_w
    assert plan.final.poured_l.value is None


def test_without_a_feeding_there_is_nothing_to_decant():
    plan = plan_of(beer=small_lager(), step=())
    assert plan.final.pitched_b.value == plan.hand.cells_b.value


def test_for_the_shelf_all_that_is_kept_is_what_was_wanted():
    plan = plan_of(beer=None, keep=Keep(cells_b=150.0))
    final = plan.final
    assert final.kept_b.value == 150.0
    assert final.pitched_b.value == final.cells_b.value
    assert final.meets_need is True
    assert final.chance.value > 0.5
    assert final.beer_gravity_w.value is None


def test_a_shelf_that_wants_too_much_is_not_met():
    final = plan_of(beer=None, keep=Keep(cells_b=400.0)).final
    assert (final.meets_need, final.kept_b.value) == (False, final.cells_b.value)


@pytest.mark.parametrize(("litres", "met"), [(15.0, True), (30.0, False)])
def test_the_need_is_met_by_the_likely_count(litres, met):
    plan = plan_of(beer=ale(litres))
    assert plan.final.meets_need is met
    assert (plan.final.pitched_b.value >= plan.need.cells_b.value) is met
    assert (plan.final.chance.value > 0.5) is met


def test_the_chance_is_a_share_of_512_draws():
    chance = plan_of().final.chance.value
    assert chance * 512.0 == int(chance * 512.0)
    assert plan_of(beer=ale(1.0)).final.chance.value == 1.0
    assert plan_of(beer=ale(500.0)).final.chance.value == 0.0


def test_a_better_chance_for_more_yeast():
    assert plan_of(yeast=(replace(PACK, packs=2),)).final.chance.value > plan_of().final.chance.value


def test_a_whole_starter_thins_the_beer_by_mass():
    final = plan_of(**STIRRED_ALE).final
    beer_w = density.extract_from_sg(1.056)
    beer_kg, starter_kg = 23.0 * density.wort(beer_w, 20.0), 1.6 * density.wort(W_1034, 20.0)
    mixed = (beer_kg * beer_w + starter_kg * W_1034) / (beer_kg + starter_kg)
    assert final.beer_gravity_w.value == pytest.approx(mixed, rel=1e-12)
    assert density.sg(final.beer_gravity_w.value) == pytest.approx(1.0546, abs=0.0001)


def test_what_is_kept_does_not_go_into_the_beer():
    own = plan_of(**STIRRED_ALE).final.beer_gravity_w.value
    half = plan_of(**STIRRED_ALE, keep=Keep(volume_l=0.8)).final.beer_gravity_w.value
    assert own < half < density.extract_from_sg(1.056)
    final = plan_of(**STIRRED_ALE, keep=Keep(cells_b=50.0)).final
    assert final.poured_l.value == pytest.approx(1.6 * (1.0 - 50.0 / final.cells_b.value))


def test_a_decanted_starter_leaves_the_beers_gravity_alone():
    plan = plan_of(**{**STIRRED_ALE, "batch": DECANTED})
    assert plan.final.beer_gravity_w.value == plan.session.beer.gravity_w


def test_dry_yeast_alone_is_pitched_as_it_is():
    plan = plan_of(yeast=(SACHET,), step=())
    assert plan.final.meets_need is True
    assert plan.final.pitched_b.value == pytest.approx(230.0, rel=0.05)


def test_where_the_course_stops_short_the_end_is_open():
    final = plan_of(step=(Step(0.5), Step(0.5, temperature_c=1.0))).final
    assert (final.cells_b.value, final.kept_b.value, final.pitched_b.value) == (None, None, None)
    assert (final.meets_need, final.chance.value) == (None, None)


def test_a_kept_jar_goes_into_the_beer_with_its_liquid():
    jar = replace(JAR, volume_l=2.0)
    whole = plan_of(beer=ale(3.0), yeast=(jar,), step=(), keep=Keep(volume_l=0.5)).final
    assert whole.kept_b.value == pytest.approx(whole.cells_b.value / 4.0)
    assert whole.poured_l.value == pytest.approx(1.5)
    assert whole.beer_gravity_w.value < density.extract_from_sg(1.056)
    poured_off = plan_of(beer=ale(3.0), yeast=(jar,), step=(), batch=DECANTED).final
    assert poured_off.pitched_b.value == pytest.approx(0.95 * poured_off.cells_b.value)


def test_packs_go_in_as_they_are_even_where_a_starter_would_be_decanted():
    final = plan_of(beer=small_ale(), yeast=(PACK,), step=(), batch=DECANTED).final
    assert final.pitched_b.value == final.cells_b.value
