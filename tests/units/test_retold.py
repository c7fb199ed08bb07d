"""Sentences in other units: every quantity in them changed, nothing else."""

from __future__ import annotations

import re

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.units.retold import retold

UREG = pint.UnitRegistry()


@pytest.mark.parametrize(
    ("metric", "us"),
    [
        ("1.14 L in the flask, over 0.90 L: foam", "1.20 qt in the flask, over 30.4 fl oz: foam"),
        ("ice water 0 to 4 °C", "ice water 32.0 to 39.2 °F"),
        ("20–24 °C or so", "68.0–75.2 °F or so"),
        ("cool enough by now, 21 °C: read it", "cool enough by now, 69.8 °F: read it"),
        ("the next 100 mL of foam climb 8 mm here", "the next 3.4 fl oz of foam climb 0.31 in here"),
        ("80 g of powder, 1.06 kg of ice", "2.8 oz of powder, 2.34 lb of ice"),
        ("the weather: ± 1 °C", "the weather: ± 1 °C"),
        ("93 g/L at 1.034, 1.2 B/mL, 263 B", "93 g/L at 1.034, 1.2 B/mL, 263 B"),
        ("made on 2026-11-28 at 15:00, 10 min", "made on 2026-11-28 at 15:00, 10 min"),
    ],
)  # fmt: skip
def test_a_sentence_for_a_us_brewer(metric: str, us: str) -> None:
    assert retold(metric, "us") == us
    assert retold(metric, "metric") == metric


def test_with_a_decimal_comma() -> None:
    assert retold("1.14 L at 1.034, over 0.90 L.", "metric", comma=True) == "1,14 L at 1,034, over 0,90 L."
    assert retold("1.14 L.", "us", comma=True) == "1,20 qt."


@given(st.floats(0.05, 100.0))
def test_it_is_the_same_quantity_by_another_library(litres: float) -> None:
    number, unit = re.fullmatch(r"([\d.]+) (fl oz|qt|gal)", retold(f"{litres:.4f} L", "us")).groups()
    named = {"fl oz": UREG.US_fluid_ounce, "qt": UREG.US_liquid_quart, "gal": UREG.US_liquid_gallon}[unit]
    last_digit = 10.0 ** -len(number.partition(".")[2])
    # What was read has four decimals, 0.05 mL; what is told is right to half of its last digit.
    within = (0.5001 * last_digit * named).to("liter").magnitude + 0.00005
    assert (float(number) * named).to("liter").magnitude == pytest.approx(litres, rel=0.0, abs=within)


@given(st.text(max_size=80))
def test_any_text_survives(text: str) -> None:
    assert isinstance(retold(text, "us", comma=True), str)
