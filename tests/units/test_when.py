from __future__ import annotations

from datetime import UTC, date, datetime, timedelta, timezone
from zoneinfo import ZoneInfo

import pytest

from tests.panes.scenes import CET, NOW
from workbench.units.when import day, full, hours_between, lasting, local, moment, period, until


@pytest.mark.parametrize(
    ("minutes", "says"),
    [(5, "5 min"), (59, "59 min"), (60, "1 h 00 min"), (200, "3 h 20 min"), (1860, "1 d 07 h"), (60 * 24 * 12, "12 d")],
)
def test_a_span_in_two_units(minutes: int, says: str) -> None:
    assert lasting(timedelta(minutes=minutes)) == says
    assert until(NOW + timedelta(minutes=minutes), NOW) == f"in {says}"
    assert until(NOW - timedelta(minutes=minutes), NOW) == f"{says} ago"


def test_now_is_now() -> None:
    assert until(NOW, NOW) == "now"


def test_a_moment_is_local_and_only_as_long_as_needed() -> None:
    assert moment(datetime(2026, 11, 28, 14, tzinfo=UTC), NOW, CET) == "Sat 15:00"
    assert moment(datetime(2026, 12, 5, 13, tzinfo=UTC), NOW, CET) == "5 Dec 14:00"
    assert moment(datetime(2027, 1, 5, 13, tzinfo=UTC), NOW, CET) == "5 Jan 2027 14:00"
    assert full(datetime(2026, 11, 28, 14, tzinfo=UTC), CET) == "Sat 28 Nov 2026 15:00"


def test_a_period_says_a_month_once() -> None:
    def told(first: datetime, hours: float) -> str:
        return period(first, first + timedelta(hours=hours), NOW, CET)

    assert told(datetime(2026, 11, 27, 16, tzinfo=UTC), 22) == "Fri 17:00–Sat 15:00"
    assert told(datetime(2026, 12, 5, 16, tzinfo=UTC), 22) == "5–6 Dec 17:00–15:00"
    assert told(datetime(2026, 12, 5, 8, tzinfo=UTC), 3) == "5 Dec 09:00–12:00"
    assert told(datetime(2026, 12, 31, 16, tzinfo=UTC), 22) == "31 Dec 17:00–1 Jan 2027 15:00"
    assert told(datetime(2027, 1, 5, 16, tzinfo=UTC), 22) == "5–6 Jan 2027 17:00–15:00"
    assert told(datetime(2026, 12, 1, 16, tzinfo=UTC), 22) == "Tue 17:00–2 Dec 15:00"


def test_a_day() -> None:
    assert day(date(2026, 10, 19)) == "19 Oct"


BERLIN = ZoneInfo("Europe/Berlin")  # its clocks go from 02:00 to 03:00 on 28 March 2027


def test_a_moment_in_a_zone_has_the_offset_of_its_own_hour() -> None:
    before, after = (datetime(2027, 3, 28, hour, tzinfo=UTC) for hour in (0, 1))
    assert local(before, BERLIN).isoformat() == "2027-03-28T01:00:00+01:00"
    assert local(after, BERLIN).isoformat() == "2027-03-28T03:00:00+02:00"
    assert local(after, BERLIN) - local(before, BERLIN) == timedelta(hours=1)
    assert moment(after, before, BERLIN) == "Sun 03:00"


def test_hours_are_those_that_pass_not_those_of_the_clock() -> None:
    first, second = (datetime(2027, 3, day, 15, tzinfo=BERLIN) for day in (27, 28))
    assert second - first == timedelta(hours=24)  # by the clock
    assert hours_between(first, second) == 23.0
    assert until(second, first) == "in 23 h 00 min"


def test_at_the_calendars_ends_a_moment_stays_as_it_is() -> None:
    first = datetime(1, 1, 1, tzinfo=UTC)
    assert local(first, timezone(timedelta(hours=-5))) == first
