"""Where there is nothing to show every pane says what to press, and what it says is so."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.panes.scenes import AMBER, EMPTY, scene
from tests.screens.desks import desk_on, do
from workbench.panes import clock, day, doses, steps, wort
from workbench.panes.empty import leads
from workbench.panes.glyphs import ASCII, FULL
from workbench.panes.rows import draw

if TYPE_CHECKING:
    from pathlib import Path

ENOUGH = AMBER.replace('cells = "100 B"', 'cells = "100 B"\ncount = 9')


@pytest.mark.parametrize("pane", [wort, steps, doses, clock, day])
@pytest.mark.parametrize("cells", [34, 80])
def test_an_empty_batch_says_what_to_press_in_every_pane(pane: object, cells: int) -> None:
    for glyphs in (FULL, ASCII):
        shown = scene(EMPTY, glyphs=glyphs)
        lines = ["".join(text for text, _ in draw(row, cells, glyphs)) for row in pane.rows(shown, cells)]  # type: ignore[attr-defined]
        assert leads(shown) in " ".join(" ".join(lines).split())
        assert leads(shown) == f"1, then {glyphs.enter}, leads to a plan."


def test_those_keys_do_it(tmp_path: Path) -> None:
    desk = do(desk_on(tmp_path / "a.toml", EMPTY), "last", "pane-5", "pane-1", "edit")
    assert desk.entry is not None
    assert desk.entry.key == "batch.pitch_at"


def test_where_nothing_is_missing_it_says_what_can_be_done(tmp_path: Path) -> None:
    enough = scene(ENOUGH)
    assert not enough.plan.steps
    assert leads(enough).startswith("No starter is needed; 3, then + adds")
    desk = do(desk_on(tmp_path / "a.toml", ENOUGH), "pane-3", "add")
    assert desk.entry is not None
    assert desk.entry.key == "step.0.wort"
