"""Drops, silicone and climbing foam. The limit of 10: 21 CFR 173.340 (read), Regulation (EC) 1333/2008 E 900 (read)."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from workbench.brewing import foam
from workbench.brewing.flask import shape, typical_measures

GALLON_L = 3.785411784  # 231 cubic inches: NIST Handbook 44, Appendix C
TWO_L = shape(2.0, typical_measures(2.0))


# two drops a US gallon: common practice, no source
@pytest.mark.parametrize(
    ("wort_l", "count"), [(0.1, 1), (1.2, 1), (GALLON_L / 2, 1), (1.9, 2), (2.0, 2), (GALLON_L, 2), (4.0, 3)]
)
def test_drops_are_rounded_up(wort_l, count):
    assert foam.drops(wort_l, 2.0) == count
    assert foam.drops(wort_l, 0.0) == 0


# worked out by hand: drops × 50 mg × share / litres; a drop of 50 mg: USP <1101> (read), 45 to 55 mg
@pytest.mark.parametrize(
    ("count", "active", "litres", "mg_per_l"),
    [
        (2, 0.1, GALLON_L, 2.6417),
        (2, 0.3, GALLON_L, 7.9252),
        (2, 0.1, 1.2, 8.3333),
        (2, 0.3, 1.2, 25.0),
        (2, 0.3, 20.0, 1.5),
    ],
)
def test_silicone_by_drops(count, active, litres, mg_per_l):
    assert foam.silicone_mg(count, 50.0, active) / litres == pytest.approx(mg_per_l, rel=1e-4)


def test_foam_climbs_as_the_volume_of_a_cone_says():
    # the volume between the two levels, integrated over the radius, is the foam's (scipy.integrate)
    climb, straight = foam.climb_mm(TWO_L, 1.2, 0.1)
    low = TWO_L.height_mm(1.2)
    between, _ = quad(lambda h: math.pi * TWO_L.radius_mm(h) ** 2 / 1e6, low, low + climb)
    assert between == pytest.approx(0.1, rel=1e-6)
    assert straight == pytest.approx(4.85, abs=0.01)  # 100 mL on a base of 81 mm inner radius, by hand


def test_over_the_rim_there_is_no_height():
    assert foam.climb_mm(TWO_L, TWO_L.brim_l - 0.05, 0.1)[0] is None


@given(st.floats(0.0, 1.9))
def test_the_fuller_the_flask_the_farther_it_climbs(volume_l):
    climb, straight = foam.climb_mm(TWO_L, volume_l, 0.05)
    assert climb >= 0.999 * straight
    fuller, _ = foam.climb_mm(TWO_L, volume_l + 0.05, 0.05)
    assert fuller is None or fuller >= climb - 1e-9
