"""Unit factors against pint, which states those of NIST SP 811 App. B and NIST Handbook 44 App. C.

In pint, and here, `gallon`, `quart`, `pint`, `cup`, `fluid_ounce` are the US liquid measures.
"""

from __future__ import annotations

import pint
import pytest

from tests.units.strategies import EVERY_UNIT, UNIT_IDS
from workbench.units.kinds import (
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

REGISTRY = pint.UnitRegistry()

PINT = {
    VOLUME: (
        "liter",
        {
            "L": "liter",
            "mL": "milliliter",
            "hL": "hectoliter",
            "gal": "US_liquid_gallon",
            "qt": "US_liquid_quart",
            "pt": "US_pint",
            "cup": "US_liquid_cup",
            "fl oz": "US_fluid_ounce",
            "tbsp": "tablespoon",
            "tsp": "teaspoon",
        },
    ),
    SMALL_VOLUME: ("microliter", {"µL": "microliter", "mL": "milliliter"}),
    MASS: ("gram", {"g": "gram", "kg": "kilogram", "mg": "milligram", "oz": "ounce", "lb": "pound"}),
    DURATION: ("second", {"s": "second", "min": "minute", "h": "hour", "d": "day"}),
    LENGTH: ("meter", {"m": "meter", "cm": "centimeter", "mm": "millimeter", "ft": "foot", "in": "inch"}),
    SMALL_LENGTH: ("millimeter", {"mm": "millimeter", "cm": "centimeter", "m": "meter", "in": "inch"}),
}
FACTORS = [
    (kind, unit, base, names[unit.name]) for kind, (base, names) in PINT.items() for unit in kind.units
]  # fmt: skip


@pytest.mark.parametrize(
    ("kind", "unit", "base", "name"), FACTORS, ids=[f"{k.name}-{u.name}" for k, u, _, _ in FACTORS]
)
def test_factor_is_pints(kind, unit, base, name):
    assert unit.factor == pytest.approx(REGISTRY.Quantity(1, name).to(base).magnitude, rel=1e-14)
    assert unit.offset == 0


def test_definitions_are_met_to_the_last_bit():
    # NIST SP 811 App. B: inch 25.4 mm, foot 0.3048 m, pound 0.45359237 kg; Handbook 44 App. C: gallon 231 cubic inches.
    assert parse("1 in", SMALL_LENGTH) == 25.4
    assert parse("1 ft", LENGTH) == 0.3048
    assert parse("1 lb", MASS) == 453.59237
    assert parse("1 gal", VOLUME) == 3.785411784 == round(231 * 0.254**3, 12)
    assert parse("128 fl oz", VOLUME) == parse("1 gal", VOLUME)
    assert parse("16 oz", MASS) == parse("1 lb", MASS)


@pytest.mark.parametrize("fahrenheit", [-459.67, -40.0, -4.0, 0.0, 32.0, 33.0, 68.0, 98.6, 212.0, 230.0])
def test_fahrenheit_is_pints(fahrenheit):
    expected = REGISTRY.Quantity(fahrenheit, "degF").to("degC").magnitude
    assert TEMPERATURE.unit("°F").to_base(fahrenheit) == pytest.approx(expected, rel=1e-12, abs=1e-12)


@pytest.mark.parametrize(
    ("text", "celsius"), [("-40 °F", -40), ("32 °F", 0), ("212 °F", 100), ("68 °F", 20), ("-4 °F", -20)]
)
def test_fixed_points_of_temperature_are_exact(text, celsius):
    assert parse(text, TEMPERATURE) == celsius


@pytest.mark.parametrize(("text", "litres"), [("2300 mL", 2.3), ("2700 mL", 2.7), ("700 mL", 0.7), ("1100 mL", 1.1)])
def test_the_same_volume_in_another_unit_is_the_same_number(text, litres):
    assert parse(text, VOLUME) == litres


@pytest.mark.parametrize(("kind", "unit"), EVERY_UNIT, ids=UNIT_IDS)
def test_each_unit_is_found_by_its_name_and_its_spellings(kind, unit):
    assert kind.find(unit.name) is unit
    for spelling in unit.spellings:
        assert kind.find(spelling) is unit
        assert kind.find(spelling.upper()) is unit


@pytest.mark.parametrize("kind", KINDS, ids=[kind.name for kind in KINDS])
def test_a_kind_hangs_together(kind):
    spellings = [spelling for unit in kind.units for spelling in unit.spellings]
    assert len(spellings) == len(set(spellings)), "no spelling means two units"
    assert {kind.metric, kind.us} <= {unit.name for unit in kind.units}
    assert kind is GRAVITY or (kind.units[0].name, kind.units[0].factor) == (kind.base, 1.0)
    parse(kind.example, kind)


def test_names_of_kinds_are_unique():
    assert len({kind.name for kind in KINDS}) == len(KINDS)


@pytest.mark.parametrize("word", ["fl. oz.", "Fl Oz", "fl.oz", "FLOZ", "fluid ounces", " fl  oz "])
def test_dots_blanks_and_case_do_not_matter(word):
    assert VOLUME.unit(word).name == "fl oz"


@pytest.mark.parametrize("text", ["0.1 µL", "0.1 \u03bcl", "0,1 uL", ".1 UL", "0.0001 mL", "0.1 mm³", "0.1 microlitre"])
def test_either_letter_for_micro_will_do(text):
    assert parse(text, SMALL_VOLUME) == 0.1


@pytest.mark.parametrize("word", ["°F", "° f", "ºF", "˚F", "℉", "F", "deg F", "deg. F", "Fahrenheit"])
def test_every_degree_sign_will_do(word):
    assert TEMPERATURE.unit(word).name == "°F"


def test_an_unknown_unit_name_is_the_programs_fault():
    with pytest.raises(ValueError, match="no unit of volume"):
        VOLUME.unit("furlong")
