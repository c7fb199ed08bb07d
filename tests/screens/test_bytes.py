"""What goes over the line: the screen once, then only what changed, within a budget of bytes (256 colours)."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import pytest

from tests.panes.scenes import ONE
from tests.screens.homes import batches
from tests.screens.terminals import Terminal

if TYPE_CHECKING:
    from pathlib import Path

DOWN, TAB, ENTER = b"\x1b[B", b"\t", b"\r"


@pytest.mark.slow
@pytest.mark.parametrize(
    ("size", "start", "switch"), [((80, 24), 6 * 1024, 2560), ((120, 40), 16 * 1024, 450)], ids=["narrow", "wide"]
)
def test_bytes(tmp_path: Path, size: tuple[int, int], start: int, switch: int) -> None:
    path = tmp_path / "a.toml"
    path.write_text(ONE, "utf-8")
    with Terminal(path, size) as terminal:
        opening = terminal.read_until(b"quit") + terminal.answer()
        assert opening.count(b"238 B") == 1  # in the top line: one paint
        assert len(opening) <= start
        assert len(terminal.answer(DOWN)) <= 400
        for _ in range(6):
            assert len(terminal.answer(TAB)) <= switch
        terminal.answer(ENTER)
        assert len(terminal.answer(b"\x7f")) <= 200
        terminal.answer(b"\x7f\x7f\x7f25")
        assert len(terminal.answer(ENTER)) <= 1536
        assert terminal.answer(quiet=1.5) == b""  # idle
        os.write(terminal.fd, b"q")
        assert terminal.end() == 0


@pytest.mark.slow
@pytest.mark.parametrize(("size", "most"), [((80, 24), 3072), ((120, 40), 2560)], ids=["narrow", "wide"])
def test_bytes_of_the_list_of_actions(tmp_path: Path, size: tuple[int, int], most: int) -> None:
    path = tmp_path / "a.toml"
    path.write_text(ONE, "utf-8")
    with Terminal(path, size) as terminal:
        terminal.read_until(b"quit")
        terminal.answer()
        assert len(terminal.answer(b"?")) <= most
        assert len(terminal.answer(DOWN)) <= 500
        assert len(terminal.answer(b"n")) <= most
        assert terminal.answer(quiet=1.5) == b""
        assert len(terminal.answer(b"\x1b")) <= most
        os.write(terminal.fd, b"q")
        assert terminal.end() == 0


@pytest.mark.slow
@pytest.mark.parametrize(("size", "start"), [((80, 24), 6 * 1024), ((120, 40), 16 * 1024)], ids=["narrow", "wide"])
def test_bytes_of_the_home_screen(tmp_path: Path, size: tuple[int, int], start: int) -> None:
    with Terminal(batches(tmp_path / "b"), size) as terminal:
        opening = terminal.read_until(b"quit") + terminal.answer()
        assert len(opening) <= start
        assert len(terminal.answer(DOWN)) <= 450  # all about another batch
        assert terminal.answer(quiet=1.5) == b""  # idle
        os.write(terminal.fd, b"q")
        assert terminal.end() == 0


@pytest.mark.slow
@pytest.mark.parametrize("size", [(80, 24), (120, 40)], ids=["narrow", "wide"])
def test_a_running_boil(tmp_path: Path, size: tuple[int, int]) -> None:
    path = tmp_path / "a.toml"
    path.write_text(ONE, "utf-8")
    with Terminal(path, size, clock="real") as terminal:
        terminal.read_until(b"quit")
        terminal.answer(b"5b", quiet=0.3)
        sent = terminal.read_until(b"\x00 nothing writes this", seconds=3.2)  # three or four ticks, one of a minute
        assert 100 < len(sent) <= 4 * 200 + 300
