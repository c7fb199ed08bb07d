"""Dates and times as a person types them: "19 Oct", "6 weeks", "Sat 15", "28.11. 15:00", "+2d", "2026-11-28 15:00".

Where the text leaves the day open ("Sat", "28 Nov", "15:00", "6 weeks"), several days fit; `past` says whether the last
one up to now is meant or the next one from now. A day still to come that has no hour means its noon. Times without an
offset are local: `tz`, or the system's zone for None.
"""

from __future__ import annotations

import re
from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING

from workbench.errors import QuantityError
from workbench.units.kinds import DURATION
from workbench.units.number import quote
from workbench.units.parse import parse
from workbench.units.when import local, of_system

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import tzinfo

__all__ = ["at_local", "typed_date", "typed_moment", "typed_time"]

_MONTH_NAMES = (
    *("january", "february", "march", "april", "may", "june"),
    *("july", "august", "september", "october", "november", "december"),
)
_DAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_NEAR = {"yesterday": -1, "today": 0, "tomorrow": 1}
_ISO = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)
_DAY_MONTH = re.compile(r"(?P<day>\d{1,2})\.? ?(?P<month>[a-z]{3,})\.?(?:,? (?P<year>\d{4}))?", re.ASCII)
_MONTH_DAY = re.compile(r"(?P<month>[a-z]{3,})\.? ?(?P<day>\d{1,2})(?:,? (?P<year>\d{4}))?", re.ASCII)
_NUMBERS = re.compile(r"(?P<day>\d{1,2})\. ?(?P<month>\d{1,2})(?:\.|\. ?(?P<year>\d{4}))?", re.ASCII)
_DISTANCE = re.compile(r"(?P<ahead>in |\+ ?)?(?P<n>\d{1,4}) ?(?P<unit>d|days?|w|weeks?)(?P<ago> ago)?", re.ASCII)
_TIME = re.compile(
    r"(?P<h>\d{1,2})(?:[:.](?P<m>\d{2})(?::(?P<s>\d{2}))?(?: ?(?P<half>[ap])m)?| ?(?P<only>[ap])m)", re.ASCII
)
_TIME_LAST = re.compile(rf"(?:(?P<day>.*?)(?:[ ,]+(?:at )?|(?<=\d)t))?(?P<time>{_TIME.pattern})", re.ASCII)
_HOUR_LAST = re.compile(r"(?P<day>.*?[^ ,])[ ,]+(?:at )?(?P<time>\d{1,2})", re.ASCII)
_FULL = re.compile(r"\d{4}-\d\d-\d\d[t ]\d\d:\d\d.*(?:z|[-+]\d\d:?\d\d)", re.ASCII)
_AGO_OR_IN = re.compile(r"(?P<ago>.+) ago|(?:in |\+ ?)(?P<ahead>.+)")
_NOON = time(12)

_DATE_RIGHT = 'write for example 2026-10-19, "19 Oct", "19.10.", "yesterday" or "6 weeks"'
_MOMENT_RIGHT = 'write for example "2026-11-28 15:00", "28 Nov 15:00", "Sat 15" or "tomorrow 15:00"'
_PAST_RIGHT = 'write for example "15:40", "20 min ago", "yesterday 21:30" or "2026-11-27 15:40"'


def typed_date(text: str, now: datetime, tz: tzinfo | None, *, past: bool) -> date:
    """The date that `text` means. Raises QuantityError for none."""
    today = now.astimezone(tz).date()
    days = _days(_folded(text), today)
    if not days:
        raise QuantityError(f"{quote(text)} is no date", _DATE_RIGHT)
    fitting = [day for day in days if (day <= today if past else day >= today)] or days
    return fitting[-1] if past else fitting[0]


def typed_moment(text: str, now: datetime, tz: tzinfo | None, *, past: bool) -> datetime:
    """The moment that `text` means, with its offset, local unless one was typed. Raises QuantityError for none."""
    folded = _folded(text)
    if folded == "now":
        return local(now.replace(microsecond=0), tz)
    if _FULL.fullmatch(folded):
        return _full(text, folded)
    moments = _noons(text, folded, now, tz) if not past else []
    moments = moments or _with_hour(folded, now, tz)
    if not moments and (match := _AGO_OR_IN.fullmatch(folded)) and not _DISTANCE.fullmatch(folded):
        distance = timedelta(seconds=min(parse(match["ago"] or match["ahead"], DURATION), 1e9))
        return local((now - distance if match["ago"] else now + distance).replace(microsecond=0), tz)
    if not moments:
        raise QuantityError(f"{quote(text)} is no date with a time", _PAST_RIGHT if past else _MOMENT_RIGHT)
    fitting = [moment for moment in moments if (moment <= now if past else moment > now)] or moments
    return fitting[-1] if past else fitting[0]


