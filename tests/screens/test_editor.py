from __future__ import annotations

from functools import reduce

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from workbench.screens.editor import LONGEST, Line, press, start, window


def typed(text: str, *keys: str) -> Line:
    return reduce(lambda line, key: press(line, key, key if len(key) == 1 else None) or line, keys, start(text))


@pytest.mark.parametrize(
    ("text", "keys", "left", "at"),
    [
        ("23 L", ["backspace"] * 4 + ["2", "5"], "25", 2),
        ("1.056", ["left", "left", "backspace", "4"], "1.456", 3),
        ("1.056", ["home", "delete"], ".056", 0),
        ("24 h", ["home", "right", "right", "ctrl+k"], "24", 2),
        ("24 h", ["left", "ctrl+u"], "h", 0),
        ("two old packs", ["ctrl+w"], "two old ", 8),
        ("two old packs", ["ctrl+left", "ctrl+left", "ctrl+left"], "two old packs", 0),
        ("two old", ["home", "ctrl+right"], "two old", 3),
        ("", ["backspace", "delete", "left", "right"], "", 0),
    ],
)
def test_keys_in_their_order(text: str, keys: list[str], left: str, at: int) -> None:
    line = typed(text, *keys)
    assert (line.text, line.at) == (left, at)


def test_a_key_that_means_nothing() -> None:
    assert press(start("a"), "f5", None) is None
    assert press(start("a"), "tab", "\t") is None


def test_what_is_pasted_loses_its_line_ends_and_its_excess() -> None:
    assert start("").insert("1.6\r\nL\x1b").text == "1.6L"
    assert len(start("").insert("x" * 999).text) == LONGEST


KEYS = st.sampled_from(["a", "1", " ", "left", "right", "home", "end", "backspace", "delete", "ctrl+w", "ctrl+left"])


@given(st.text("ab ", max_size=12), st.lists(KEYS, max_size=25))
def test_the_cursor_stays_in_the_text(text: str, keys: list[str]) -> None:
    line = typed(text, *keys)
    assert 0 <= line.at <= len(line.text)


@given(st.text("ab 麦", max_size=40), st.integers(0, 40), st.integers(2, 15))
def test_the_cursor_is_in_the_window(text: str, at: int, width: int) -> None:
    line = Line(text).move(at)
    shown, cursor = window(line, width)
    assert cell_len(shown) == width
    assert (shown[cursor] if line.at < len(text) else shown[cursor:].strip()) == text[line.at : line.at + 1]


@pytest.mark.parametrize(
    ("keys", "left"),
    [("25", "25"), (["backspace", "5"], "1.055"), (["left", "backspace", "4"], "1.046"), (["end", "2"], "1.0562")],
)
def test_a_fresh_line_gives_way_to_what_is_typed_but_can_be_edited(keys: list[str], left: str) -> None:
    line = start("1.056", fresh=True)
    for key in keys:
        line = press(line, key, key if len(key) == 1 else None) or line
    assert line.text == left


def test_a_fresh_line_gives_way_to_what_is_pasted() -> None:
    assert start("23 L", fresh=True).insert("5 gal").text == "5 gal"
