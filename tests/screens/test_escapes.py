"""Esc and the key after it in one piece: both act, in their order."""

from __future__ import annotations

import os
import time
from typing import TYPE_CHECKING

import pytest
from textual import events

from tests.panes.scenes import ONE
from tests.screens.homes import batches
from tests.screens.terminals import Terminal
from workbench.screens.escapes import Parser

if TYPE_CHECKING:
    from pathlib import Path


def keys(sent: str) -> list[str]:
    parser = Parser()
    found = list(parser.feed(sent))
    time.sleep(0.12)  # more than it waits for the rest of a sequence
    found += parser.tick()
    return [event.key for event in found if isinstance(event, events.Key)]


@pytest.mark.parametrize(
    ("sent", "told"),
    [
        ("\x1b?", ["escape", "question_mark"]),
        ("\x1b\r", ["escape", "enter"]),
        ("\x1b/x", ["escape", "slash", "x"]),
        ("\x1b1", ["alt+1"]),  # the app takes these apart
        ("\x1bq", ["alt+q"]),
        ("\x1b", ["escape"]),
        ("\x1b\x1b", ["escape", "escape"]),
        ("\x1b[A\x1bOB", ["up", "down"]),
        ("\x1b[1;5C", ["ctrl+right"]),
        ("\x1b\x7f", ["ctrl+w"]),
        ("\x1b[99;", ["left_square_bracket", "9", "9", "semicolon"]),  # no key that it knows: nobody pressed Esc
        ("a?\r", ["a", "question_mark", "enter"]),
    ],
)
def test_no_escape_is_lost_and_no_sequence_taken_apart(sent: str, told: list[str]) -> None:
    assert keys(sent) == told


@pytest.mark.slow
def test_a_line_is_left_by_it_on_the_bench_and_at_home(tmp_path: Path) -> None:
    path = tmp_path / "a.toml"
    path.write_text(ONE, "utf-8")
    with Terminal(path) as terminal:
        terminal.read_until(b"quit")
        terminal.answer(b"\x1b[B\r\x1529")
        terminal.answer(b"\x1b\r")  # leaves the line, and opens it again
        terminal.answer(b"\x1b")
        os.write(terminal.fd, b"q")
        assert terminal.end() == 0
    assert path.read_text("utf-8") == ONE
    with Terminal(batches(tmp_path / "b")) as terminal:
        terminal.read_until(b"quit")
        assert b"name of the new" in terminal.answer(b"nfoo")
        assert b"show" in terminal.answer(b"\x1b/")
