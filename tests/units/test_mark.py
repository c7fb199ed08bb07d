"""Instants by two clocks, and what passes between them whatever is done to the one on the wall."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.units.mark import Mark, Passed, marked, passed

AT = datetime(2026, 11, 27, 15, 0, tzinfo=UTC)


def test_a_mark_goes_into_a_file_and_comes_back():
    mark = Mark(AT, "3f2a9c1b", 12345.6)
    assert mark.text == "3f2a9c1b 12345.6"
    assert marked(AT, mark.text) == mark
    assert Mark(AT).text == ""


@pytest.mark.parametrize("text", ["", "3f2a9c1b", "3f2a9c1b soon", " 12", "a b c"])
def test_what_is_no_mark_leaves_the_wall_clock(text):
    assert marked(AT, text) == Mark(AT)


def test_on_one_boot_the_clock_nobody_sets_counts():
    first = Mark(AT, "a", 100.0)
    assert passed(first, Mark(AT + timedelta(seconds=600), "a", 700.0)) == Passed(600.0, 0.0)
    assert passed(first, Mark(AT + timedelta(seconds=601.9), "a", 700.0)) == Passed(600.0, 0.0)  # no step, but rounding


@pytest.mark.parametrize("hours", [-1, 1])
def test_a_wall_clock_set_by_an_hour_is_told_and_not_followed(hours):
    first, second = Mark(AT, "a", 100.0), Mark(AT + timedelta(hours=hours, seconds=600), "a", 700.0)
    assert passed(first, second) == Passed(600.0, 3600.0 * hours)


def test_after_a_reboot_or_on_another_machine_the_wall_clock_counts():
    assert passed(Mark(AT, "a", 9000.0), Mark(AT + timedelta(seconds=600), "b", 3.0)) == Passed(600.0, 0.0)
    assert passed(Mark(AT), Mark(AT + timedelta(seconds=600), "b", 3.0)) == Passed(600.0, 0.0)


@pytest.mark.parametrize(("day", "clock_h"), [((2026, 10, 25), 3), ((2026, 3, 29), 5)])
def test_daylight_saving_passes_no_time(day, clock_h):
    """From midnight local: in autumn three hours by the clocks are four that pass, in spring five are four."""
    zone = ZoneInfo("Europe/Berlin")
    first, second = datetime(*day, 0, tzinfo=zone), datetime(*day, clock_h, tzinfo=zone)
    assert passed(Mark(first), Mark(second)).seconds == 4 * 3600.0


@given(st.floats(0.0, 1e6), st.floats(0.0, 1e6))
def test_later_and_passed_are_inverses(uptime_s, seconds):
    mark = Mark(AT, "a", uptime_s)
    assert passed(mark, mark.later(seconds)).seconds == pytest.approx(seconds, abs=1e-6)
