"""Numbers inside reasons and warnings, and a chance in plain words."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.brewing.density import extract_from_sg
from workbench.plan import words
from workbench.plan.chance import in_words


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (words.cells(213.6), "214 B"),
        (words.cells(7.42), "7.42 B"),
        (words.cells(99.96), "100 B"),
        (words.cells(12345.6), "12346 B"),
        (words.cells(0.0), "0 B"),
        (words.density(0.0436), "43.6 M/mL"),
        (words.density(0.09996), "0.1 B/mL"),
        (words.density(0.35), "0.35 B/mL"),
        (words.spread(186.2, 348.9), "186–349 B"),
        (words.spread(None, 348.9), "range not known"),
        (words.litres(1.6), "1.60 L"),
        (words.millilitres(79.7), "80 mL"),
        (words.grams(148.6), "149 g"),
        (words.grams(7.26), "7.3 g"),
        (words.gravity(extract_from_sg(1.034)), "1.034"),
        (words.gravity(extract_from_sg(1.0335)), "1.0335"),
        (words.gravity(extract_from_sg(1.1)), "1.100"),
        (words.gravity(0.0), "1.000"),
        (words.hours(21.94), "21.9 h"),
    ],
)
def test_numbers_as_words(text, expected):
    assert text == expected


def test_many_hours_as_words():
    assert words.hours(1200.0) == "1200 h"


@pytest.mark.parametrize(
    ("chance", "of_need", "told"),
    [
        (0.97, 1.3, "near sure to reach the full rate; a tenth under is no drama"),
        (0.85, 1.2, "likely to reach the full rate; a tenth under is no drama"),
        (0.5, 1.0, "even odds of the full rate; a tenth under is no drama"),
        (0.3, 0.9, "poor odds of the full rate; a tenth under is no drama"),
        (0.1, 0.8, "unlikely to reach the full rate"),
        (0.0, 0.2, "hardly a chance of the full rate"),
    ],
)
def test_a_chance_as_words(chance, of_need, told):
    assert in_words(chance, of_need) == told
    assert in_words(chance, of_need, "all of it") == told.replace("the full rate", "all of it")


def test_better_odds_have_other_words():
    told = [in_words(chance) for chance in (0.0, 0.1, 0.3, 0.5, 0.7, 0.9, 1.0)]
    assert len(set(told)) == len(told)
    assert "even odds" in in_words(0.5)


@given(st.floats(0.0, 1.0))
def test_every_chance_has_its_words(chance):
    assert "a tenth under is no drama" in in_words(chance)
