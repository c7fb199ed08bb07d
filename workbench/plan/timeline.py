"""When each feeding starts and ends, reckoned back from pitching; what has happened stands.

All hours are hours that pass, whatever the clocks of a zone do in spring and autumn.
"""

from __future__ import annotations

from datetime import UTC, timedelta
from typing import TYPE_CHECKING, NamedTuple

from workbench.plan import happened, settle
from workbench.units.when import hours_between

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime

    from workbench.plan.settle import Asked
    from workbench.session.model import Session

__all__ = ["Span", "before", "rests_h", "spans"]


class Span(NamedTuple):
    """One feeding in time: yeast in at `start`, `hours` of growth, chilled or fed on or pitched from `end`.

    It may wait, warm, between the end of the growth and `end`; `cold_h` are the hours that it then stands cold beyond
    the rest that was planned. None where it cannot be told.
    """

    start: datetime | None
    end: datetime | None
    hours: float | None
    cold_h: float = 0.0


def before(at: datetime | None, hours: float | None) -> datetime | None:
    """So many hours earlier; None where either is not known, or the calendar does not reach that far."""
    if at is None or hours is None:
        return None
    try:
        return at.astimezone(UTC) - timedelta(hours=hours)
    except OverflowError:
        return None


def rests_h(session: Session, asked: Sequence[Asked]) -> float:
    """Hours of cold rest between the first yeast-in and pitching."""
    decants = sum(feeding.decant for feeding in asked[1:]) + (settle.pitch(session) == "decanted")
    return decants * settle.rest_h(session)


def spans(session: Session, asked: Sequence[Asked], wanted_h: Sequence[float | None]) -> tuple[Span, ...]:
    """All feedings. `wanted_h`: hours each is to be left, which one that began late may not get."""
    rest_h = settle.rest_h(session)
    found: list[Span] = []
    due = happened.pitch_at(session)
    pause_h = rest_h if settle.pitch(session) == "decanted" else 0.0
    for feeding, hours in zip(reversed(asked), reversed(wanted_h), strict=True):
        span = _span(session, feeding, hours, due, pause_h)
        found.insert(0, span)
        due, pause_h = span.start, rest_h if feeding.decant else 0.0
    return tuple(found)


def _span(session: Session, asked: Asked, wanted_h: float | None, due: datetime | None, pause_h: float) -> Span:
    """One feeding; at `due`, after a cold pause, the next is fed or the beer pitched."""
    end, cold_h = before(due, pause_h), 0.0
    chilled = happened.chilled(session, asked.number)
    if chilled is not None and due is not None and chilled < due:
        end, cold_h = chilled, max(0.0, hours_between(chilled, due) - pause_h)
    begun = happened.begun(session, asked.number)
    if begun is None:
        return Span(before(end, wanted_h), end, wanted_h, cold_h)
    if end is None:
        return Span(begun, None, wanted_h, cold_h)
    end = max(begun, end)
    if asked.hours is not None:
        return Span(begun, end, asked.hours, cold_h)
    room_h = hours_between(begun, end)
    return Span(begun, end, room_h if wanted_h is None else min(wanted_h, room_h), cold_h)
