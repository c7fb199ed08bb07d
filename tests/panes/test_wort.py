from __future__ import annotations

from tests.panes.scenes import EMPTY, ONE, READING, TWO, row_of, said, scene, text_of
from workbench.panes import wort


def test_powder_and_water_for_the_gravity_wanted() -> None:
    rows = wort.rows(scene(ONE), 36)
    text = text_of(rows, 36)
    assert "powder     149 g" in text
    assert "water        1.59 L" in text
    assert "of 2.10 L" in said(row_of(rows, "step.0.hot"))


def test_every_input_can_be_edited_and_no_result() -> None:
    keys = {row.key for row in wort.rows(scene(ONE), 36) if row.key}
    names = {"gravity", "wort", "top_up", "boil_in", "boil_time", "boil_off"}
    assert keys == {f"step.0.{name}" for name in names} | {"wort.extract_fraction"}


def test_the_feeding_considered_is_shown() -> None:
    first, second = wort.rows(scene(TWO), 36), wort.rows(scene(TWO, step=1), 36)
    assert "1 of 2" in text_of(first, 36)
    assert row_of(second, "step.1.wort").key == "step.1.wort"


def test_over_the_boil_limit_the_figure_says_so() -> None:
    row = row_of(wort.rows(scene(ONE.replace("1.6 L", "2.4 L")), 36), "step.0.hot")
    assert "of 2.10 L" not in said(row)  # the warning says it
    assert [w.code for w in row.warnings] == ["boil-over"]


def test_a_reading_stands_with_what_it_truly_was() -> None:
    rows = wort.rows(scene(ONE + READING), 36)
    assert "at 24 °C" in said(row_of(rows, "reading.0.value"))
    true = row_of(rows, "reading.0.true")
    assert true.figure is not None
    assert true.figure.value is not None
    assert "1.034" in said(true)  # R·ρ_w(20)(1 - γ·4)/ρ_w(24) puts about 0.0008 on top
    assert true.table == ("reading", 0)


def test_a_reading_belongs_to_its_feeding() -> None:
    assert "read" not in text_of(wort.rows(scene(TWO + READING, step=1), 36), 36)


def test_without_a_feeding_the_usual_wort_is_there_to_edit() -> None:
    rows = wort.rows(scene(EMPTY), 36)
    assert row_of(rows, "wort.gravity").key == "wort.gravity"


def test_the_decimal_mark_may_be_a_comma() -> None:
    assert "water        1,59 L" in text_of(wort.rows(scene(ONE, comma=True), 36), 36)


BOILED = "".join(
    f'[[event]]\nat = 2026-11-26T0{at}Z\nstep = 1\nwhat = "{what}"\n'
    for at, what in (("5:00:00", "boil-on"), ("5:{end}", "boil-done"))
)


def boiled(minutes: str) -> str:
    return ONE + BOILED.replace("{end}", minutes)


def test_a_boil_as_long_as_planned_leaves_the_gravity_as_it_was() -> None:
    rows = wort.rows(scene(boiled("10:02")), 36)
    assert not any(row.id == "step.0.true" for row in rows), "no other gravity can be seen"
    assert "measured" not in text_of(rows, 36)


def test_a_longer_one_says_that_it_is_as_boiled_and_a_reading_that_it_is_measured() -> None:
    assert "as boiled" in said(row_of(wort.rows(scene(boiled("30:00")), 36), "step.0.true"))
    rows = wort.rows(scene(boiled("30:00") + READING), 36)
    assert "measured" in said(row_of(rows, "step.0.true"))
    assert "as boiled" not in text_of(rows, 36)
