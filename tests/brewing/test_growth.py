"""How much a feeding grows: the published still table, computed rows, and the order of the motions."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.brewing.yeast_tables import GROWN, STILL_STARTERS, STILL_STARTERS_RECALLED
from workbench.brewing import growth
from workbench.brewing.spread import Range

MOTIONS = ("still", "swirled", "stirred")
GRAMS_PER_LITRE_9P = 93.23  # as computed for that table

extract = st.floats(1.0, 1000.0)
motions = st.sampled_from(MOTIONS)


@pytest.mark.parametrize(("volume_l", "extract_g", "out_b"), STILL_STARTERS)
def test_a_still_starter_as_in_the_published_table(volume_l, extract_g, out_b):
    assert extract_g == pytest.approx(GRAMS_PER_LITRE_9P * volume_l)
    assert 100.0 + growth.new_cells_b(100.0, extract_g, "still") == pytest.approx(out_b, rel=0.02)


@pytest.mark.parametrize(("volume_l", "out_b"), STILL_STARTERS_RECALLED)
def test_a_still_starter_near_the_rows_that_are_only_remembered(volume_l, out_b):
    grown = 100.0 + growth.new_cells_b(100.0, GRAMS_PER_LITRE_9P * volume_l, "still")
    assert grown == pytest.approx(out_b, rel=0.05)


@pytest.mark.parametrize(("start_b", "extract_g", "still", "stirred", "swirled"), GROWN)
def test_the_recommended_model_row_by_row(start_b, extract_g, still, stirred, swirled):
    for motion, out_b in (("still", still), ("stirred", stirred), ("swirled", swirled)):
        assert start_b + growth.new_cells_b(start_b, extract_g, motion) == pytest.approx(out_b, rel=1e-8)


def test_stirred_plateau_lies_between_home_counts_and_what_sugar_can_yield():
    # 0.72 and 1.04 B/g counted at home, web articles 2013, read; 4.3 B/g the most that sugar can yield, computed
    assert 1.04 < growth.yield_b_per_g(0.1, "stirred") < growth.CEILING_B_PER_G


def test_an_aerated_litre_ends_within_the_spread_of_one_brewers_19_counts():
    # F. L. Johnson, Homebrew Digest 5845, 2011, read: 91 to 533 million per mL in aerated wort, mostly of 1.040
    grown_b = 10.0 + growth.new_cells_b(10.0, 104.0, "stirred")
    assert 91.0 < grown_b < 533.0


@given(st.floats(0.02, 2.9))
def test_more_air_grows_more(r):
    still, swirled, stirred = (growth.yield_b_per_g(r, motion) for motion in MOTIONS)
    assert 0.0 < still < swirled < stirred


@given(st.floats(0.001, 1.6), extract, motions, st.floats(-3.0, 0.0), st.floats(1.001, 3.0))
def test_more_yeast_never_ends_with_less(r, extract_g, motion, z, more):
    start_b = r * extract_g
    fewer = start_b + growth.new_cells_b(start_b, extract_g, motion, z)
    assert more * start_b + growth.new_cells_b(more * start_b, extract_g, motion, z) >= fewer * (1.0 - 1e-12)


@given(st.floats(0.001, 5.0), extract, motions, st.floats(-3.0, 3.0), st.floats(1.001, 3.0))
def test_more_wort_never_ends_with_less(r, extract_g, motion, z, more):
    fewer = growth.new_cells_b(r * extract_g, extract_g, motion, z)
    assert growth.new_cells_b(r * extract_g, more * extract_g, motion, z) >= fewer * (1.0 - 1e-12)


@given(st.floats(0.001, 5.0), extract, motions, st.floats(-3.0, 3.0), st.floats(0.01, 1.0))
def test_a_luckier_draw_never_grows_less(r, extract_g, motion, z, luckier):
    low, high = (growth.new_cells_b(r * extract_g, extract_g, motion, d) for d in (z, z + luckier))
    assert high >= low


@given(st.floats(1e-6, 100.0), extract, motions, st.floats(-8.0, 8.0))
def test_no_more_cells_than_the_sugar_can_yield(r, extract_g, motion, z):
    new_b = growth.new_cells_b(r * extract_g, extract_g, motion, z)
    assert 0.0 <= new_b <= growth.CEILING_B_PER_G * extract_g


def test_the_ceiling_is_reached():
    assert growth.new_cells_b(10.0, 100.0, "stirred", 8.0) == growth.CEILING_B_PER_G * 100.0


@given(st.floats(1e-6, 0.05))
def test_without_air_about_two_and_a_half_doublings(r):
    # the 20 L row of the published table: six out per one in
    assert growth.yield_b_per_g(r, "still") <= 5.0 * r


@given(st.floats(3.06, 50.0), motions)
def test_a_crowded_flask_is_not_expected_to_grow(r, motion):
    assert growth.yield_b_per_g(r, motion) == 0.0


@pytest.mark.parametrize(("motion", "upside"), [("stirred", 1.0), ("swirled", 0.85), ("still", 0.7)])
def test_a_crowded_flask_may_grow_all_the_same(motion, upside):
    # recommended: where the fall is extrapolated the high end stays open
    grown = [growth.new_cells_b(400.0, 100.0, motion, z) for z in (0.0, 1.645 / 2.0, 1.645, 3.0)]
    assert grown == pytest.approx([0.0, 50.0 * upside, 100.0 * upside, 100.0 * upside])


def test_the_ranges_of_the_multipliers():
    # recommended values
    assert {
        "stirred": Range(0.65, 1.0, 1.45),
        "swirled": Range(0.6, 1.0, 1.6),
        "still": Range(0.7, 1.0, 1.5),
    } == growth.GROWTH_FACTOR
    assert Range(0.7, 1.0, 1.6) == growth.TIME_FACTOR


@pytest.mark.parametrize("motion", MOTIONS)
@pytest.mark.parametrize("z", [-1.645, 1.645])
def test_the_multiplier_works_on_the_new_cells_alone(motion, z):
    likely = growth.new_cells_b(30.0, 100.0, motion)
    factor = growth.GROWTH_FACTOR[motion]
    expected = likely * (factor.high if z > 0.0 else factor.low)
    assert growth.new_cells_b(30.0, 100.0, motion, z) == pytest.approx(expected)
