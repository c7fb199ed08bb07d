"""The two of gravity, wort, powder and water that were typed last stand; the other two follow."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.panes.scenes import ONE
from tests.screens.desks import desk_on, do, pane_text, write
from workbench.brewing.density import sg

if TYPE_CHECKING:
    from pathlib import Path

    from workbench.screens.desk import Desk


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return do(desk_on(tmp_path / "one.toml", ONE), "pane-2")


def enter(desk: Desk, term: str, text: str) -> None:
    desk.put(f"step.0.{term}")
    do(desk, "edit")
    write(desk, text)


def terms(desk: Desk) -> dict[str, float]:
    step = desk.plan.steps[0]
    figures = {"powder": step.powder_g, "water": step.water_l, "wort": step.wort_l}
    return {name: figure.value or 0.0 for name, figure in figures.items()} | {"gravity": sg(step.planned_w)}


def test_powder_typed_stands_and_the_gravity_is_held(desk: Desk) -> None:
    before = terms(desk)
    enter(desk, "powder", "200 g")
    after = terms(desk)
    assert after["powder"] == pytest.approx(200.0, rel=5e-4)
    assert after["gravity"] == pytest.approx(before["gravity"], abs=1e-5)
    assert after["wort"] == pytest.approx(before["wort"] * 200.0 / before["powder"], rel=1e-3)
    assert "as typed" in pane_text(desk)


def test_powder_and_water_give_the_gravity(desk: Desk) -> None:
    # mass balance of 100 g powder with 95 % extract in 1 L of water, 50 mL boiled off: SG 1.0361, 1013.6 mL (computed)
    enter(desk, "boil_off", "50 mL")
    enter(desk, "powder", "100 g")
    enter(desk, "water", "1 L")
    after = terms(desk)
    assert after["gravity"] == pytest.approx(1.03611, abs=3e-5)
    assert after["wort"] == pytest.approx(1.0136, abs=2e-4)
    assert after["powder"] == pytest.approx(100.0, rel=5e-4)


def test_the_term_typed_before_stands_when_the_gravity_is_typed(desk: Desk) -> None:
    enter(desk, "water", "1,5 l")
    enter(desk, "gravity", "1041")
    after = terms(desk)
    assert after["water"] == pytest.approx(1.5, abs=1e-3)
    assert after["gravity"] == pytest.approx(1.041, abs=1e-5)


def test_gravity_and_wort_are_written_as_typed(desk: Desk) -> None:
    enter(desk, "wort", "54 fl oz")
    assert 'wort = "54 fl oz"' in desk.store.text
    enter(desk, "gravity", "9 °P")
    assert 'gravity = "9 °P"' in desk.store.text


@pytest.mark.parametrize(("term", "text"), [("powder", "2 L"), ("powder", "a lot"), ("water", "-1 L"), ("powder", "0")])
def test_what_is_no_answer_is_said_and_changes_nothing(desk: Desk, term: str, text: str) -> None:
    before = desk.store.text
    enter(desk, term, text)
    assert desk.entry is not None
    assert desk.entry.error.startswith(f'"{text}" is '), "of what was typed, not of what would come of it"
    assert desk.entry.line.text == text
    assert desk.store.text == before


def test_of_a_gravity_water_is_the_least_not_nothing(desk: Desk) -> None:
    enter(desk, "powder", "150 g")
    enter(desk, "gravity", "1.000")
    assert desk.entry is not None
    assert desk.entry.error == '"1.000" is out of range: write more than 1.000'


def test_one_undo_takes_both_terms_back(desk: Desk) -> None:
    before = desk.store.text
    enter(desk, "powder", "200")
    do(desk, "undo")
    assert desk.store.text == before
    assert "as typed" not in pane_text(desk)


@pytest.mark.parametrize("text", ["100 g/L", "100 g/l", "0.1 kg/L"])
def test_a_dose_to_the_litre_is_that_of_the_wort_there_is(desk: Desk, text: str) -> None:
    # 100 g/L: common practice, no source; 1.6 L take 160 g, and the pane says the dose back
    before = terms(desk)
    enter(desk, "powder", text)
    after = terms(desk)
    assert after["wort"] == pytest.approx(before["wort"], abs=1e-4)
    assert after["powder"] == pytest.approx(160.0, rel=1e-3)
    assert desk.plan.steps[0].powder_g_per_l.value == pytest.approx(100.0, rel=1e-3)
