"""Dates and times as typed on a Thursday evening in a place with summer time."""

from __future__ import annotations

import time as clock
from datetime import UTC, date, datetime, time, timedelta, timezone
from zoneinfo import ZoneInfo

import pytest

from workbench.errors import QuantityError
from workbench.session.typed_time import at_local, typed_date, typed_moment, typed_time

BERLIN = ZoneInfo("Europe/Berlin")
NOW = datetime(2026, 11, 26, 19, 30, tzinfo=UTC)  # Thursday, 20:30 there


@pytest.mark.parametrize(
    ("text", "past", "future"),
    [
        ("2026-10-19", "2026-10-19", "2026-10-19"),
        ("19 Oct 2026", "2026-10-19", "2026-10-19"),
        ("19 October, 2025", "2025-10-19", "2025-10-19"),
        ("Oct 19", "2026-10-19", "2027-10-19"),
        ("19 oct", "2026-10-19", "2027-10-19"),
        ("19. Oct.", "2026-10-19", "2027-10-19"),
        ("1 sept", "2026-09-01", "2027-09-01"),
        ("31 Dec", "2025-12-31", "2026-12-31"),
        ("26 nov", "2026-11-26", "2026-11-26"),
        ("29 Feb", "2024-02-29", "2028-02-29"),
        ("today", "2026-11-26", "2026-11-26"),
        ("  Yesterday ", "2026-11-25", "2026-11-25"),
        ("12 d ago", "2026-11-14", "2026-11-14"),
        ("1 day ago", "2026-11-25", "2026-11-25"),
        ("3 weeks ago", "2026-11-05", "2026-11-05"),
        ("in 2 w", "2026-12-10", "2026-12-10"),
        ("sat", "2026-11-21", "2026-11-28"),
        ("Thursday", "2026-11-26", "2026-11-26"),
        ("6 weeks", "2026-10-15", "2027-01-07"),
        ("12 d", "2026-11-14", "2026-12-08"),
        ("+2d", "2026-11-28", "2026-11-28"),
        ("0 d", "2026-11-26", "2026-11-26"),
        ("19.10", "2026-10-19", "2027-10-19"),
        ("19.10.", "2026-10-19", "2027-10-19"),
        ("19. 10. 2025", "2025-10-19", "2025-10-19"),
    ],
)
def test_dates_are_understood_as_the_last_or_the_next_that_fits(text: str, past: str, future: str) -> None:
    assert typed_date(text, NOW, BERLIN, past=True) == date.fromisoformat(past)
    assert typed_date(text, NOW, BERLIN, past=False) == date.fromisoformat(future)


def test_today_is_the_day_of_the_place() -> None:
    late = datetime(2026, 11, 26, 23, 30, tzinfo=UTC)
    assert typed_date("today", late, BERLIN, past=True) == date(2026, 11, 27)
    assert typed_date("today", late, UTC, past=True) == date(2026, 11, 26)


