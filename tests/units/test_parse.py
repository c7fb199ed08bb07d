"""Quantities as typed, to base units, and the words that meet a wrong one."""

from __future__ import annotations

from math import isfinite

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.units.strategies import EVERY_UNIT
from workbench.brewing.density import extract_from_sg
from workbench.errors import QuantityError
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
    TEMPERATURE,
    VOLUME,
)
from workbench.units.parse import canonical, parse

GOOD = [
    ("1.6 L", VOLUME, 1.6),
    ("1,6 l", VOLUME, 1.6),
    ("1.6L", VOLUME, 1.6),
    ("  1.6\u00a0litres ", VOLUME, 1.6),
    ("1 600 mL", VOLUME, 1.6),
    ("1\u202f600 ml", VOLUME, 1.6),
    ("40 fl oz", VOLUME, 40 * 3.785411784 / 128),
    ("1 1/2 gal", VOLUME, 1.5 * 3.785411784),
    ("1½ gallons", VOLUME, 1.5 * 3.785411784),
    ("1 us gal", VOLUME, 3.785411784),
    ("1 gal 2 qt", VOLUME, 1.5 * 3.785411784),
    ("1e3 mL", VOLUME, 1.0),
    ("0 L", VOLUME, 0.0),
    ("3.5 oz", MASS, 3.5 * 28.349523125),
    ("2 lb 3 oz", MASS, 35 * 28.349523125),
    ("2 lbs.", MASS, 907.18474),
    ("50 mg", MASS, 0.05),
    ("50 MG", MASS, 0.05),
    ("68 °F", TEMPERATURE, 20.0),
    ("68f", TEMPERATURE, 20.0),
    ("21 deg C", TEMPERATURE, 21.0),
    ("−5 °C", TEMPERATURE, -5.0),
    ("90 min", DURATION, 5400.0),
    ("24 hours", DURATION, 86400.0),
    ("2 days", DURATION, 172800.0),
    ("1 h 30 min", DURATION, 5400.0),
    ("1h30m", DURATION, 5400.0),
    ("1 d, 6 h", DURATION, 108000.0),
    ("100 B", CELLS, 100.0),
    ("100 billion cells", CELLS, 100.0),
    ("500 M", CELLS, 0.5),
    ("1.2 B/mL", DENSITY, 1.2),
    ("1.2 billion per mL", DENSITY, 1.2),
    ("900 m / ml", DENSITY, 0.9),
    ("300 m", LENGTH, 300.0),
    ("1000 ft", LENGTH, 304.8),
    ("166 mm", SMALL_LENGTH, 166.0),
    ("16,6 cm", SMALL_LENGTH, 166.0),
    ("6 1/2 in", SMALL_LENGTH, 165.1),
    ("12.1 Brix", BRIX, 12.1),
    ("12,1 °Bx", BRIX, 12.1),
    ("1.034", GRAVITY, extract_from_sg(1.034)),
    ("1,034", GRAVITY, extract_from_sg(1.034)),
    ("1.034 SG", GRAVITY, extract_from_sg(1.034)),
    ("SG 1.034", GRAVITY, extract_from_sg(1.034)),
    ("sg1.034", GRAVITY, extract_from_sg(1.034)),
    ("0.998", GRAVITY, extract_from_sg(0.998)),
    ("8.5 °P", GRAVITY, 0.085),
    ("8,5 P", GRAVITY, 0.085),
    ("8.5 Plato", GRAVITY, 0.085),
    ("-0.5 °P", GRAVITY, -0.005),
]

