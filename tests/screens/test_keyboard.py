"""Keys that come in one piece, or in pieces cut anywhere, are the keys that were pressed."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import pytest
from textual import events

from tests.panes.scenes import ONE
from tests.screens.homes import batches
from tests.screens.terminals import Terminal
from workbench.screens.keyboard import Pieces

if TYPE_CHECKING:
    from pathlib import Path

SENT = [
    ("\x1b2", "escape 2"),
    ("\x1b\r", "escape enter"),
    ("\x1b+", "escape plus"),
    ("\x1bu", "escape u"),
    ("\x1bU", "escape U"),
    ("\x1b\t", "escape tab"),
    ("\x1b]q", "escape right_square_bracket q"),
    ("\x1b\x1bq", "escape escape q"),
    ("\x1b\x1b[Bq", "escape down q"),
    ("\x1b[Bq\x1bOA", "down q up"),
    ("\x1b[20~\x1bOP", "f9 f1"),
    ("\x1bb\x1bf\x1b\x7f", "ctrl+left ctrl+right ctrl+w"),  # a Mac's terminal sends moves by a word so
    ("\x1b[200~25 L\x1b[201~\x1b2", "<25 L> escape 2"),
    ("\x1b[200~2\x1b5\x1b[3\x1b b\x1b[201~q", "<25[3 b> q"),  # what is pasted presses no key
]


def keys(*pieces: str) -> str:
    """The names of the keys, and between <> what was pasted."""
    reader, found = Pieces(), []
    for piece in pieces:
        for event in reader.feed(piece):
            assert isinstance(event, events.Key | events.Paste)
            found.append(event.key if isinstance(event, events.Key) else f"<{event.text}>")
    return " ".join(found)


@pytest.mark.parametrize(("sent", "meant"), SENT)
def test_what_comes_in_one_piece_is_told_apart(sent: str, meant: str) -> None:
    assert keys(sent) == meant


@pytest.mark.parametrize(("sent", "meant"), SENT)
def test_where_it_is_cut_makes_no_difference(sent: str, meant: str) -> None:
    assert {keys(sent[:at], sent[at:]) for at in range(1, len(sent))} == {meant}
    assert keys(*sent) == meant


def test_an_esc_behind_which_nothing_comes_is_one(monkeypatch: pytest.MonkeyPatch) -> None:
    reader = Pieces()
    assert not reader.waits
    assert list(reader.feed("\x1b")) == []
    assert reader.waits
    monkeypatch.setattr("textual._parser.get_time", lambda: 1e9)  # long after
    assert [event.key for event in reader.tick() if isinstance(event, events.Key)] == ["escape"]
    assert [event.key for event in reader.feed("2") if isinstance(event, events.Key)] == ["2"]


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
