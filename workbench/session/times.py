"""The kinds of value that are dates and times; the rest, and what all have in common, is in `values`."""

from __future__ import annotations

import re
from datetime import date, datetime
from typing import TYPE_CHECKING, NamedTuple, TypeVar

from workbench.errors import QuantityError
from workbench.session.faults import named
from workbench.units.number import quote

if TYPE_CHECKING:
    from datetime import time, tzinfo

__all__ = ["Awake", "Day", "Moment"]

_YEARS = (1900, 2199)  # beyond, a slip; and reckoning near the calendar's ends would fail
_OUR_TIME = f"years {_YEARS[0]} to {_YEARS[1]}"
_AWAKE = r"(?a)\s*(\d{1,2}:\d{2})\s*[-–]\s*(\d{1,2}:\d{2})\s*"

_Day = TypeVar("_Day", bound=date)


class Day(NamedTuple):
    """A date. Typed without a year, the last such day up to today."""

    example: str

    @property
    def allowed(self) -> str:
        """Our time."""
        return _OUR_TIME

    def from_toml(self, raw: object) -> date:
        """The date."""
        if isinstance(raw, datetime) or not isinstance(raw, date):
            raise QuantityError(f"{named(raw)} is no date", f"write it without quotes, for example {self.example}")
        return _in_our_time(raw, self.example)

    def from_typed(self, text: str, now: datetime, tz: tzinfo | None) -> tuple[date, date]:
        """The date, twice."""
        from workbench.session.typed_time import typed_date  # for what is typed alone

        day = _in_our_time(typed_date(text, now, tz, past=True), self.example)
        return day, day


class Moment(NamedTuple):
    """A date and time with offset. Typed with the day left open, the next such moment, or with `past` the last."""

    example: str
    past: bool = False

    @property
    def allowed(self) -> str:
        """Our time."""
        return _OUR_TIME

    def from_toml(self, raw: object) -> datetime:
        """The moment."""
        right = f"write it without quotes, for example {self.example}"
        if not isinstance(raw, datetime):
            raise QuantityError(f"{named(raw)} is no date with a time", right)
        if raw.utcoffset() is None:
            raise QuantityError(
                "the time has no offset", f"write its offset from UTC, or Z, for example {self.example}"
            )
        return _in_our_time(raw, self.example)

    def from_typed(self, text: str, now: datetime, tz: tzinfo | None) -> tuple[datetime, datetime]:
        """The moment, twice: with the offset that the place has then."""
        from workbench.session.typed_time import typed_moment

        moment = _in_our_time(typed_moment(text, now, tz, past=self.past), self.example)
        return moment, moment


class Awake(NamedTuple):
    """From when to when, "07:00-22:30"; over midnight where the second is the earlier."""

    example: str = "07:00-22:30"

    @property
    def allowed(self) -> str:
        """Two times."""
        return "two times of day that differ"

    def from_toml(self, raw: object) -> tuple[time, time]:
        """Both times of day."""
        match = re.fullmatch(_AWAKE, raw) if isinstance(raw, str) else None
        if match is None:
            raise QuantityError(f"{named(raw)} is no pair of times", f'write "{self.example}"')
        return self._between(match[1], match[2])

    def from_typed(self, text: str, now: datetime, tz: tzinfo | None) -> tuple[tuple[time, time], str]:  # noqa: ARG002
        """Both times, and the text: "7-22:30" is written "07:00-22:30"."""
        parts = [part if re.search(r"[:.]|m", part) else f"{part.strip()}:00" for part in re.split("[-–]", text)]
        if len(parts) != 2:
            raise QuantityError(f"{quote(text)} is no pair of times", f'write "{self.example}"')
        start, end = self._between(*parts)
        return (start, end), f"{start:%H:%M}-{end:%H:%M}"

    def _between(self, first: str, last: str) -> tuple[time, time]:
        from workbench.session.typed_time import typed_time

        start, end = typed_time(first), typed_time(last)
        if start == end:
            raise QuantityError("both times are the same", f'write "{self.example}"')
        return start, end


def _in_our_time(day: _Day, example: str) -> _Day:
    low, high = _YEARS
    if not low <= day.year <= high:
        raise QuantityError(f"the year {day.year} is out of range", f"{low} to {high}, for example {example}")
    return day
