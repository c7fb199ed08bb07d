"""Text of unknown origin: one rule for what a terminal may get."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.session.faults import shown
from workbench.units.number import quote
from workbench.units.plainly import harmless

STRANGE = [("\x1b[2J", "␛[2J"), ("a\u202eb", "a\ufffdb"), ("\x7f", "␡"), ("\x9b", "\ufffd"), ("\udcff", "\ufffd")]


@given(st.text())
def test_whatever_comes_out_is_printable(text: str) -> None:
    assert harmless(text).isprintable()
    assert len(harmless(text)) == len(text)


@pytest.mark.parametrize("text", ["", "Alder Lane Amber", "Kölsch № 2", "酵母 – 1 × 3 °C"])
def test_what_is_printable_stays(text: str) -> None:
    assert harmless(text) == text


@pytest.mark.parametrize(("text", "plain"), STRANGE)
def test_messages_follow_the_same_rule(text: str, plain: str) -> None:
    assert harmless(text) == plain
    assert shown(text) == plain
    assert quote(text) == f'"{plain}"'


def test_blanks_of_any_kind_are_blanks() -> None:
    assert harmless("a\tb\nc\u00a0d\u2028e") == "a b c d e"
