"""Hours and days as a brewer reads them: local, short, and how long from now."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from datetime import date, tzinfo

__all__ = ["day", "full", "hours_between", "lasting", "local", "moment", "of_system", "period", "until", "weekday"]

_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def local(at: datetime, tz: tzinfo | None) -> datetime:
    """`at` in the zone (None: this machine's), with the offset of that instant as a plain one.

    Two moments of one zone that changes its clocks would differ by what the clocks show; by plain offsets they differ
    by the hours that pass. At the calendar's ends, where no zone reaches, it is `at` itself.
    """
    try:
        there = at.astimezone(UTC).astimezone(tz)
    except (OverflowError, ValueError):
        return at
    return there.replace(tzinfo=timezone(there.utcoffset() or timedelta()), fold=0)


def of_system(naive: datetime) -> datetime:
    """A time of this system's zone, in UTC; one that the clocks skip is an hour later.

    astimezone() of a naive time would make such a one an hour sooner. OverflowError, ValueError at the calendar's ends.
    """
    return datetime.fromtimestamp(naive.timestamp(), UTC)


def hours_between(first: datetime, second: datetime) -> float:
    """Hours that pass from `first` to `second`, whatever their zones' clocks do on the way."""
    return (second.timestamp() - first.timestamp()) / 3600.0


def weekday(on: date) -> str:
    """`Fri`."""
    return _DAYS[on.weekday()]


def day(on: date) -> str:
    """`19 Oct`."""
    return f"{on.day} {_MONTHS[on.month - 1]}"


def moment(at: datetime, now: datetime, tz: tzinfo | None) -> str:
    """`Fri 17:00` within six days of `now`, else `28 Nov 17:00`, with the year where it is another one."""
    there, today = local(at, tz), local(now, tz)
    if abs(there.date() - today.date()) < timedelta(days=6):
        return f"{weekday(there)} {there:%H:%M}"
    year = "" if there.year == today.year else f" {there.year}"
    return f"{day(there)}{year} {there:%H:%M}"


def period(start: datetime, end: datetime, now: datetime, tz: tzinfo | None, dash: str = "–") -> str:
    """`Fri 17:00–Sat 15:00`, farther off `28–30 Nov 17:00–15:00` where it is one month."""
    first, last = local(start, tz), local(end, tz)
    there, then = moment(start, now, tz), moment(end, now, tz)
    if (first.year, first.month) == (last.year, last.month) and day(first) in there and day(last) in then:
        days = f"{first.day}{dash}" if first.day != last.day else ""
        return f"{days}{day(last)} {there.removeprefix(day(first)).lstrip()}{dash}{last:%H:%M}"
    return f"{there}{dash}{then}"


def full(at: datetime, tz: tzinfo | None) -> str:
    """`Fri 27 Nov 2026 17:00`, local: for paper, which is read later."""
    there = local(at, tz)
    return f"{weekday(there)} {day(there)} {there.year} {there:%H:%M}"


def lasting(span: timedelta) -> str:
    """`45 min`, `3 h 20 min`, `1 d 07 h`, `12 d`: two units at most, the sign left out."""
    minutes = abs(round(span.total_seconds() / 60))
    if minutes < 60:
        return f"{minutes} min"
    hours, minutes = divmod(minutes, 60)
    if hours < 24:
        return f"{hours} h {minutes:02} min"
    days, hours = divmod(hours, 24)
    return f"{days} d {hours:02} h" if days < 10 else f"{days} d"


def until(at: datetime, now: datetime) -> str:
    """`in 1 d 07 h`, `now`, `20 min ago`."""
    span = timedelta(hours=hours_between(now, at))
    if abs(span) < timedelta(seconds=30):
        return "now"
    return f"in {lasting(span)}" if span > timedelta() else f"{lasting(span)} ago"
