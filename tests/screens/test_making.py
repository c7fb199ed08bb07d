from __future__ import annotations

import tomllib
from typing import TYPE_CHECKING

import pytest

from tests.panes.scenes import ONE
from tests.screens.apps import app_on
from tests.screens.desks import desk_on, do, write
from workbench.screens import drawing
from workbench.session.read import read

if TYPE_CHECKING:
    from pathlib import Path

    from workbench.screens.desk import Desk

KEPT = ONE + '[keep]\ncells = "60 B"\n'


@pytest.fixture
def kept(tmp_path: Path) -> Desk:
    return do(desk_on(tmp_path / "one.toml", KEPT), "pane-3", "next-batch")


def test_a_name_makes_the_file_beside_this_one_and_says_so(kept: Desk, tmp_path: Path) -> None:
    write(kept, "Gate House")
    text = (tmp_path / "gate-house.toml").read_text("utf-8")
    outcome = read(tomllib.loads(text), text)
    assert (outcome.faults, outcome.notes) == ((), ())
    (lot,) = outcome.session.yeast
    assert (lot.kind, lot.cells_b, lot.from_file, lot.generation) == ("kept", 60.0, "one.toml", 1)
    assert outcome.session.batch.name == "Gate House"
    assert kept.entry is None
    assert "made gate-house.toml" in kept.said
    assert kept.store.text == KEPT


def test_a_file_that_is_there_is_never_overwritten(kept: Desk, tmp_path: Path) -> None:
    write(kept, "One")
    assert kept.entry is not None
    assert "is there already" in kept.entry.error
    assert kept.entry.line.text == "One"
    assert (tmp_path / "one.toml").read_text("utf-8") == KEPT


def test_the_field_stands_in_the_row_under_the_cursor(kept: Desk) -> None:
    lines = ["".join(text for text, _ in line) for line in drawing.pane(kept, 2, 47, 20, titled=False)]
    assert any("▸name" in line for line in lines)


def test_without_a_name_nothing_is_made(kept: Desk, tmp_path: Path) -> None:
    write(kept, "  ")
    assert kept.entry is None
    assert [path.name for path in tmp_path.glob("*.toml")] == ["one.toml"]


def test_where_nothing_is_kept_it_goes_to_where_that_is_set(tmp_path: Path) -> None:
    desk = do(desk_on(tmp_path / "one.toml", ONE), "next-batch")
    assert desk.entry is None
    assert desk.said == "nothing is kept of this batch yet: ⏎ sets how much, then n"
    do(desk, "edit")
    write(desk, "60 B")
    assert do(desk, "next-batch").entry is not None


async def test_by_its_key(tmp_path: Path) -> None:
    app = app_on(tmp_path / "one.toml", KEPT)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("3", "n", *"next", "enter")
    assert (tmp_path / "next.toml").exists()
