"""The lead that agrees with itself, and whole hours."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.brewing.timing import settle_lead, whole_hours

CLOSE = 0.002


@given(st.floats(0.0, 500.0))
def test_a_constant_lead_is_itself(hours):
    assert settle_lead(lambda _: hours) == pytest.approx(hours, abs=CLOSE)


@given(st.floats(1.0, 300.0), st.floats(0.0, 0.9))
def test_a_gentle_slope_settles_where_the_lines_cross(hours, slope):
    assert settle_lead(lambda lead: hours - slope * lead) == pytest.approx(hours / (1.0 + slope), abs=CLOSE)


@given(st.floats(1.0, 300.0), st.floats(1.0, 50.0))
def test_a_steep_slope_swings_and_settles_all_the_same(hours, slope):
    found = settle_lead(lambda lead: max(0.0, hours - slope * lead))
    assert found == pytest.approx(hours / (1.0 + slope), abs=CLOSE)


@given(st.floats(20.0, 100.0), st.floats(1.0, 19.0), st.floats(20.0, 60.0))
def test_where_the_lead_jumps_past_itself_the_jump_is_the_answer(long_h, short_h, jump_h):
    # such a jump is real: yeast so old that it counts as none below a lead, alive above it
    found = settle_lead(lambda lead: long_h if lead < jump_h else short_h)
    assert found == pytest.approx(min(long_h, jump_h), abs=CLOSE)


def test_the_swing_between_two_leads_is_noticed():
    asked = []

    def lead_of(lead):
        asked.append(lead)
        return 100.0 if lead < 50.0 else 20.0

    settle_lead(lead_of)
    assert set(asked[1:30]) == {100.0, 20.0}
    assert len(asked) < 80


UNTOLD = {
    "at any lead": lambda _: None,
    "at the second": lambda lead: 100.0 if lead == 0.0 else None,
    "between two leads it swings between": lambda lead: (
        None if 40.0 < lead < 60.0 else (100.0 if lead < 50.0 else 20.0)
    ),
}


@pytest.mark.parametrize("lead_of", UNTOLD.values(), ids=UNTOLD)
def test_no_lead_where_the_hours_cannot_be_told(lead_of):
    assert settle_lead(lead_of) is None


@pytest.mark.parametrize(
    ("hours", "whole"),
    [(0.0, 0.0), (0.2, 1.0), (21.9, 22.0), (22.0, 22.0), (22.0000005, 22.0), (22.00001, 23.0), (21.9999999, 22.0)],
)
def test_hours_are_rounded_up(hours, whole):
    assert whole_hours(hours) == whole


@given(st.floats(0.0, 1000.0))
def test_whole_hours_are_the_ceiling_but_for_a_rounding_error(hours):
    assert whole_hours(hours) == max(0.0, math.ceil(hours - 1e-6))
