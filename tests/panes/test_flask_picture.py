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


def large(litres: dict[str, float], bath_mm: float | None = None, rows: int = 16, glyphs: Glyphs = FULL) -> list[str]:
    """The lines of the large picture, from the bottom up; each label is its name."""
    labels = {name: f"<{name}>" for name in (*litres, "float")}
    heights = {} if bath_mm is None else {"float": bath_mm}
    lines = flask(THREE, litres, labels, rows, 60, glyphs, label=22, heights=heights)
    return ["".join(text for text, _ in line).rstrip() for line in lines[::-1] if "▔" not in line[0][0]]


def row_with(lines: list[str], text: str) -> int:
    (row,) = [i for i, line in enumerate(lines) if text in line]
    return row


def test_what_does_not_go_in_is_told_at_the_rim() -> None:
    lines = large({"hot": 3.6, "boil": 2.1, "climb": 3.7, "limit": 2.7, "level": 3.2}, 98.0)
    assert lines[-1].endswith(" <climb>")
    assert lines[-2].endswith("▴ <hot>")
    assert any("<float>" in line for line in lines)
    assert not any("<level>" in line for line in lines)  # two rows down it would be no height of its own


def test_a_label_next_to_its_row_says_which_way_that_is() -> None:
    lines = large({"hot": 1.64, "climb": 1.74, "level": 1.6}, 95.0)
    assert row_with(lines, "<hot>") - row_with(lines, "<level>") == 1
    assert sum("▴ <" in line or "▾ <" in line for line in lines) >= 2
    apart = "".join(large({"level": 0.5, "limit": 2.7}, 98.0))
    assert "▴" not in apart
    assert "▾" not in apart


@given(
    st.lists(st.floats(0.0, 4.0), min_size=5, max_size=5),
    st.floats(0.0, 300.0),
    st.integers(4, 16),
    st.sampled_from([FULL, ASCII]),
)
def test_labels_stand_in_order_next_to_their_rows_at_most_and_a_sign_tells_no_lie(
    litres: list[float], bath_mm: float, rows: int, glyphs: Glyphs
) -> None:
    levels = dict(zip(("hot", "boil", "climb", "limit", "level"), litres, strict=True))
    lines = large(levels, bath_mm, rows, glyphs)
    alone = {name: row_with(large({name: held}, None, rows, glyphs), f"<{name}>") for name, held in levels.items()}
    alone["float"] = row_with(large({}, bath_mm, rows, glyphs), "<float>")
    told = [name for name in alone if f"<{name}>" in "".join(lines)]
    assert "hot" in told
    at = {name: row_with(lines, f"<{name}>") for name in told}
    ranked = sorted(told, key=lambda name: levels.get(name, 0.0))
    assert [at[n] for n in ranked if n != "float"] == sorted(at[n] for n in ranked if n != "float")
    for name, row in at.items():
        off = row - alone[name]
        assert abs(off) <= 1
        sign = {-1: glyphs.above, 1: glyphs.more, 0: glyphs.limit if name == "float" else ""}[off]
        before = lines[row].partition(f" <{name}>")[0]
        assert before.endswith(sign)
        assert off or not before.endswith((glyphs.above, glyphs.more))


@pytest.mark.parametrize("glyphs", [FULL, OUTLINE, CONSOLE, ASCII])
def test_the_bath_is_a_line_outside_the_glass_at_its_own_height(glyphs: Glyphs) -> None:
    for bath_mm in (40.0, 95.0, 200.0):
        lines = large({"level": 1.6, "limit": 2.7}, bath_mm, glyphs=glyphs)
        (outside,) = [i for i, line in enumerate(lines) if line.startswith(glyphs.limit)]
        tall = THREE.height_mm(THREE.brim_l)
        assert outside == pytest.approx(bath_mm / tall * len(lines) - 0.5, abs=0.8)


def test_in_few_rows_the_weightiest_are_told() -> None:
    levels = {"hot": 1.7, "boil": 2.1, "climb": 1.8, "limit": 2.7, "level": 1.6}
    text = "".join(large(levels, 98.0, rows=4))
    assert [name for name in (*levels, "float") if f"<{name}>" in text] == ["hot", "boil", "climb", "limit"]
