"""Feedings proposed unasked, and why there are none; the work for it in pieces."""

from __future__ import annotations

import pytest

from tests.plan.kitchens import NOW, forget, searched, session_of
from workbench.plan import unasked
from workbench.plan.derive import derive

ALE = """\
format = 1
[batch]
pitch_at = 2026-11-28T15:00:00+01:00
[beer]
volume = "23 L"
gravity = "1.056"
[[yeast]]
kind = "pack"
made_on = 2026-10-19
[flask]
size = "3 L"
"""
TOO_MUCH = ALE.replace("1.056", "1.110").replace('"3 L"', '"1 L"')


@pytest.fixture(autouse=True)
def _nothing_known() -> None:
    forget()


@pytest.mark.parametrize("text", [ALE, TOO_MUCH, ALE.replace("23 L", "2 L"), ALE + '[[step]]\nwort = "1 L"\n'])
def test_done_in_pieces_nothing_is_left_to_search(text):
    session = session_of(text)
    pieces = list(unasked.pieces(session))
    done = searched()
    plan = derive(session, NOW)
    assert searched() == done
    forget()
    assert derive(session, NOW) == plan
    assert searched() == done
    assert bool(pieces) == any(warning.code == "no-plan" for warning in plan.warnings)


def test_where_nothing_fits_each_change_is_a_piece():
    session = session_of(TOO_MUCH)
    assert unasked.proposed(session) is None
    assert "binds" in unasked.why_none(session) or "no single change would do" in unasked.why_none(session)
    assert len(list(unasked.pieces(session))) > 5


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ('name = "', 'name = "Another '),
        ("[flask]", '[bath]\ntemperature = "8 °C"\n[flask]'),
        ("[flask]", '[day]\nawake = "05:00-20:00"\n[flask]'),
        ("[flask]", "[supplies]\npack_price = 9.5\n[flask]"),
    ],
)
def test_what_concerns_no_kitchen_is_not_searched_for_again(before, after):
    text = ALE.replace("[batch]", '[batch]\nname = "Ale"')
    derive(session_of(text), NOW)
    done = searched()
    derive(session_of(text.replace(before, after)), NOW)
    assert searched() == done > 0


def test_another_volume_is():
    derive(session_of(ALE), NOW)
    done = searched()
    derive(session_of(ALE.replace("23 L", "24 L")), NOW)
    assert searched() == done + 1
