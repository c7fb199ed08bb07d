"""Fewer bytes, the same picture: held by a terminal that knows styles and moves, and nothing else."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.screens.thrift import shortened

CODES = {
    "1": {"bold": "1"}, "2": {"dim": "2"}, "7": {"reverse": "7"},
    "31": {"ink": "31"}, "97": {"ink": "97"}, "38;5;109": {"ink": "38;5;109"}, "38;2;1;31;48": {"ink": "38;2;1;31;48"},
    "44": {"ground": "44"}, "48;5;16": {"ground": "48;5;16"}, "48;2;38;5;1": {"ground": "48;2;38;5;1"},
}  # fmt: skip
styles = st.lists(st.sampled_from(list(CODES)), min_size=1, max_size=4, unique_by=lambda code: next(iter(CODES[code])))
moves = st.sampled_from(["", "\n", "\r\n", "\x1b[3;1H", "\r\n\x1b[12;36H", "\x1b[?25h"])
runs = st.lists(st.tuples(styles | st.just([]), st.text("ab m;[", min_size=0, max_size=3), moves), max_size=8)


def seen(sent: str) -> list[tuple[str, dict[str, str]]]:
    """Every sign, and every sequence that is no style, with the style it is drawn in."""
    style: dict[str, str] = {}
    drawn: list[tuple[str, dict[str, str]]] = []
    for sequence, codes, sign in re.findall(r"(\x1b\[([\d;]*)m)|(\x1b\[[?\d;]*[Hh]|[^\x1b])", sent):
        if sign:
            drawn.append((sign, style if sign[0] not in "\x1b\r\n" else {}))
            continue
        assert sequence
        rest = codes
        while rest:
            code = (
                "0" if re.match(r"0(;|$)", rest) else max((c for c in CODES if re.match(rf"{c}(;|$)", rest)), key=len)
            )
            style = {} if code == "0" else style | CODES[code]
            rest = rest[len(code) + 1 :]
    return drawn


@given(runs)
def test_it_draws_the_same_in_no_more_bytes(texts: list[tuple[list[str], str, str]]) -> None:
    sent = "".join((f"\x1b[{';'.join(codes)}m{text}\x1b[0m" if codes else text) + move for codes, text, move in texts)
    short = shortened(sent)
    assert seen(short) == seen(sent)
    assert len(short) <= len(sent)
    assert seen(short + "x")[-1] == seen(sent + "x")[-1]  # and leaves the terminal as it would have been left


@pytest.mark.parametrize(
    ("sent", "short"),
    [
        ("\x1b[38;5;1;48;5;16ma\x1b[0m\x1b[38;5;2;48;5;16mb\x1b[0m", "\x1b[38;5;1;48;5;16ma\x1b[38;5;2mb\x1b[0m"),
        ("\x1b[1;38;5;1ma\x1b[0m\x1b[38;5;2mb\x1b[0m", "\x1b[1;38;5;1ma\x1b[0;38;5;2mb\x1b[0m"),
        ("\x1b[31ma\x1b[0m\n\x1b[4;1H\x1b[31mb\x1b[0m", "\x1b[31ma\n\x1b[4;1Hb\x1b[0m"),
        ("plain \x1b[?2026h", "plain \x1b[?2026h"),
    ],
)
def test_only_what_differs_is_sent(sent: str, short: str) -> None:
    assert shortened(sent) == short
