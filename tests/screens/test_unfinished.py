"""What was being typed when the program died is there again when the batch is opened."""

from __future__ import annotations

import os
import signal
import time
from typing import TYPE_CHECKING

import pytest

from tests.panes.scenes import AMBER
from tests.screens.apps import app_on
from tests.screens.terminals import Terminal
from workbench.session.unfinished import Line, Unfinished, line_path

if TYPE_CHECKING:
    from pathlib import Path


async def after(path: Path, line: Line) -> tuple[list[str], str]:
    """The notes of a batch that is opened with this line left, and what is said."""
    before = Unfinished(path)
    before.put(line)
    before.end()
    app = app_on(path, AMBER)
    async with app.run_test(size=(80, 24)) as pilot:
        desk = app._desk
        assert desk is not None
        told = [event.text for event in desk.store.session.event], desk.said
        await pilot.press("u")
        assert desk.store.text == AMBER
        await pilot.press("q")
    assert not line_path(path).exists()
    return told


async def test_a_value_becomes_a_note_that_can_be_taken_back(tmp_path: Path) -> None:
    notes, said = await after(tmp_path / "a.toml", Line("beer.volume", "25 L"))
    assert notes == ["not entered: beer.volume 25 L"]
    assert said == "not entered: beer.volume 25 L: typed when the program ended, now a note in Day; u takes it back"


async def test_a_note_becomes_that_note(tmp_path: Path) -> None:
    notes, _ = await after(tmp_path / "a.toml", Line("note", "smells of pears"))
    assert notes == ["smells of pears"]


async def test_a_line_that_is_entered_or_left_is_not_kept(tmp_path: Path) -> None:
    app = app_on(tmp_path / "a.toml", AMBER)
    async with app.run_test(size=(80, 24)) as pilot:
        for last in ("enter", "escape"):
            await pilot.press("1", "home", "down", "enter", *"25")
            await pilot.pause(0.5)
            assert line_path(tmp_path / "a.toml").exists()
            await pilot.press(last)
            app._desk.store.flush()
            assert not line_path(tmp_path / "a.toml").exists()
        await pilot.press("enter")  # opened, and nothing typed
        await pilot.pause(0.5)
        assert not line_path(tmp_path / "a.toml").exists()
        await pilot.press("escape", "q")


@pytest.mark.slow
@pytest.mark.parametrize("end", [signal.SIGKILL, signal.SIGHUP, None])
def test_what_stood_in_the_line_for_half_a_second_is_there_again(tmp_path: Path, end: int | None) -> None:
    path = tmp_path / "a.toml"
    path.write_text(AMBER, "utf-8")
    with Terminal(path, controlled=True) as terminal:
        terminal.read_until(b"quit")
        terminal.answer(b"asmells of pears")
        time.sleep(0.5)
        if end is None:
            terminal.hang_up()
        else:
            terminal.program.send_signal(end)
        terminal.program.wait(20)
    with Terminal(path) as terminal:
        assert b"smells of pears: typed when" in terminal.read_until(b"typed when")
        os.write(terminal.fd, b"q")
        assert terminal.end() == 0
    assert 'text = "smells of pears"' in path.read_text("utf-8")
