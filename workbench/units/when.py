"""Hours and days as a brewer reads them: local, short, and how long from now."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from datetime import date, datetime, tzinfo

__all__ = ["day", "full", "lasting", "moment", "until"]

_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def day(on: date) -> str:
    """`19 Oct`."""
    return f"{on.day} {_MONTHS[on.month - 1]}"


def moment(at: datetime, now: datetime, tz: tzinfo | None) -> str:
    """`Fri 17:00` within six days of `now`, else `28 Nov 17:00`, with the year where it is another one."""
    local, today = at.astimezone(tz), now.astimezone(tz)
    if abs(local.date() - today.date()) < timedelta(days=6):
        return f"{_DAYS[local.weekday()]} {local:%H:%M}"
    year = "" if local.year == today.year else f" {local.year}"
    return f"{day(local)}{year} {local:%H:%M}"


def full(at: datetime, tz: tzinfo | None) -> str:
    """`Fri 27 Nov 2026 17:00`, local: for paper, which is read later."""
    local = at.astimezone(tz)
    return f"{_DAYS[local.weekday()]} {day(local)} {local.year} {local:%H:%M}"


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
    if abs(at - now) < timedelta(seconds=30):
        return "now"
    return f"in {lasting(at - now)}" if at > now else f"{lasting(at - now)} ago"