def typed_time(text: str) -> time:
    """The time of day that `text` means: "15:00", "7.30", "3 pm". Raises QuantityError for none."""
    match = _TIME.fullmatch(_folded(text))
    half = (match["half"] or match["only"]) if match else None
    hour = int(match["h"]) if match else 99
    if half and 1 <= hour <= 12:
        hour = hour % 12 + (12 if half == "p" else 0)
    elif half:
        hour = 99
    try:
        return time(hour, int(match["m"] or 0), int(match["s"] or 0)) if match else time(hour)
    except ValueError:
        raise QuantityError(f"{quote(text)} is no time of day", 'write for example "15:00"') from None


def at_local(day: date, clock: time, tz: tzinfo | None) -> datetime:
    """That time of that day in the zone, with its offset then.

    A time that the clocks skip in spring is taken an hour later; of one that comes twice in autumn the first is meant.
    """
    naive = datetime.combine(day, clock)
    try:
        return local(of_system(naive) if tz is None else naive.replace(tzinfo=tz), tz)
    except (OverflowError, ValueError):  # at the calendar's ends
        raise QuantityError(f"the year {day.year} is out of range", _MOMENT_RIGHT) from None


def _full(text: str, folded: str) -> datetime:
    try:
        return datetime.fromisoformat(folded.upper())
    except ValueError:
        raise QuantityError(f"{quote(text)} is no date with a time", _MOMENT_RIGHT) from None


def _noons(text: str, folded: str, now: datetime, tz: tzinfo | None) -> list[datetime]:
    """Noon of every day that fits a text which names no hour; none where it is no day, or noon is over."""
    moments = [at_local(day, _NOON, tz) for day in _days(folded, now.astimezone(tz).date())]
    if moments and (clock := _TIME.fullmatch(folded)) and int(clock["h"]) < 24:
        right = f'write "{folded}." for the day, "{folded.replace(".", ":")}" for the hour'
        raise QuantityError(f"{quote(text)} could be a day or an hour", right)
    return [moment for moment in moments if moment > now]


def _with_hour(folded: str, now: datetime, tz: tzinfo | None) -> list[datetime]:
    """All moments that fit a text which ends with the hour. Raises QuantityError for an hour that there is not."""
    if match := _TIME_LAST.fullmatch(folded):
        return _moments(match["day"], typed_time(match["time"]), now, tz)
    if (match := _HOUR_LAST.fullmatch(folded)) and int(match["time"]) < 24:
        return _moments(match["day"], time(int(match["time"])), now, tz)
    return []


def _moments(day: str | None, clock: time, now: datetime, tz: tzinfo | None) -> list[datetime]:
    """All moments that fit, in order; without a day: yesterday, today and tomorrow."""
    today = now.astimezone(tz).date()
    days = _days(day, today) if day else [today + timedelta(days=n) for n in (-1, 0, 1)]
    return [at_local(day, clock, tz) for day in days]


def _days(text: str, today: date) -> Sequence[date]:
    """All days that fit, in order, of about this time; none where the text is no date."""
    if text in _NEAR:
        return [today + timedelta(days=_NEAR[text])]
    if _ISO.fullmatch(text):
        return _valid(*map(int, text.split("-")))
    if match := _DISTANCE.fullmatch(text):
        return _at_distance(match, today)
    if (
        len(text) >= 2
        and (weekday := next((i for i, name in enumerate(_DAYS) if name.startswith(text)), None)) is not None
    ):
        around = [today + timedelta(days=n) for n in range(-7, 8)]
        return [day for day in around if day.weekday() == weekday]
    if match := _DAY_MONTH.fullmatch(text) or _MONTH_DAY.fullmatch(text) or _NUMBERS.fullmatch(text):
        return _of_month(match, today)
    return []


def _at_distance(match: re.Match[str], today: date) -> Sequence[date]:
    """From "12 d ago", "in 3 weeks" or "+2d"; a distance that says neither, "6 weeks", fits both ways."""
    days = timedelta(days=int(match["n"]) * (7 if match["unit"].startswith("w") else 1))
    return [*([] if match["ahead"] else [today - days]), *([] if match["ago"] else [today + days])]


def _of_month(match: re.Match[str], today: date) -> Sequence[date]:
    named = (i for i, name in enumerate(_MONTH_NAMES, 1) if name.startswith(match["month"]))
    month = int(match["month"]) if match["month"].isdigit() else next(named, 0)
    if match["year"]:
        return _valid(int(match["year"]), month, int(match["day"]))
    years = range(today.year - 8, today.year + 9)  # a 29 February is never further away
    return [day for year in years for day in _valid(year, month, int(match["day"]))]


def _valid(year: int, month: int, day: int) -> Sequence[date]:
    try:
        return [date(year, month, day)]
    except ValueError:
        return []


def _folded(text: str) -> str:
    return " ".join(text.casefold().split())
