"""Quantities as shown to a person, and as written into the file."""

from __future__ import annotations

from math import inf, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.units.strategies import EVERY_UNIT, UNIT_IDS, base_values, tolerance
from workbench.brewing.density import extract_from_sg
from workbench.units.kinds import (
    BRIX,
    CELLS,
    DENSITY,
    DURATION,
    GRAVITY,
    KINDS,
    LENGTH,
    MASS,
    SMALL_LENGTH,
    SMALL_VOLUME,
    TEMPERATURE,
    VOLUME,
)
from workbench.units.parse import parse
from workbench.units.show import Shown, show, show_gravity, write

SHOWN = [
    (0.0, VOLUME, "0 L", "0 qt"),
    (0.08, VOLUME, "80 mL", "2.7 fl oz"),
    (0.996, VOLUME, "996 mL", "1.05 qt"),
    (0.9996, VOLUME, "1.00 L", "1.06 qt"),
    (1.6, VOLUME, "1.60 L", "1.69 qt"),
    (3.785411784, VOLUME, "3.79 L", "1.00 gal"),
    (23.0, VOLUME, "23.00 L", "6.08 gal"),
    (0.1, SMALL_VOLUME, "0.1 µL", "0.1 µL"),
    (0.004, SMALL_VOLUME, "0.004 µL", "0.004 µL"),
    (0.00025, SMALL_VOLUME, "0.00025 µL", "0.00025 µL"),
    (0.05, MASS, "50 mg", "50 mg"),
    (3.456, MASS, "3.5 g", "0.12 oz"),
    (9.96, MASS, "10 g", "0.35 oz"),
    (11.5, MASS, "11.5 g", "0.41 oz"),
    (20.4, MASS, "20 g", "0.72 oz"),
    (149.4, MASS, "149 g", "5.3 oz"),
    (999.6, MASS, "1.00 kg", "2.20 lb"),
    (700.0, MASS, "700 g", "24.7 oz"),
    (1500.0, MASS, "1.50 kg", "3.31 lb"),
    (21.0, TEMPERATURE, "21 °C", "69.8 °F"),
    (20.04, TEMPERATURE, "20 °C", "68.1 °F"),
    (0.0, TEMPERATURE, "0 °C", "32 °F"),
    (-0.01, TEMPERATURE, "0 °C", "32 °F"),
    (-17.79, TEMPERATURE, "-17.8 °C", "0 °F"),
    (0.0, DURATION, "0 min", "0 min"),
    (45.0, DURATION, "45 s", "45 s"),
    (59.7, DURATION, "1 min", "1 min"),
    (600.0, DURATION, "10 min", "10 min"),
    (4500.0, DURATION, "75 min", "75 min"),
    (5400.0, DURATION, "1.5 h", "1.5 h"),
    (8100.0, DURATION, "2.25 h", "2.25 h"),
    (86400.0, DURATION, "24 h", "24 h"),
    (360000.0, DURATION, "4.2 d", "4.2 d"),
    (214.0, CELLS, "214 B", "214 B"),
    (7.4, CELLS, "7.4 B", "7.4 B"),
    (0.052, CELLS, "0.052 B", "0.052 B"),
    (1434.6, CELLS, "1430 B", "1430 B"),
    (99.96, CELLS, "100 B", "100 B"),
    (1.2, DENSITY, "1.2 B/mL", "1.2 B/mL"),
    (0.05, DENSITY, "50 M/mL", "50 M/mL"),
    (0.09996, DENSITY, "0.1 B/mL", "0.1 B/mL"),
    (304.8, LENGTH, "305 m", "1000 ft"),
    (166.0, SMALL_LENGTH, "166 mm", "6.5 in"),
    (2.5, SMALL_LENGTH, "2.5 mm", "0.1 in"),
    (2.2, SMALL_LENGTH, "2.2 mm", "0.09 in"),
    (12.1, BRIX, "12.1 °Bx", "12.1 °Bx"),
    (extract_from_sg(1.034), GRAVITY, "1.034", "1.034"),
    (extract_from_sg(1.0335), GRAVITY, "1.0335", "1.0335"),
    (extract_from_sg(1.05), GRAVITY, "1.050", "1.050"),
    (0.0, GRAVITY, "1.000", "1.000"),
]


