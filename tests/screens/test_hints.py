"""The line above the keys says what the row under the cursor means, in every pane, and while it is typed."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.panes.scenes import AMBER, CET, EMPTY, NOW, ONE, READING, TWO
from tests.screens.desks import desk_on, do, pane_text, write
from tests.screens.test_pages import SESSIONS
from workbench import demo
from workbench.panes.glyphs import ASCII
from workbench.panes.rows import stops
from workbench.screens import finder
from workbench.screens.hints import FIGURES, hint
from workbench.screens.keys import PANES

if TYPE_CHECKING:
    from pathlib import Path

    from workbench.screens.desk import Desk


def said(desk: Desk, cells: int = 200) -> str:
    return "".join(text for text, _ in hint(desk, cells))


@pytest.mark.parametrize("text", SESSIONS.values(), ids=SESSIONS)
def test_every_stop_of_every_pane_has_a_meaning(tmp_path: Path, text: str) -> None:
    desk = desk_on(tmp_path / "a.toml", text)
    for desk.pane in range(len(PANES)):
        for index in stops(desk.rows(desk.pane)):
            row = desk.rows(desk.pane)[index]
            desk.put(row.id)
            assert len(said(desk)) > 8, row.id
            assert "…" not in said(desk, 80), row.id


def test_what_is_added_after_the_boil_is_boiled_and_the_gravity_read_anew(tmp_path: Path) -> None:
    desk = desk_on(tmp_path / "a.toml", ONE)
    for read, row in (("1.028", "powder"), ("1.040", "water")):
        do(desk, "boil", "boil", "end", "measure")
        write(desk, read)
        do(desk, "pane-4")
        desk.put(f"fix.0.{row}")
        assert "boiled" in said(desk)
        assert "then m reads it" in said(desk)
        do(desk, "undo", "undo", "undo", "undo")


def test_in_the_middle_of_a_day_too(tmp_path: Path) -> None:
    text = demo.shifted(SESSIONS[demo.DEFAULT], NOW, CET)
    test_every_stop_of_every_pane_has_a_meaning(tmp_path, text)
    assert "cool at" in pane_text(desk_on(tmp_path / "b.toml", text), 4)


def test_while_planning_too(tmp_path: Path) -> None:
    desk = do(desk_on(tmp_path / "a.toml", AMBER), "pane-3", "plan")
    assert "⏎ takes it" in said(desk)


def test_a_field_has_its_meaning_and_range_in_the_units_shown(tmp_path: Path) -> None:
    desk = do(desk_on(tmp_path / "a.toml", ONE), "down")
    assert said(desk) == " beer in the fermenter; usually 19–25 L"
    do(desk, "units")
    assert said(desk) == " beer in the fermenter; usually 5–6.6 gal"
    desk.glyphs = ASCII
    assert said(desk).isascii()
    do(desk, "edit")
    assert said(desk) == " beer in the fermenter; usually 5-6.6 gal"
    desk.entry = None
    do(desk, "down", "down")
    assert said(desk) == " sets the usual rate and growth temperatures; ale or lager: space turns it"


def test_of_a_lot_and_of_a_reading_it_goes_by_the_kind(tmp_path: Path) -> None:
    desk = desk_on(tmp_path / "a.toml", SESSIONS["no feeding"] + READING)
    for key, means in (
        ("yeast.0.cells", " cells in each pack when new, by its label; usually 100–200 B"),
        ("yeast.2.volume", " slurry on hand, as it stands settled; usually 100–500 mL"),
        ("yeast.3.volume", " the liquid that the kept yeast stands in; usually 100–500 mL"),
    ):
        desk.put(key)
        assert said(desk) == means
        do(desk, "edit")
        assert said(desk) == means
        desk.entry = None
    desk = do(desk_on(tmp_path / "b.toml", ONE + READING), "pane-2", "last")
    desk.put("reading.0.value")
    assert said(desk) == " gravity as it was read, not put right; usually 1.030–1.040"


def test_a_question_without_a_row_says_what_it_wants(tmp_path: Path) -> None:
    desk = do(desk_on(tmp_path / "a.toml", ONE), "pane-2", "measure")
    assert said(desk).startswith(" gravity as read, the sample's temperature")
    assert "usually" not in said(desk)


def test_a_page_has_none(tmp_path: Path) -> None:
    assert said(do(desk_on(tmp_path / "a.toml", TWO), "why")) == ""


def test_a_list_tells_the_name_that_the_settings_have_for_what_is_under_its_cursor(tmp_path: Path) -> None:
    desk = do(desk_on(tmp_path / "a.toml", TWO), "help")
    assert desk.finder is not None
    finder.paste(desk, "next word")
    assert said(desk) == " in the settings: turn"


def test_quantities_in_it_are_in_the_units_shown(tmp_path: Path) -> None:
    desk = do(desk_on(tmp_path / "a.toml", TWO), "units", "pane-4")
    desk.comma = True
    desk.put("dose.powder")
    assert said(desk).endswith("usually about 3,5 oz for 1,06 qt")


def test_the_page_of_reasons_says_it_with_whose_word_it_is(tmp_path: Path) -> None:
    desk = do(desk_on(tmp_path / "a.toml", EMPTY), "down", "down", "down", "down", "why")
    assert desk.page is not None
    page = "\n".join("".join(text for text, _ in line) for line in desk.page.lines(80))
    assert "usually\n ale 0.75, lager 1.5 (S. Terrill, Aeration and Yeast Starters, 2010)" in page
    desk.page = None
    do(desk, "down", "why")
    assert desk.page is not None
    assert FIGURES["need"] in "\n".join("".join(text for text, _ in line) for line in desk.page.lines(80))


def test_of_a_build_for_the_shelf_the_hour_is_that_of_the_fridge(tmp_path: Path) -> None:
    desk = desk_on(tmp_path / "a.toml", EMPTY + '[keep]\ncells = "60 B"\n')
    desk.put("batch.pitch_at")
    assert "when it goes into the fridge" in said(desk)
    do(desk, "edit")
    assert "when it goes into the fridge" in said(desk)
