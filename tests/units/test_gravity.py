"""Gravity at the keyboard, where 1041, 41 and 1.041 mean the same."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.brewing.density import extract_from_sg
from workbench.errors import QuantityError
from workbench.units.gravity import sg_text, typed_sg
from workbench.units.parse import parse_typed_gravity

MEANS = {
    "1041": 1.041,
    "41": 1.041,
    "1.041": 1.041,
    "1,041": 1.041,
    "1 041": 1.041,
    "1.041 SG": 1.041,
    "sg 1.041": 1.041,
    "1041.5": 1.0415,
    "41.5": 1.0415,
    "8": 1.008,
    "08": 1.008,
    "120": 1.120,
    "160": 1.160,
    "0": 1.000,
    "1000": 1.000,
    "1.0": 1.000,
    "998": 0.998,
    "0.998": 0.998,
    "1.1": 1.100,
    "2": 1.002,
}

ASKED_BACK = {
    "8.5": ["could be °P or SG", '"8.5 °P" (which is 1.034)', '"1.0085"'],
    "8.0": ["could be °P or SG", '"1.008"'],
    "33,5": ["could be °P or SG", '"33,5 °P"', '"1.0335"'],
    "0.5": ["could be °P or SG"],
    "1": ['write "1.000" or "1.001"'],
    "-2": ["is no gravity", '"-2 °P"', '"0.998"'],
    "500": ["is no gravity", '"1.034"'],
    "161": ["is no gravity"],
    "1201": ["is no gravity"],
    "1190": ["from 0.989 to 1.160"],
    "950": ["from 0.989 to 1.160"],
    "12 Brix": ["reading of kind brix"],
    "41 SG": ['write "1.041"'],
    "1.6 L": ["is no gravity"],
    "": ["there is no gravity"],
    "heavy": ["is no gravity"],
}


@pytest.mark.parametrize(("text", "gravity"), MEANS.items())
def test_the_keyboards_table(text, gravity):
    assert parse_typed_gravity(text) == extract_from_sg(gravity)


@pytest.mark.parametrize(("text", "words"), ASKED_BACK.items())
def test_what_is_unclear_is_asked_back(text, words):
    with pytest.raises(QuantityError) as refusal:
        parse_typed_gravity(text)
    for word in words:
        assert word in str(refusal.value)


@pytest.mark.parametrize("text", ["10.2 °P", "10,2 p", "10.2 Plato"])
def test_plato_with_its_unit(text):
    assert parse_typed_gravity(text) == 0.102


@given(st.integers(2, 160))
def test_points_and_thousands_mean_the_same(points):
    assert typed_sg(f"{points}") == typed_sg(f"{1000 + points}") == float(f"1.{points:03}")


@given(st.integers(9890, 11600))
def test_the_full_text_is_read_back_and_has_three_decimals(ten_thousandths):
    text = sg_text(ten_thousandths / 10000)
    assert typed_sg(text) == ten_thousandths / 10000
    assert len(text) in {5, 6}
