"""Numbers as people type them."""

from __future__ import annotations

from math import isfinite

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.errors import QuantityError
from workbench.units.number import fold, quote, read_number, tidy

GOOD = {
    "1.6": 1.6,
    "1,6": 1.6,
    ".5": 0.5,
    ",5": 0.5,
    "5.": 5.0,
    "+3": 3.0,
    "-3": -3.0,
    "−3": -3.0,
    "− 3,5": -3.5,
    "  7  ": 7.0,
    "1 600": 1600.0,
    "1\u00a0600": 1600.0,
    "1\u202f600": 1600.0,
    "1\u2009600,5": 1600.5,
    "12 345 678.9": 12345678.9,
    "1 1/2": 1.5,
    "1\u00a01/2": 1.5,
    "3/2": 1.5,
    "1⁄2": 0.5,
    "3 / 4": 0.75,
    "-1 1/2": -1.5,
    "½": 0.5,
    "1½": 1.5,
    "1 ¾": 1.75,
    "-⅛": -0.125,
    "1e3": 1000.0,
    "1,5E-3": 0.0015,
    "1,234": 1.234,
    "1.234": 1.234,
}

BAD = {
    "": "no number",
    "   ": "no number",
    "-": "no number",
    "1,234.5": "write 1234.5",
    "1.234,5": "write 1234.5",
    "-1,234.5": "write -1234.5",
    "1,234,567": "write 1234567",
    "1.234.567": "write 1234567",
    "12,34.5": "no number",
    "nan": "no number",
    "inf": "no number",
    "infinity": "no number",
    "1e400": "too large",
    "-1e400": "too large",
    "9" * 80 + "e300": "too large",
    "1_000": "no number",
    "１２": "no number",
    "٣": "no number",
    "1²": "no number",
    "0x10": "no number",
    "1 2": "more than one number",
    "1 60": "more than one number",
    "1.6 2.5": "more than one number",
    "0 600": "more than one number",
    "1/0": "no number",
    "1 3/2": "more than one number",
    "1.5 1/2": "more than one number",
    "--1": "no number",
    "1'600": "no number",
    "7" * 101: "too long",
}


@pytest.mark.parametrize(("text", "value"), GOOD.items())
def test_reads(text, value):
    assert read_number(text) == value


@pytest.mark.parametrize(("text", "says"), BAD.items())
def test_refuses_and_says_what_would_be_right(text, says):
    with pytest.raises(QuantityError) as refusal:
        read_number(text)
    assert says in str(refusal.value)
    assert refusal.value.right


def test_minus_nothing_is_nothing():
    assert str(read_number("-0")) == "0.0"


@given(st.text() | st.text("0123456789.,-+/eE ½¾\u00a0\u202f−", max_size=12))
def test_any_text_gives_a_finite_number_or_a_quantity_error(text):
    try:
        value = read_number(text)
    except QuantityError:
        return
    assert isfinite(value)


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_every_float_is_read_back_with_point_and_with_comma(value):
    assert read_number(repr(value)) == value
    assert read_number(repr(value).replace(".", ",")) == value


@given(st.integers(1000, 10**15), st.sampled_from(" \u00a0\u202f\u2009\u2007\u3000"))
def test_thousands_may_stand_apart(value, blank):
    assert read_number(f"{value:,}".replace(",", blank)) == value


@given(st.integers(0, 999), st.integers(1, 98), st.integers(2, 99))
def test_mixed_fractions(whole, top, bottom):
    if top < bottom:
        assert read_number(f"{whole} {top}/{bottom}") == whole + top / bottom
    assert read_number(f"{top}/{bottom}") == top / bottom


@given(st.text(max_size=300))
def test_a_quotation_is_short_and_fit_for_a_terminal(text):
    quoted = quote(text)
    assert quoted.isprintable()
    assert len(quoted) <= 42
    quoted.encode("utf-8")


def test_a_quotation_shows_no_control_characters():
    assert quote("1\x1b[31m\u202eL\ud800") == '"1␛[31m�L�"'


def test_folding_makes_one_kind_of_blank():
    assert fold("\u00a01\u202f\u2009 1/2\tgal\n") == "1 1/2 gal"


@given(st.floats(-1e12, 1e12, allow_subnormal=False))
def test_tidying_keeps_fifteen_digits(value):
    assert tidy(value) == pytest.approx(value, rel=1e-14, abs=0)
    assert tidy(tidy(value)) == tidy(value)