# What was typed, and the words that must stand in the answer.
BAD = [
    ("1.6 kg", VOLUME, ['"1.6 kg" is no volume', 'write for example "1.6 L"']),
    ("1.6", VOLUME, ['"1.6" has no unit', 'write "1.6 L"']),
    ("10", DURATION, ['write "10 min"']),
    ("", VOLUME, ["there is no volume", '"1.6 L"']),
    ("L", VOLUME, ["is no volume"]),
    ("a lot", VOLUME, ['"a lot" is no volume', '"1.6 L"']),
    ("5 furlongs", VOLUME, ['"furlongs" is no unit of volume', "L, mL, ", "fl oz"]),
    ("2 imp gal", VOLUME, ["imperial", "give litres"]),
    ("2 UK gallons", VOLUME, ["imperial", "give litres"]),
    ("2 gal (UK)", VOLUME, ["imperial", "give litres"]),
    ("1 imperial pint", VOLUME, ["imperial", "give litres"]),
    ("16 oz", VOLUME, ['"16 oz" is no volume', '"16 fl oz"']),
    ("16 fl oz", MASS, ["is no mass", '"3.5 oz"']),
    ("1,234.5 mL", VOLUME, ["two ways", "write 1234.5"]),
    ("1 2 L", VOLUME, ["more than one number"]),
    ("1.6 L 5", VOLUME, ["is no volume"]),
    ("1 qt 1 gal", VOLUME, ["is no volume"]),
    ("1 L 1 L", VOLUME, ["is no volume"]),
    ("-1 h 30 min", DURATION, ["is no duration"]),
    ("1 h -30 min", DURATION, ["is no unit of duration"]),
    ("1h,5 min", DURATION, ["is no duration"]),
    ("1:30 h", DURATION, ['"90 min"']),
    ("1e400 L", VOLUME, ["too large"]),
    ("1e308 gal", VOLUME, ["too large"]),
    ("nan L", VOLUME, ["is no volume"]),
    ("inf L", VOLUME, ["is no volume"]),
    ("1_000 L", VOLUME, ["is no unit of volume"]),
    ("１ L", VOLUME, ["is no volume"]),
    ("1 L" + " " * 100, VOLUME, ["too long"]),
    ("5 K", TEMPERATURE, ["use °C or °F"]),
    ("5 °", TEMPERATURE, ["use °C or °F"]),
    ("5 °C 3 °F", TEMPERATURE, ["is no temperature"]),
    ("100 T", CELLS, ["use B or M"]),
    ("100 B", DENSITY, ["is no cell density", '"1.2 B/mL"']),
    ("12 °P", BRIX, ["is no Brix reading", '"12.1 °Bx"']),
    ("12 Brix", GRAVITY, ['"12 Brix" is no gravity', '"8.5 °P"', "reading of kind brix"]),
    ("12 °Bx", GRAVITY, ["reading of kind brix"]),
    ("1041", GRAVITY, ["is no specific gravity", 'write "1.041"']),
    ("41", GRAVITY, ['write "1.041"']),
    ("8.5", GRAVITY, ['"8.5 °P" (which is 1.034)', '"1.0085"']),
    ("1041 SG", GRAVITY, ['write "1.041"']),
    ("41 SG", GRAVITY, ['write "1.041"']),
    ("1.18", GRAVITY, ["from 0.989 to 1.160"]),
    ("1.3 SG", GRAVITY, ["from 0.989 to 1.160"]),
    ("50 °P", GRAVITY, ["from -3 to 36 °P"]),
    ("-4 °P", GRAVITY, ["from -3 to 36 °P"]),
    ("8 °P 1.034 SG", GRAVITY, ["is no gravity"]),
]

QUANTITY_LIKE = st.text("0123456789.,-+/eE ½\u00a0−°lLmgbpcfhdinSGxBzo", max_size=14)


@pytest.mark.parametrize(("text", "kind", "value"), GOOD)
def test_reads(text, kind, value):
    assert parse(text, kind) == pytest.approx(value, rel=1e-14)


@pytest.mark.parametrize(("text", "kind", "words"), BAD)
def test_refuses_and_says_what_would_be_right(text, kind, words):
    with pytest.raises(QuantityError) as refusal:
        parse(text, kind)
    for word in words:
        assert word in str(refusal.value)