@pytest.mark.parametrize(("value", "kind", "metric", "us"), SHOWN)
def test_shows_in_either_system(value, kind, metric, us):
    assert str(show(value, kind)) == metric
    assert str(show(value, kind, "us")) == us


def test_number_and_unit_stand_apart():
    assert show(1.6, VOLUME) == Shown("1.60", "L")


@pytest.mark.parametrize("value", [None, nan, inf, -inf])
def test_what_cannot_be_said_is_a_dash(value):
    assert show(value, VOLUME) == show_gravity(value) == Shown("–", "")


def test_the_comma_is_a_choice():
    assert str(show(1.6, VOLUME, comma=True)) == "1,60 L"
    assert str(show_gravity(0.085, "plato", comma=True)) == "8,5 °P"


def test_decimals_can_be_asked_for():
    assert str(show(1.6, VOLUME, decimals=1)) == "1.6 L"
    assert str(show(0.0, VOLUME, decimals=2)) == "0.00 L"
    assert str(show(0.99996, VOLUME, decimals=1)) == "1.0 L"
    assert str(show_gravity(0.085, "plato", decimals=2)) == "8.50 °P"
    assert str(show(extract_from_sg(1.034), GRAVITY, decimals=4)) == "1.0340"


def test_plato_has_its_unit_and_sg_has_none():
    assert show_gravity(0.085, "plato") == Shown("8.5", "°P")
    assert show_gravity(extract_from_sg(1.034)) == Shown("1.034", "")


@given(st.data(), st.sampled_from(KINDS), st.sampled_from(["metric", "us"]))
def test_what_is_shown_is_the_value_rounded(data, kind, system):
    value = data.draw(base_values(kind))
    shown = str(show(value, kind, system))
    assert not shown.startswith("-0 ")
    unit = kind.unit(show(value, kind, system).unit or "SG")
    amount, number = unit.from_base(value), float(show(value, kind, system).number)
    assert abs(number - amount) <= max(0.5, 0.005 * abs(amount)) * (1 + 1e-9)


@given(st.sampled_from(KINDS), st.sampled_from(["metric", "us"]), st.floats(allow_nan=True, allow_infinity=True))
def test_every_float_can_be_shown(kind, system, value):
    if kind is not GRAVITY:
        assert str(show(value, kind, system))


@pytest.mark.parametrize(
    ("value", "kind", "unit", "text"),
    [
        (1.6, VOLUME, None, "1.6 L"),
        (1.6, VOLUME, "mL", "1600 mL"),
        (2.0, VOLUME, None, "2 L"),
        (-0.0, VOLUME, None, "0 L"),
        (3.785411784, VOLUME, "gal", "1 gal"),
        (20.0, TEMPERATURE, "°F", "68 °F"),
        (86400.0, DURATION, "h", "24 h"),
        (0.085, GRAVITY, "°P", "8.5 °P"),
        (extract_from_sg(1.034), GRAVITY, None, "1.034"),
        (extract_from_sg(1.05), GRAVITY, None, "1.050"),
        (extract_from_sg(1.0335), GRAVITY, "SG", "1.0335"),
    ],
)
def test_writes_the_short_text(value, kind, unit, text):
    assert write(value, kind, unit) == text


@pytest.mark.parametrize(("kind", "unit"), EVERY_UNIT, ids=UNIT_IDS)
@given(st.data())
def test_what_is_written_is_read_back(kind, unit, data):
    value = data.draw(base_values(kind))
    read = parse(write(value, kind, unit.name), kind)
    assert read == pytest.approx(value, rel=1e-12, abs=tolerance(kind, unit))


@given(
    st.sampled_from([kind for kind in KINDS if kind is not GRAVITY]), st.floats(allow_nan=False, allow_infinity=False)
)
def test_base_units_are_read_back_to_the_last_bit(kind, value):
    assert parse(write(value, kind), kind) == value


@pytest.mark.parametrize(("value", "unit"), [(nan, None), (inf, None), (1e308, "mL")])
def test_what_is_not_finite_cannot_be_written(value, unit):
    with pytest.raises(ValueError, match="cannot be written"):
        write(value, VOLUME, unit)
