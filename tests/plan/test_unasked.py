"""Feedings proposed unasked, and why there are none; the work for it in pieces."""

from __future__ import annotations

import pytest

from tests.panes.scenes import AMBER
from tests.plan.kitchens import NOW, forget, searched, session_of
from workbench.plan import unasked
from workbench.plan.derive import derive
from workbench.plan.habits import Habits
from workbench.plan.ways import ways

TOO_MUCH = AMBER.replace("1.056", "1.110").replace('"3 L"', '"1 L"')


@pytest.fixture(autouse=True)
def _nothing_known() -> None:
    forget()


@pytest.mark.parametrize("text", [AMBER, TOO_MUCH, AMBER.replace("23 L", "2 L"), AMBER + '[[step]]\nwort = "1 L"\n'])
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
    assert unasked.proposed(session).steps is None
    assert unasked.proposed(session).why_none.endswith("no single change of those tried would do")
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
    derive(session_of(AMBER), NOW)
    done = searched()
    derive(session_of(AMBER.replace(before, after)), NOW)
    assert searched() == done > 0


def test_another_volume_is():
    derive(session_of(AMBER), NOW)
    done = searched()
    derive(session_of(AMBER.replace("23 L", "24 L")), NOW)
    assert searched() == done + 1


def test_growth_cut_short_is_told_of_where_the_hours_are_few():
    few = session_of(AMBER.replace("[flask]", '[day]\nhours = "18 h"\n[flask]'))
    why = unasked.proposed(few).why_none
    assert "the limit on hours binds; growth cut short would do (1.80 L for 18 h); or as many hours as it takes" in why
    (cut,) = (way.plan for way in ways(few, NOW, Habits()) if way.option.code == "most")
    assert [(step.wort_l.value, step.hours_planned) for step in cut.steps] == [(1.8, 18.0)]
    assert cut.final.chance.value >= 0.5


def test_where_no_change_that_is_tried_helps_that_is_all_that_is_said():
    """The next flask and three packs do not, a much larger flask would (reckoned here)."""
    lager = (
        AMBER.replace("1.056", "1.080").replace('"23 L"', '"20 L"\ntype = "lager"').replace("2026-10-19", "2026-05-20")
    )
    small = session_of(lager.replace('cells = "100 B"\n', "").replace('size = "3 L"', 'size = "1 L"'))
    assert unasked.proposed(small).steps is None
    assert unasked.proposed(small).why_none.endswith(", and no single change of those tried would do")


def test_a_strong_boil_is_no_other_way_where_it_takes_more_feedings():
    jar = AMBER.replace('kind = "pack"', 'kind = "kept"').replace('"100 B"', '"60 B"').replace('"3 L"', '"5 L"')
    found = {way.option.code: way.plan for way in ways(session_of(jar), NOW, Habits())}
    assert len(found["planner"].steps) == 1
    assert "topped" not in found or len(found["topped"].steps) == 1
