from __future__ import annotations

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from workbench.panes.flask_picture import flask, height_mm, radius_mm
from workbench.panes.glyphs import ASCII, CONSOLE, FULL, OUTLINE, Glyphs
from workbench.panes.spans import width


@pytest.mark.parametrize("litres", [0.1, 0.5, 1.0, 1.6, 1.9, 2.05])
def test_what_stands_below_a_level_is_what_was_poured_in(litres: float) -> None:
    """The flask's profile integrated (scipy) up to the height."""
    mm3, _ = quad(lambda h: pi * radius_mm(h) ** 2, 0.0, height_mm(litres), points=[213.0])
    assert mm3 / 1e6 == pytest.approx(litres, rel=1e-6)


@given(st.floats(0, 3), st.floats(0, 3))
def test_more_stands_higher(a: float, b: float) -> None:
    low, high = sorted((a, b))
    assert height_mm(low) <= height_mm(high) <= 280.0


def drawn(level: float | None, limit: float | None, below: float | None = None, glyphs: Glyphs = FULL) -> list[str]:
    return ["".join(text for text, _ in line) for line in flask(3.0, level, limit, below, 12, 17, glyphs)]


@pytest.mark.parametrize("glyphs", [FULL, OUTLINE, CONSOLE, ASCII])
def test_every_line_is_as_wide_as_its_place(glyphs: Glyphs) -> None:
    assert {width(line) for line in flask(3.0, 1.6, 2.7, 0.8, 12, 17, glyphs)} == {17}


def test_the_litres_stand_beside_what_they_measure() -> None:
    lines = drawn(1.6, 2.7, 0.5)
    (limit,) = [line for line in lines if "2.70" in line]
    assert "╌" in limit
    order = [next(i for i, line in enumerate(lines) if number in line) for number in ("2.70", "1.60", "0.50")]
    assert order == sorted(order)


def test_two_levels_in_one_row_are_both_told() -> None:
    text = "\n".join(drawn(2.69, 2.7))
    assert "2.69" in text
    assert "2.70" in text


def test_an_unknown_level_draws_an_empty_flask() -> None:
    roles = {role for line in flask(3.0, None, 2.7, None, 12, 17, FULL) for _, role in line}
    assert "wort" not in roles


def test_a_fuller_flask_has_more_wort_in_it() -> None:
    def cells(level: float) -> int:
        lines = flask(3.0, level, None, None, 12, 17, FULL)
        return sum(len(text) for line in lines for text, role in line if role == "wort")

    assert cells(0.5) < cells(1.5) < cells(2.5)
