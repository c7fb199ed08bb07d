"""The flask large: what is said beside it, and that it holds in any width and in plain letters."""

from __future__ import annotations

import pytest

from tests.panes.scenes import EMPTY, ONE, TWO, scene
from workbench.panes.glyphs import ASCII, FULL
from workbench.panes.large_flask import large_flask
from workbench.panes.spans import width


def told(text: str, cells: int = 78, glyphs=FULL) -> str:
    return "\n".join(
        "".join(part for part, _ in line) for line in large_flask(scene(text)._replace(glyphs=glyphs), cells)
    )


def test_cold_hot_limits_and_foam_are_beside_it():
    text = told(ONE)
    for said in (
        "1.60 L cold",
        "at the boil",
        "2.10 L boil limit",
        "2.70 L fill limit",
        "(100 mL foam)",  # the level has it already
        "mm bath",
    ):
        assert said in text


@pytest.mark.parametrize("system", ["metric", "us"])
def test_nothing_beside_it_is_cut_in_the_narrowest_pane(system):
    lines = large_flask(scene(ONE)._replace(system=system), 34)
    text = "\n".join("".join(part for part, _ in line) for line in lines)
    assert "…" not in text
    assert "foam" in text


def test_the_bath_is_told_in_millimetres():
    text = told(ONE)
    assert "fill the bath to 98 mm" in text
    assert "it floats" in text.replace("\n ", " ")
    heavy = told(ONE.replace("[flask]\n", '[flask]\nglass = "3 kg"\n'))
    assert "it never floats" in heavy.replace("\n ", " ")


def test_the_bath_goes_by_the_wort_that_cools_in_it():
    kept = ONE.replace('kind = "pack"', 'kind = "kept"\nvolume = "500 mL"')
    text, alone = told(kept), told(ONE)
    assert scene(kept).plan.steps[0].flask_l.value == pytest.approx(2.1)
    assert "98 mm bath" in alone
    for said in ("wort to cool up to 80 mm", "fill the bath to 98 mm at most", "floats at 113 mm"):
        assert said in alone
        assert said in text


def test_in_a_pot_nothing_boils_or_cools_in_the_flask():
    scened = scene(TWO)._replace(step=1)
    text = "\n".join("".join(part for part, _ in line) for line in large_flask(scened, 78))
    assert "1.60 L" not in text
    assert "2.20 L cold" in text
    for said in ("at the boil", "bath", "float"):
        assert said not in text


def test_what_boils_over_the_rim_is_told_before_anything_else():
    text = told(ONE.replace('"1.6 L"', '"3.4 L"'))
    for said in ("3.62 L at the boil", "foam over the rim", "2.10 L boil limit", "2.70 L fill limit"):
        assert said in text
    assert text.index("foam over the rim") < text.index("at the boil") < text.index("fill limit")


def test_in_us_units_nothing_is_metric():
    text = "\n".join("".join(part for part, _ in line) for line in large_flask(scene(ONE)._replace(system="us"), 78))
    assert "3.9 in bath" in text
    for metric in (" mL", " L ", " mm"):
        assert metric not in text


def test_without_a_feeding_it_says_what_to_do():
    assert "pane 3" in told(EMPTY)


@pytest.mark.parametrize("glyphs", [FULL, ASCII])
@pytest.mark.parametrize("cells", [30, 36, 48, 60, 80, 120])
def test_it_holds_in_any_width(cells, glyphs):
    lines = large_flask(scene(ONE)._replace(glyphs=glyphs), cells)
    assert all(width(line) <= cells for line in lines)
    if glyphs is ASCII:
        assert told(ONE, cells, ASCII).isascii()
