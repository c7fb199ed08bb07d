"""A pane as plain lines: what the grid says, in words and in one column."""

from __future__ import annotations

import pytest

from tests.panes.scenes import EMPTY, ONE, READING, TWO, scene
from workbench.panes import clock, day, doses, steps, wort, yeast
from workbench.panes.glyphs import FULL
from workbench.panes.linear import linear

PANES = [yeast, wort, steps, doses, clock, day]
COOLING = """\
[[event]]
at = 2026-11-26T06:00:00Z
step = 1
what = "boil-on"
[[event]]
at = 2026-11-26T06:10:00Z
step = 1
what = "boil-done"
[[event]]
at = 2026-11-26T06:12:00Z
step = 1
what = "cool-on"
temperature = "2 °C"
[[reading]]
at = 2026-11-26T06:20:00Z
step = 1
kind = "temperature"
value = "60 °C"
[[reading]]
at = 2026-11-26T06:30:00Z
step = 1
kind = "temperature"
value = "38 °C"
"""
BOILING = COOLING[: COOLING.index("[[event]]", 5)]


def said(pane: object, text: str) -> list[str]:
    return linear(pane.rows, scene(text))  # type: ignore[attr-defined]


def test_label_value_unit_and_range_stand_in_one_line() -> None:
    lines = said(yeast, ONE)
    assert "beer typed 23 L" in lines
    assert "live 74 B (60 to 95) 74 %" in lines
    assert "pitched 263 B (186 to 349) fine: enough" in said(steps, ONE)
    assert "kept at 4 °C" in lines


def test_warnings_are_words_and_complete() -> None:
    lines = said(wort, ONE.replace("1.6 L", "2.4 L"))
    (boiling,) = [line for line in lines if line.startswith("boiling")]
    assert "danger:" in boiling or "caution:" in boiling
    assert "scald" in boiling


def test_what_is_not_known_is_said() -> None:
    assert "beer not given Enter set it" in said(yeast, EMPTY)
    assert "note not given" in said(day, ONE)


def test_a_clock_is_read_as_one_time() -> None:
    assert any("60:00" in line or "1:00:00" in line for line in said(clock, ONE + BOILING))


@pytest.mark.parametrize("text", [EMPTY, ONE, TWO + READING, ONE + COOLING, ONE + BOILING])
@pytest.mark.parametrize("pane", PANES, ids=lambda pane: pane.__name__.rpartition(".")[2])
def test_no_drawing_no_columns_no_signs(pane: object, text: str) -> None:
    lines = said(pane, text)
    assert any(lines)
    for line in lines:
        assert "  " not in line
        assert not set(line) & set("█▀▄▌▐░▒▓╌─│╱╲▔●•▸✓‼·–…"), line
        assert not line or any(c.isalnum() for c in line)


@pytest.mark.parametrize("pane", PANES, ids=lambda pane: pane.__name__.rpartition(".")[2])
def test_every_number_of_the_grid_is_in_it(pane: object) -> None:
    shown = scene(ONE)
    lines = " ".join(linear(pane.rows, shown))  # type: ignore[attr-defined]
    for row in pane.rows(shown._replace(glyphs=FULL), 200):  # type: ignore[attr-defined]
        for word in "".join(text for text, _ in row.spans).replace("–", " ").split():
            assert not word.strip("().").replace(".", "").isdecimal() or word.strip("().") in lines, word
