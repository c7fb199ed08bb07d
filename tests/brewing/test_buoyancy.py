"""Floating flasks: Archimedes' principle, against integration and rows worked out by hand for a flask of 2 L."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from workbench.brewing import buoyancy
from workbench.brewing.flask import TYPICAL, Measures, shape

TWO = TYPICAL[2.0]
SHAPE = shape(2.0, TWO)


# glass and wort in grams, the depth that lifts them: closed form, checked with scipy quad and brentq when it was made
@pytest.mark.parametrize(
    ("total_g", "depth_mm"),
    [(500.0, 25.1), (1535.1, 99.5), (1742.2, 122.8), (2259.7, 261.1), (600.0, 30.7), (1842.2, 136.4), (2359.7, None)],
)
def test_float_line_of_a_flask_of_two_litres(total_g, depth_mm):
    found = buoyancy.float_depth_mm(total_g, TWO, SHAPE)
    assert found == (None if depth_mm is None else pytest.approx(depth_mm, abs=0.1))


def test_outside_volume_is_the_integral_of_its_circles():
    cone_mm = SHAPE.cone + SHAPE.bottom

    def area(h: float) -> float:
        r = 83.0 + (25.0 - 83.0) * h / cone_mm if h < cone_mm else 25.0
        return math.pi * r**2 / 1e6

    for depth in (10.0, 150.0, 260.0):
        assert buoyancy.outside_l(depth, TWO, SHAPE) == pytest.approx(quad(area, 0.0, depth, points=[cone_mm])[0])
    assert buoyancy.outside_l(999.0, TWO, SHAPE) == pytest.approx(2.2972, abs=1e-4)


def test_a_floating_body_as_in_the_book():
    # OpenStax University Physics 1, 14.4 (read): 97 % under water means 970 kg/m³; here a cylinder in water of 999.84
    straight = Measures(100.0, 200.0, 100.0, 1.0, 2.0)
    inside = shape(1.0, straight)
    total_g = 0.97 * 999.84 * buoyancy.outside_l(200.0, straight, inside)
    assert buoyancy.float_depth_mm(total_g, straight, inside) == pytest.approx(0.97 * 200.0)


# 2.23 g/mL of borosilicate 3.3 (makers' data, read) in the walls of the typical measures
@pytest.mark.parametrize(("size_l", "kg"), [(0.5, 0.136), (1.0, 0.241), (2.0, 0.427), (3.0, 0.588), (5.0, 0.921)])
def test_glass_by_its_measures(size_l, kg):
    measures = TYPICAL[size_l]
    assert buoyancy.glass_g(measures, shape(size_l, measures)) / 1000.0 == pytest.approx(kg, abs=0.001)


@given(st.floats(1.0, 278.0))
def test_deeper_displaces_more_and_a_heavier_flask_sits_deeper(depth):
    there_l = buoyancy.outside_l(depth, TWO, SHAPE)
    assert buoyancy.outside_l(depth + 1.0, TWO, SHAPE) > there_l
    assert buoyancy.float_depth_mm(999.84 * there_l, TWO, SHAPE) == pytest.approx(depth, abs=1e-6)