@pytest.mark.parametrize(
    ("text", "past", "future"),
    [
        ("2026-11-28 15:00", "2026-11-28T15:00+01:00", "2026-11-28T15:00+01:00"),
        ("2026-11-28T15:00", "2026-11-28T15:00+01:00", "2026-11-28T15:00+01:00"),
        ("2026-11-28T15:00:12Z", "2026-11-28T15:00:12+00:00", "2026-11-28T15:00:12+00:00"),
        ("2026-11-28 15:00-05:00", "2026-11-28T15:00-05:00", "2026-11-28T15:00-05:00"),
        ("28 Nov 15:00", "2025-11-28T15:00+01:00", "2026-11-28T15:00+01:00"),
        ("28 Nov 2026, 3 pm", "2026-11-28T15:00+01:00", "2026-11-28T15:00+01:00"),
        ("Nov 28 at 3:05 pm", "2025-11-28T15:05+01:00", "2026-11-28T15:05+01:00"),
        ("Sat 15:00", "2026-11-21T15:00+01:00", "2026-11-28T15:00+01:00"),
        ("thu 20:00", "2026-11-26T20:00+01:00", "2026-12-03T20:00+01:00"),
        ("thu 21:00", "2026-11-19T21:00+01:00", "2026-11-26T21:00+01:00"),
        ("tomorrow 15:00", "2026-11-27T15:00+01:00", "2026-11-27T15:00+01:00"),
        ("yesterday 7.30", "2026-11-25T07:30+01:00", "2026-11-25T07:30+01:00"),
        ("20:29", "2026-11-26T20:29+01:00", "2026-11-27T20:29+01:00"),
        ("20:31", "2026-11-25T20:31+01:00", "2026-11-26T20:31+01:00"),
        ("15:40:12", "2026-11-26T15:40:12+01:00", "2026-11-27T15:40:12+01:00"),
        ("now", "2026-11-26T20:30+01:00", "2026-11-26T20:30+01:00"),
        ("90 min ago", "2026-11-26T19:00+01:00", "2026-11-26T19:00+01:00"),
        ("in 1 h 30 min", "2026-11-26T22:00+01:00", "2026-11-26T22:00+01:00"),
        ("12 d ago 15:00", "2026-11-14T15:00+01:00", "2026-11-14T15:00+01:00"),
        ("1 jul 12:00", "2026-07-01T12:00+02:00", "2027-07-01T12:00+02:00"),
        ("sat 15", "2026-11-21T15:00+01:00", "2026-11-28T15:00+01:00"),
        ("sat at 7", "2026-11-21T07:00+01:00", "2026-11-28T07:00+01:00"),
        ("28 nov 15", "2025-11-28T15:00+01:00", "2026-11-28T15:00+01:00"),
        ("28.11 15:00", "2025-11-28T15:00+01:00", "2026-11-28T15:00+01:00"),
        ("28.11. 15", "2025-11-28T15:00+01:00", "2026-11-28T15:00+01:00"),
        ("28.11.2026 15:00", "2026-11-28T15:00+01:00", "2026-11-28T15:00+01:00"),
        ("2 d 15:00", "2026-11-24T15:00+01:00", "2026-11-28T15:00+01:00"),
        ("+2d 18", "2026-11-28T18:00+01:00", "2026-11-28T18:00+01:00"),
        ("+36 h", "2026-11-28T08:30+01:00", "2026-11-28T08:30+01:00"),
    ],
)
def test_moments_carry_the_offset_that_the_place_has_then(text: str, past: str, future: str) -> None:
    for is_past, expected in ((True, past), (False, future)):
        moment = typed_moment(text, NOW, BERLIN, past=is_past)
        assert moment == datetime.fromisoformat(expected)
        assert moment.utcoffset() == datetime.fromisoformat(expected).utcoffset()


@pytest.mark.parametrize(
    ("text", "noon"),
    [
        ("sat", "2026-11-28"),
        ("thu", "2026-12-03"),  # this one's noon is over
        ("tomorrow", "2026-11-27"),
        ("28 Nov", "2026-11-28"),
        ("nov 15", "2027-11-15"),
        ("28.11.", "2026-11-28"),
        ("28.11", "2026-11-28"),
        ("+2d", "2026-11-28"),
        ("in 2 weeks", "2026-12-10"),
        ("2026-12-05", "2026-12-05"),
    ],
)
def test_a_day_to_come_without_an_hour_means_its_noon(text: str, noon: str) -> None:
    assert typed_moment(text, NOW, BERLIN, past=False) == datetime.fromisoformat(f"{noon}T12:00+01:00")
    with pytest.raises(QuantityError, match="is no date with a time"):  # what has happened has an hour
        typed_moment("yesterday", NOW, BERLIN, past=True)


def test_of_what_has_happened_an_hour_gone_by_is_advised() -> None:
    for past, advised in ((True, ("15:40", "20 min ago", "yesterday 21:30")), (False, ("Sat 15", "tomorrow 15:00"))):
        with pytest.raises(QuantityError) as caught:
            typed_moment("then", NOW, BERLIN, past=past)
        for text in advised:
            assert f'"{text}"' in caught.value.right
            assert (typed_moment(text, NOW, BERLIN, past=past) <= NOW) is past


