"""What has happened, as the plan takes it from the session's stamps: what is begun, chilled, pitched stays so."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.plan.readings import stamp

if TYPE_CHECKING:
    from datetime import datetime

    from workbench.session.model import Session

__all__ = ["anything", "begun", "chilled", "last_begun", "next_to_begin", "pitch_at", "pitched"]


def anything(session: Session, step: int) -> bool:
    """Whether anything at all is stamped or measured of feeding `step`."""
    stamped = any(event.step == step for event in session.event)
    return stamped or any(reading.step == step for reading in session.reading)


def begun(session: Session, step: int) -> datetime | None:
    """When the yeast of feeding `step` (from 1) went in, if it has."""
    return stamp(session, "yeast-in", step)


def last_begun(session: Session) -> int:
    """The number of the last feeding that has begun: its yeast is in, or it stands cold already; 0 for none."""
    feedings = range(len(session.step), 0, -1)
    return next((step for step in feedings if begun(session, step) or chilled(session, step)), 0)


def next_to_begin(session: Session) -> int | None:
    """The number of the first feeding behind all that have begun; None where there is none."""
    last = last_begun(session)
    return last + 1 if last < len(session.step) else None


def chilled(session: Session, step: int) -> datetime | None:
    """Since when feeding `step` stands cold; None where it does not, or was taken out again."""
    on, off, start = (stamp(session, what, step) for what in ("chill-on", "chill-off", "yeast-in"))
    if on is None or (off is not None and off >= on) or (start is not None and on < start):
        return None
    return on


def pitched(session: Session) -> datetime | None:
    """When the yeast went into the beer, if it has: stamped for no step, or for the last."""
    stamps = [stamp(session, "pitched", step) for step in {0, len(session.step)}]
    return max((at for at in stamps if at is not None), default=None)


def pitch_at(session: Session) -> datetime | None:
    """When the yeast went into the beer, or else is to go."""
    return pitched(session) or session.batch.pitch_at
