"""The list of what can be done, without a terminal."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.panes.scenes import ONE
from tests.screens.desks import desk_on, do
from workbench.panes.glyphs import ASCII, CONSOLE, FULL
from workbench.panes.spans import width
from workbench.screens import bars, choices, drawing, finder
from workbench.screens.finder import Choice, Finder
from workbench.screens.keys import ACTIONS, HOME_ACTIONS, PANES

if TYPE_CHECKING:
    from pathlib import Path

    from workbench.panes.spans import Spans
    from workbench.screens.desk import Desk

THEMES = ("one", "two")


def typed(finder_: Finder, text: str) -> list[str]:
    finder_.line = finder_.line.cut(0).insert(text)
    return [choice.action for choice in finder_.found]


def text_of(lines: list[Spans]) -> list[str]:
    return ["".join(text for text, _ in line).rstrip() for line in lines]


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return desk_on(tmp_path / "a.toml", ONE)


@pytest.mark.parametrize("pane", range(6))
def test_the_keys_of_a_pane_are_all_its_own_first_and_moving_last(pane: int) -> None:
    listed = choices.of_pane(ACTIONS, pane)
    assert sorted(c.action for c in listed) == sorted(a.id for a in ACTIONS if pane in a.panes)
    groups = list(dict.fromkeys(choice.group for choice in listed))
    assert groups == [f"in {PANES[pane]}", "in every pane", "moving"]
    assert listed[0].action == "edit"


@pytest.mark.parametrize("pane", range(6))
def test_the_whole_list_has_every_action_once_every_form_and_every_theme(pane: int) -> None:
    listed = choices.all_of(ACTIONS, pane, THEMES)
    assert sorted(c.action for c in listed if not c.told) == sorted(a.id for a in ACTIONS)
    assert {c.told for c in listed if c.told} == {*choices.FORMS, *THEMES}
    for choice in listed:  # what is found under another pane's name is not of this one
        action = next((a for a in ACTIONS if a.id == choice.action and not choice.told), None)
        if action is not None and pane not in action.panes:
            assert choice.group == f"in {', '.join(PANES[i] for i in sorted(action.panes))}"


def test_the_home_screen_has_all_of_its_own() -> None:
    assert sorted(c.action for c in choices.of_home(HOME_ACTIONS)) == sorted(a.id for a in HOME_ACTIONS)


def test_words_narrow_the_list_and_names_come_before_the_rest() -> None:
    listed = Finder(choices.all_of(ACTIONS, 0, THEMES))
    assert typed(listed, "un")[:2] == ["undo", "units"]
    assert typed(listed, "THEME two") == ["theme"]
    assert typed(listed, "F1") == ["help"] or typed(listed, "?")[0] == "help"
    assert typed(listed, "u")[0] == "undo"  # its key
    assert typed(listed, "up move")[0] == "earlier"
    assert typed(listed, "gallons") == ["units"]
    assert typed(listed, "zzz") == []
    assert listed.chosen is None
    assert finder.about(listed, FULL) == "nothing has all of these words"


def test_keys_move_the_cursor_type_choose_and_close(desk: Desk) -> None:
    do(desk, "help")
    assert desk.finder is not None
    for key, place in (("down", 1), ("pagedown", 11), ("up", 10), ("pageup", 0), ("up", 0), ("tab", 1)):
        assert finder.press(desk, key, None) is None
        assert desk.finder.place == place
    finder.press(desk, "u", "u")
    assert desk.finder.place == 0
    finder.press(desk, "pagedown", None)
    finder.press(desk, "n", "n")
    chosen = finder.press(desk, "enter", "\r")
    assert chosen is not None
    assert chosen.action == "undo"
    assert desk.finder is None
    do(desk, "help")
    finder.paste(desk, "zzz\n")
    assert finder.press(desk, "enter", "\r") is None  # nothing found: it stays
    assert desk.finder is not None
    finder.press(desk, "escape", None)
    assert desk.finder is None


@pytest.mark.parametrize("glyphs", [FULL, CONSOLE, ASCII])
@pytest.mark.parametrize("cells", [34, 47, 80])
def test_every_line_fits_and_the_cursors_is_in_sight(desk: Desk, glyphs: object, cells: int) -> None:
    desk.glyphs = glyphs  # type: ignore[assignment]
    do(desk, "actions")
    assert desk.finder is not None
    for place in range(len(desk.finder.choices)):
        desk.finder.place = place
        lines = drawing.pane(desk, 0, cells, 20, titled=False)
        assert len(lines) <= 20
        assert all(width(line) <= cells for line in lines)
        texts, (x, y) = text_of(lines), drawing.caret(desk, cells, 20, titled=False)
        assert texts[y].startswith(desk.glyphs.cursor)
        assert desk.finder.choices[place].name.partition(" ")[0] in texts[y]
        assert (x, finder.choice_at(desk.finder, y)) == (0, place)
        if glyphs is ASCII:
            assert all(text.isascii() for text in texts)
        assert bars.bottom(desk, 80)[0] == ((f" {finder.about(desk.finder, desk.glyphs)}", "text_"),)
    assert finder.choice_at(desk.finder, 0) is None


def test_a_row_at_eighty_columns_has_key_name_and_help(desk: Desk) -> None:
    do(desk, "help")
    lines = text_of(drawing.pane(desk, 0, 80, 20, titled=False))
    assert lines[0].startswith(" find ")
    assert "does it" in lines[0]
    assert lines[1:4] == [
        " in Yeast",
        "▸⏎       edit                edit the value under the cursor",
        " +       add                 add a lot (Yeast) or a feeding (Steps)",
    ]
    assert lines[-1].startswith(" ▾ ")


def test_the_chosen_line_is_told_by_a_sign_not_by_colour_alone() -> None:
    listed = Finder((Choice("a", "one", "", "x"), Choice("b", "two", "", "y")), place=1)
    assert [line[:1] for line in text_of(finder.lines(listed, FULL, 40, 5))[1:]] == [" ", "▸"]