def test_what_could_be_a_day_or_an_hour_is_asked_for_anew() -> None:
    with pytest.raises(QuantityError, match="could be a day or an hour") as caught:
        typed_moment("7.10", NOW, BERLIN, past=False)
    assert caught.value.right == 'write "7.10." for the day, "7:10" for the hour'
    assert typed_moment("7.10", NOW, BERLIN, past=True) == datetime(2026, 11, 26, 6, 10, tzinfo=UTC)
    assert typed_moment("7.30", NOW, BERLIN, past=False) == datetime(2026, 11, 27, 6, 30, tzinfo=UTC)


def test_a_time_that_the_clocks_skip_or_repeat_is_settled() -> None:
    assert at_local(date(2027, 3, 28), time(2, 30), BERLIN).isoformat() == "2027-03-28T03:30:00+02:00"
    assert at_local(date(2026, 10, 25), time(2, 30), BERLIN).isoformat() == "2026-10-25T02:30:00+02:00"
    assert at_local(date(2026, 10, 25), time(3, 0), BERLIN).isoformat() == "2026-10-25T03:00:00+01:00"


def test_it_is_settled_alike_by_the_zone_of_the_system(monkeypatch: pytest.MonkeyPatch) -> None:
    with monkeypatch.context() as patched:
        patched.setenv("TZ", "Europe/Berlin")
        clock.tzset()
        found = [at_local(day, time(2, 30), None) for day in (date(2027, 3, 28), date(2026, 10, 25))]
    clock.tzset()
    assert [at.isoformat() for at in found] == ["2027-03-28T03:30:00+02:00", "2026-10-25T02:30:00+02:00"]


def test_the_zone_of_the_system_is_taken_where_none_is_given() -> None:
    moment = typed_moment("2026-11-28 15:00", NOW, None, past=False)
    assert moment == datetime(2026, 11, 28, 15).astimezone()
    assert moment.utcoffset() is not None


def test_the_next_moment_is_after_now_and_the_last_is_not() -> None:
    for text in ("mon 00:00", "wed 23:59", "20:30", "29 feb 12:00"):
        assert typed_moment(text, NOW, BERLIN, past=False) > NOW
        assert typed_moment(text, NOW, BERLIN, past=True) <= NOW
        assert typed_moment(text, NOW, BERLIN, past=False) - NOW < timedelta(days=9 * 366)


@pytest.mark.parametrize(
    "text",
    ["", "soon", "31 Feb 2026", "32 Oct", "19 Okt", "s", "in 12 d ago", "+12 d ago", "2026-13-01", "19.13.", "19/10"],
)
def test_what_is_no_date_is_told_what_would_be(text: str) -> None:
    with pytest.raises(QuantityError, match="is no date") as caught:
        typed_date(text, NOW, BERLIN, past=True)
    assert "19 Oct" in caught.value.right


@pytest.mark.parametrize(
    "text",
    [
        "",
        "15",
        "today",
        "yesterday",
        "Sat 25:00",
        "Sat 24",
        "soon 15:00",
        "2026-02-30 15:00",
        "2026-02-30T15:00Z",
        "x ago",
        "13 pm",
    ],
)
def test_what_is_no_moment_is_refused(text: str) -> None:
    with pytest.raises(QuantityError):
        typed_moment(text, NOW, BERLIN, past=False)


@pytest.mark.parametrize(
    ("text", "clock"),
    [("15:00", time(15)), ("7.30", time(7, 30)), ("12 am", time(0)), ("12 PM", time(12)), ("1:05pm", time(13, 5))],
)
def test_times_of_day(text: str, clock: time) -> None:
    assert typed_time(text) == clock


@pytest.mark.parametrize("text", ["24:00", "0 pm", "13 pm", "7", "7:5", "٧:٣٠"])
def test_what_is_no_time_of_day_is_refused(text: str) -> None:
    with pytest.raises(QuantityError, match="is no time of day"):
        typed_time(text)


@pytest.mark.parametrize("text", ["0001-01-01 00:00", "9999-12-31 23:59", "1 Jan 0001 00:00"])
@pytest.mark.parametrize("hours", [-14, 0, 14])
def test_the_calendars_ends_are_refused_kindly(text: str, hours: int) -> None:
    from workbench.session.fields import field_of

    with pytest.raises(QuantityError, match="out of range"):
        field_of("batch.pitch_at").from_typed(
            text, datetime(2026, 11, 26, tzinfo=UTC), timezone(timedelta(hours=hours))
        )
