"""The mouse: clicks and the wheel where there is one, off on a key, and two short codes to the terminal for it."""

from __future__ import annotations

import os
import sys
from typing import TYPE_CHECKING

import pytest

from tests.panes.scenes import ONE, TWO
from tests.screens.apps import app_on
from tests.screens.homes import batches, home_on, settled, shown
from tests.screens.terminals import Terminal
from workbench.screens.bench import Bench
from workbench.screens.home import Home

if TYPE_CHECKING:
    from pathlib import Path

    from workbench.app import Workbench
    from workbench.screens.desk import Desk

NARROW, WIDE = (80, 24), (120, 40)
ON, OFF = b"\x1b[?1000h\x1b[?1006h", b"\x1b[?1006l\x1b[?1000l"


def desk_of(app: Workbench) -> Desk:
    assert isinstance(app.screen, Bench)
    return app.screen.desk


def place_of(app: Workbench, text: str) -> tuple[int, int]:
    """Where a text stands on the screen."""
    for canvas in app.screen.canvases:  # type: ignore[attr-defined]
        for y, line in enumerate(canvas.text.split("\n")) if canvas.display else ():
            if text in line:
                return canvas.region.x + line.index(text), canvas.region.y + y
    raise AssertionError(f"{text} is not on the screen")


async def test_a_click_moves_the_cursor_and_a_second_edits(tmp_path: Path) -> None:
    app = app_on(tmp_path / "a.toml", ONE)
    async with app.run_test(size=NARROW) as pilot:
        await pilot.click(offset=place_of(app, "gravity"))
        row = desk_of(app).row()
        assert row is not None
        assert row.id == "beer.gravity"
        assert desk_of(app).entry is None
        await pilot.click(offset=place_of(app, "▸gravity"))
        assert desk_of(app).entry is not None
        await pilot.click(offset=place_of(app, "beer"))  # a line that is open stays
        assert desk_of(app).entry is not None
        await pilot.press("escape")
        await pilot.click(offset=(5, 21))  # below the last row: the last one
        assert desk_of(app).row().id == "starter"  # type: ignore[union-attr]


@pytest.mark.parametrize("text", ["4 Doses", "pot: 3.8 mm"])
async def test_a_click_into_another_pane_goes_there(tmp_path: Path, text: str) -> None:
    app = app_on(tmp_path / "a.toml", ONE)
    async with app.run_test(size=WIDE) as pilot:
        await pilot.click(offset=place_of(app, text))
        assert desk_of(app).pane == 3
        assert (desk_of(app).row().id == "foam") == (text != "4 Doses") or "foam" in desk_of(app).row().label  # type: ignore[union-attr]
        assert desk_of(app).entry is None


async def test_a_click_on_the_rail_goes_to_the_pane(tmp_path: Path) -> None:
    app = app_on(tmp_path / "a.toml", ONE)
    async with app.run_test(size=NARROW) as pilot:
        for pane, name in enumerate(("1 Yeast", "2 Wort", "3 Steps", "4 Doses", "5 Clock", "6 Day")):
            await pilot.click(offset=place_of(app, name))
            assert desk_of(app).pane == pane


@pytest.mark.parametrize("size", [NARROW, WIDE])
async def test_a_click_on_the_bottom_line_does_what_stands_there(tmp_path: Path, size: tuple[int, int]) -> None:
    app = app_on(tmp_path / "a.toml", TWO)
    async with app.run_test(size=size) as pilot:
        await pilot.press("3")
        await pilot.click(offset=place_of(app, "plan"))
        assert desk_of(app).planning
        await pilot.click(offset=place_of(app, "z zoom"))
        assert desk_of(app).zoomed
        x, y = place_of(app, "quit")
        await pilot.click(offset=(x + 3, y))
        await pilot.pause()
    assert app.return_value == 0


async def test_a_click_on_a_list_chooses_and_a_second_does_it(tmp_path: Path) -> None:
    app = app_on(tmp_path / "a.toml", ONE)
    async with app.run_test(size=NARROW) as pilot:
        await pilot.press(":", *"whole screen")
        await pilot.press("ctrl+u", *"un")
        await pilot.click(offset=place_of(app, "units"))
        assert "▸v       units" in "\n".join(canvas.text for canvas in app.screen.canvases)  # type: ignore[attr-defined]
        await pilot.click(offset=place_of(app, "units"))
        assert desk_of(app).system == "us"
        assert desk_of(app).finder is None


async def test_clicks_on_the_home_screen(tmp_path: Path) -> None:
    app = home_on(batches(tmp_path / "b"))
    async with app.run_test(size=NARROW) as pilot:
        await settled(pilot)
        assert isinstance(app.screen, Home)
        x, y = place_of(app, "Gatehouse Bitter")
        await pilot.click(offset=(x, y))
        assert app.screen.desk.at is not None
        assert app.screen.desk.at.name == "gatehouse-bitter.toml"
        await pilot.click(offset=place_of(app, "? help"))
        await pilot.click(offset=place_of(app, "archive"))
        await pilot.click(offset=place_of(app, "▸a"))
        assert "Gatehouse Bitter" not in shown(app).splitlines()[4]
        assert "put away" in shown(app)
        x, y = place_of(app, "▸")
        await pilot.click(offset=(x, y))
        assert isinstance(app.screen, Bench)


@pytest.mark.slow
@pytest.mark.parametrize("home", [False, True], ids=["batch", "home"])
def test_a_terminal_is_asked_for_the_mouse_and_gets_it_back(tmp_path: Path, home: bool) -> None:
    path = batches(tmp_path / "b") if home else tmp_path / "a.toml"
    if not home:
        path.write_text(ONE, "utf-8")
    with Terminal(path) as terminal:
        opening = terminal.read_until(b"quit") + terminal.answer()
        assert opening.count(ON) == 1
        assert b"1003h" not in opening  # it need not tell of each move
        down = terminal.answer(b"\x1b[<65;10;10M")  # the wheel
        assert 0 < len(down) <= 450
        assert terminal.answer(b"\x1b[<35;12;10M") == b""  # a move all the same
        off = terminal.answer(b"g")
        assert OFF in off
        assert ON in terminal.answer(b"g")
        os.write(terminal.fd, b"q")
        assert OFF in terminal.read_until(b"\x00 nothing writes this")
        assert terminal.program.wait(timeout=20) == 0


@pytest.mark.slow
def test_without_a_mouse_in_the_settings_nothing_is_asked(tmp_path: Path) -> None:
    (tmp_path / "config.toml").write_text("mouse = false\n", "utf-8")
    (tmp_path / "a.toml").write_text(ONE, "utf-8")
    program = "import sys; from workbench.cli import main; sys.exit(main())"
    environment = f"WORKBENCH_CONFIG={tmp_path / 'config.toml'}"
    words = ["/usr/bin/env", environment, sys.executable, "-c", program, str(tmp_path / "a.toml")]
    with Terminal(tmp_path / "a.toml", words=words) as terminal:
        sent = terminal.read_until(b"quit")
        os.write(terminal.fd, b"q")
        sent += terminal.read_until(b"\x00 nothing writes this")
        assert b"quit" in sent
        assert b"[?1000" not in sent
        assert b"[?1006" not in sent
