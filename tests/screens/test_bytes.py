"""What goes over the line: the screen once, then only what changed, within a budget of bytes (256 colours).

The terminal of these tests shows frames whole, so the marks around each frame are counted too.
"""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import pytest

from tests.panes.scenes import CET, ONE, TWO
from tests.screens.homes import batches
from tests.screens.terminals import FRAME, Terminal
from workbench.listing import index_of
from workbench.plan.habits import Habits

if TYPE_CHECKING:
    from pathlib import Path

DOWN, UP, TAB, ENTER, ERASE = b"\x1b[B", b"\x1b[A", b"\t", b"\r", b"\x15"
NARROW, WIDE = (80, 24), (120, 40)
START = {NARROW: 6 * 1024, WIDE: 16 * 1024}
SWITCH = {NARROW: 2560, WIDE: 450}
MOVE, LETTER, EDIT, TICK = 400, 200, 1536, 200

both = pytest.mark.parametrize("size", [NARROW, WIDE], ids=["narrow", "wide"])


def framed(terminal: Terminal, key: bytes) -> int:
    """The bytes of the answer to a key, which is one frame at most."""
    found = terminal.answer(key)
    assert found.count(FRAME) <= 1
    return len(found)


@pytest.mark.slow
@both
@pytest.mark.parametrize("text", [ONE, TWO], ids=["one", "two"])
def test_a_batch(tmp_path: Path, size: tuple[int, int], text: str) -> None:
    path = tmp_path / "a.toml"
    path.write_text(text, "utf-8")
    with Terminal(path, size) as terminal:
        opening = terminal.read_until(b"quit") + terminal.answer()
        assert opening.count(b"238 B") == 1  # in the top line: one paint
        assert len(opening) <= START[size]
        assert max(framed(terminal, key) for key in [DOWN, DOWN, UP]) <= MOVE
        assert max(framed(terminal, key) for key in [TAB] * 6 + [b"3", b"1"]) <= SWITCH[size]
        for litres in (b"25", b"21"):
            framed(terminal, ENTER)
            assert framed(terminal, ERASE) <= LETTER
            assert framed(terminal, litres[:1]) <= LETTER
            terminal.answer(litres[1:])
            assert framed(terminal, ENTER) <= EDIT
        assert terminal.watch(2.2) == b""  # idle, while it looks at the file
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
        assert terminal.watch(1.5) == b""  # idle
        assert len(terminal.answer(b"\x1b")) <= most
        os.write(terminal.fd, b"q")
        assert terminal.end() == 0


@pytest.mark.slow
@both
@pytest.mark.parametrize("indexed", [True, False], ids=["indexed", "unread"])
def test_the_home_screen(tmp_path: Path, size: tuple[int, int], indexed: bool) -> None:
    folder = batches(tmp_path / "b")
    if indexed:
        index = index_of(folder, Habits(tz=CET))
        index.look()
        index.read()
        index.save()
    with Terminal(folder, size) as terminal:
        opening = terminal.read_until(b"quit") + terminal.answer()
        assert opening.count(FRAME) == (1 if indexed else 2)
        assert len(opening) <= START[size]
        assert max(framed(terminal, key) for key in [DOWN, DOWN, UP]) <= 450  # all about another batch
        assert terminal.watch(2.2) == b""  # idle
        os.write(terminal.fd, b"q")
        assert terminal.end() == 0


@pytest.mark.slow
@both
def test_a_running_boil(tmp_path: Path, size: tuple[int, int]) -> None:
    path = tmp_path / "a.toml"
    path.write_text(ONE, "utf-8")
    with Terminal(path, size, clock="real") as terminal:
        terminal.read_until(b"quit")
        terminal.answer(b"5b")
        sent = terminal.watch(3.2)  # three or four ticks, one of a minute
        assert 100 < len(sent) <= 4 * TICK + 300
