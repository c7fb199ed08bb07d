"""Fewer bytes show the same: every cell looks as it would have, whatever is written and however it is cut."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.screens.terse import Terse

_PART = re.compile(r"\x1b\[([\d;]*)m|\x1b\[(\d+);(\d+)H|\x1b\[[?\d]+[A-Za-z]|(.)", re.DOTALL)
_OFF = {22: {1, 2}, 23: {3}, 24: {4}, 27: {7}}


class Screen:
    """Cells and how they look, as ECMA-48 has it: `show` writes."""

    def __init__(self) -> None:
        self.cells: dict[tuple[int, int], tuple[str, str, str, frozenset[int]]] = {}
        self.row = self.column = 0
        self.ink = self.ground = "its own"
        self.rest: frozenset[int] = frozenset()

    def show(self, data: str) -> None:
        for part in _PART.finditer(data):
            if part[1] is not None:
                self._look([int(code or 0) for code in part[1].split(";")])
            elif part[2]:
                self.row, self.column = int(part[2]), int(part[3])
            elif part[4] == "\n":
                self.row, self.column = self.row + 1, 1
            elif part[4]:
                blank = part[4] == " " and not self.rest & {4, 7}
                look = ("", self.ground, frozenset()) if blank else (self.ink, self.ground, self.rest)
                self.cells[self.row, self.column] = (part[4], *look)
                self.column += 1

    def _look(self, codes: list[int]) -> None:
        while codes:
            code = codes.pop(0)
            if code in {38, 48}:
                count = 2 if codes[0] == 5 else 4
                colour, codes = f"{codes[:count]}", codes[count:]
                self.ink, self.ground = (colour, self.ground) if code == 38 else (self.ink, colour)
            elif code == 0:
                self.ink = self.ground = "its own"
                self.rest = frozenset()
            elif 30 <= code <= 39 or 90 <= code <= 97:
                self.ink = "its own" if code == 39 else f"{code}"
            elif 40 <= code <= 49 or 100 <= code <= 107:
                self.ground = "its own" if code == 49 else f"{code}"
            else:
                self.rest = (self.rest | {code}) - _OFF.get(code, set()) - set(_OFF)


INKS = ["38;5;109", "38;5;188", "38;2;1;2;3", "31", "97", ""]
GROUNDS = ["48;5;16", "48;5;23", "48;2;9;8;7", "44", "107", ""]
looks = st.tuples(
    st.lists(st.sampled_from(["1", "2", "3", "4", "7"]), max_size=2), st.sampled_from(INKS), st.sampled_from(GROUNDS)
).map(lambda look: ";".join(code for code in (*look[0], *look[1:]) if code))
texts = st.sampled_from(["x", "BOIL 3", " ", "   ", "two words", "▐█", " 1.034 "])
stretches = st.tuples(looks, texts).map(lambda it: f"\x1b[{it[0]}m{it[1]}\x1b[0m" if it[0] else it[1])
places = st.tuples(st.integers(1, 9), st.integers(1, 20)).map(lambda at: f"\x1b[{at[0]};{at[1]}H")
others = st.sampled_from(["\x1b[?2026h", "\x1b[?2026l", "\n"])
frames = st.lists(st.one_of(stretches, stretches, places, places.map("\n".__add__), others), max_size=12).map("".join)


@given(st.lists(frames, max_size=4))
def test_every_cell_looks_the_same_in_fewer_bytes(written: list[str]) -> None:
    plain, terse, line = Screen(), Screen(), Terse()
    terse.show("\x1b[1;31;42m")  # whatever the shell has left on
    for data in written:
        sent = line.write(data)
        assert len(sent) <= len(data) + len("\x1b[0m")
        plain.show(data)
        terse.show(sent)
        assert terse.cells == plain.cells
        assert (terse.ink, terse.ground, terse.rest) == ("its own", "its own", frozenset())


@pytest.mark.parametrize(
    ("data", "sent"),
    [
        ("\x1b[31;44mwort\x1b[0m\x1b[38;5;188;44m1.60\x1b[0m", "\x1b[31;44mwort\x1b[38;5;188m1.60\x1b[m"),
        ("\x1b[1;31mB\x1b[0m\x1b[31m9\x1b[0m", "\x1b[1;31mB\x1b[22m9\x1b[m"),
        ("\x1b[31mB\x1b[0m\n\x1b[2;1H\x1b[31m9\x1b[0m", "\x1b[31mB\x1b[2;1H9\x1b[m"),
        ("\x1b[31;40mB\x1b[0m\x1b[32;40m  \x1b[0m\x1b[31;40m9\x1b[0m", "\x1b[31;40mB  9\x1b[m"),
        ("\x1b]22;default\x07\x1b[>25u\x1b[6n", "\x1b]22;default\x07\x1b[>25u\x1b[6n"),
    ],
)  # fmt: skip
def test_colours_are_sent_where_they_change(data: str, sent: str) -> None:
    line = Terse()
    line.write("")
    assert line.write(data) == sent
