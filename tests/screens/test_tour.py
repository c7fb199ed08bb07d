"""The tour: one page, on a key, over the whole screen, from everywhere."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.panes.scenes import ONE
from tests.screens.apps import app_on
from tests.screens.desks import desk_on, do
from tests.screens.homes import home_on, shown
from workbench.panes.glyphs import ASCII, CONSOLE, FULL, Glyphs
from workbench.panes.spans import width
from workbench.screens import bars
from workbench.screens.keys import ACTIONS, PANES, remapped
from workbench.screens.layout import arrange
from workbench.screens.tour import tour_lines

if TYPE_CHECKING:
    from pathlib import Path


def text(glyphs: Glyphs = FULL, cells: int = 80) -> str:
    return "\n".join("".join(said for said, _ in line) for line in tour_lines(ACTIONS, glyphs, cells))


@pytest.mark.parametrize("glyphs", [FULL, CONSOLE, ASCII], ids=["full", "console", "ascii"])
def test_it_fits_the_smallest_screen(glyphs: Glyphs) -> None:
    pane = arrange(80, 24, zoomed=True).slots[0]
    assert pane is not None
    lines = tour_lines(ACTIONS, glyphs, 80)
    assert len(lines) <= pane.height
    assert max(map(width, lines)) <= 80
    assert text(glyphs).isascii() or glyphs is not ASCII


def test_narrower_it_is_wrapped() -> None:
    assert max(width(line) for line in tour_lines(ACTIONS, FULL, 48)) <= 48


def test_it_names_every_pane_and_the_brewers_own_keys() -> None:
    for number, name in enumerate(PANES, 1):
        assert f"{number} {name}" in text()
    own = remapped({"undo": "ctrl+u"})
    said = " ".join("".join(s for s, _ in line) for line in tour_lines(own, FULL, 80))
    assert "ctrl+u undoes" in said
    assert "⏎ changes a value" in text()


async def test_a_key_shows_it_over_the_whole_screen_and_leaves_it(tmp_path: Path) -> None:
    app = app_on(tmp_path / "a.toml", ONE)
    async with app.run_test(size=(120, 40)) as pilot:
        before = [canvas.display for canvas in app.screen.canvases]  # type: ignore[attr-defined]
        await pilot.press("i")
        assert [canvas.display for canvas in app.screen.canvases] != before  # type: ignore[attr-defined]
        assert "Five keys to know" in "\n".join(c.text for c in app.screen.canvases if c.display)  # type: ignore[attr-defined]
        await pilot.press("escape")
        assert [canvas.display for canvas in app.screen.canvases] == before  # type: ignore[attr-defined]


def test_any_other_key_acts_at_once(tmp_path: Path) -> None:
    desk = do(desk_on(tmp_path / "a.toml", ONE), "tour")
    assert desk.filling
    do(desk, "pane-3")
    assert desk.page is None
    assert desk.pane == 2
    assert not desk.filling


async def test_the_home_screen_has_it_too_and_says_so_where_there_is_nothing(tmp_path: Path) -> None:
    app = home_on(tmp_path / "b")
    async with app.run_test(size=(80, 24)) as pilot:
        assert "i  shows a tour on one page" in shown(app)
        await pilot.press("i")
        assert "The day" in shown(app)
        await pilot.press("i")
        assert "No batches here yet" in shown(app)


@pytest.mark.parametrize("page", ["tour", "why", "plain"])
def test_the_bottom_line_says_how_to_leave_a_page_and_a_click_there_does_it(tmp_path: Path, page: str) -> None:
    desk = do(desk_on(tmp_path / "a.toml", ONE), page)
    said = "".join(text for text, _ in bars.bottom(desk, 80)[0])
    assert said.split() == ["Esc", "back", "↑", "↓", "read", "on", "?", "help", "q", "quit"]
    for word, action in {"Esc": "back", "↓": "down", "help": "help", "quit": "quit"}.items():
        assert bars.action_at(desk, 80, said.index(word)) == action


async def test_over_the_list_of_batches_too(tmp_path: Path) -> None:
    app = home_on(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("i")
        assert shown(app).splitlines()[-1].split() == ["Esc", "back"]


async def test_there_it_tells_the_brewers_own_keys_of_a_batch(tmp_path: Path) -> None:
    app = home_on(tmp_path, keys={"tour": "f7", "boil": "B"})
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("f7")
        assert "f7 shows it again" in shown(app)
        assert "B starts the clock" in shown(app)