def parsed_or_refused(text, kind, bare):
    try:
        return parse(text, kind, bare=bare)
    except QuantityError as refusal:
        return refusal


@given(st.text() | QUANTITY_LIKE, st.sampled_from(KINDS))
def test_any_text_gives_a_finite_quantity_or_a_quantity_error(text, kind):
    for bare in (None, kind.metric, kind.us):
        outcome = parsed_or_refused(text, kind, bare)
        if isinstance(outcome, QuantityError):
            assert outcome.right
            assert str(outcome).isprintable()
        else:
            assert isfinite(outcome)


@given(
    st.decimals(0, 10**6, places=3),
    st.sampled_from(EVERY_UNIT),
    st.sampled_from(["", " ", "\u00a0", "\u202f", "\u2009"]),
)
def test_comma_and_point_agree_whatever_the_blank(number, kind_and_unit, blank):
    kind, unit = kind_and_unit
    if kind is GRAVITY:
        number = 1 + number / 10**7 if unit.name == "SG" else number / 10**5
    point = f"{number}{blank}{unit.name}"
    assert parse(point, kind) == parse(point.replace(".", ","), kind) == parse(f" {number} {unit.name}\n", kind)


@pytest.mark.parametrize(
    ("text", "kind", "bare", "value"),
    [
        ("1,6", VOLUME, "L", 1.6),
        ("1 1/2", VOLUME, "gal", 5.678117676),
        ("1.6 L", VOLUME, "gal", 1.6),
        ("68", TEMPERATURE, "°F", 20.0),
        ("8.5", GRAVITY, "°P", 0.085),
        ("1.034", GRAVITY, "SG", extract_from_sg(1.034)),
    ],
)
def test_a_number_alone_is_taken_in_the_bare_unit(text, kind, bare, value):
    assert parse(text, kind, bare=bare) == value


def test_a_bare_unit_of_another_kind_is_the_programs_fault():
    with pytest.raises(ValueError, match="no unit of volume"):
        parse("5", VOLUME, bare="kg")


@pytest.mark.parametrize(
    ("text", "kind", "bare", "filed"),
    [
        ("1,6", VOLUME, "L", "1,6 L"),
        (" 1,6 l ", VOLUME, "L", "1,6 l"),
        ("40 fl oz", VOLUME, "L", "40 fl oz"),
        ("1 1/2", VOLUME, "gal", "1 1/2 gal"),
        ("90", DURATION, "min", "90 min"),
        ("1 h 30 min", DURATION, "min", "1 h 30 min"),
        ("41", GRAVITY, "SG", "1.041"),
        ("41", GRAVITY, None, "1.041"),
        ("1041.5", GRAVITY, "SG", "1.0415"),
        ("1,05", GRAVITY, "SG", "1.050"),
        ("10,2 p", GRAVITY, "SG", "10,2 p"),
        ("SG 1.041", GRAVITY, "SG", "SG 1.041"),
        ("10.2", GRAVITY, "°P", "10.2 °P"),
    ],
)
def test_what_is_filed_for_what_was_typed(text, kind, bare, filed):
    assert canonical(text, kind, bare) == filed


@given(QUANTITY_LIKE, st.sampled_from(EVERY_UNIT))
def test_what_is_filed_reads_as_what_was_typed(text, kind_and_unit):
    kind, unit = kind_and_unit
    try:
        typed = parse(text, kind, bare=unit.name)
    except QuantityError:
        with pytest.raises(QuantityError):
            canonical(text, kind, unit.name)
    else:
        assert parse(canonical(text, kind, unit.name), kind) == pytest.approx(typed, rel=1e-12, abs=1e-13)


def test_a_number_too_long_to_be_filed_with_its_unit_is_refused():
    with pytest.raises(QuantityError, match="too long"):
        canonical("0." + "0" * 97, VOLUME, "L")
