from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.brewing.flask import Measures, shape, typical_measures
from workbench.panes.flask_picture import flask
from workbench.panes.glyphs import ASCII, CONSOLE, FULL, OUTLINE, Glyphs
from workbench.panes.spans import width

if TYPE_CHECKING:
    from workbench.panes.spans import Spans

THREE = shape(3.0, typical_measures(3.0))


def picture(level: float | None, limit: float | None, below: float | None, glyphs: Glyphs) -> list[Spans]:
    litres = {"level": level, "limit": limit, "below": below}
    labels = {name: f"{held:.2f}" for name, held in litres.items() if held is not None}
    return flask(THREE, litres, labels, 12, 17, glyphs)


def drawn(level: float | None, limit: float | None, below: float | None = None, glyphs: Glyphs = FULL) -> list[str]:
    return ["".join(text for text, _ in line) for line in picture(level, limit, below, glyphs)]


@pytest.mark.parametrize("glyphs", [FULL, OUTLINE, CONSOLE, ASCII])
def test_every_line_is_as_wide_as_its_place(glyphs: Glyphs) -> None:
    assert {width(line) for line in picture(1.6, 2.7, 0.8, glyphs)} == {17}


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
    roles = {role for line in picture(None, 2.7, None, FULL) for _, role in line}
    assert "wort" not in roles


def test_a_fuller_flask_has_more_wort_in_it() -> None:
    def cells(level: float) -> int:
        lines = picture(level, None, None, FULL)
        return sum(len(text) for line in lines for text, role in line if role == "wort")

    assert cells(0.5) < cells(1.5) < cells(2.5)


@given(
    st.floats(0.25, 6.0), st.floats(1, 400), st.floats(1, 600), st.floats(1, 200), st.floats(0, 8),
    st.integers(4, 40), st.integers(8, 60), st.sampled_from([FULL, OUTLINE, CONSOLE, ASCII]),
)  # fmt: skip
def test_no_flask_and_no_place_breaks_the_drawing(
    size: float, base: float, height: float, neck: float, level: float, rows: int, cells: int, glyphs: Glyphs
) -> None:
    glass = shape(size, Measures(base, height, neck, 2.0, 3.0))
    lines = flask(glass, {"level": level, "limit": size}, {"level": "1"}, rows, cells, glyphs)
    assert 1 <= len(lines) <= rows + 1
