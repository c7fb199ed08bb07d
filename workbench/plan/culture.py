"""Yeast through time: how old the lots are when each feeding starts, what grows, and how sure that is."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING, NamedTuple

from workbench.brewing import kinetics, spread, starter, timing, viability
from workbench.plan import lots, settle
from workbench.plan.readings import stamp
from workbench.plan.shares import ENDS

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime

    from workbench.brewing.spread import Deviates
    from workbench.brewing.starter import Fed, Feeding
    from workbench.brewing.viability import Stock
    from workbench.plan.made import Made
    from workbench.session.model import Session

__all__ = ["Course", "Outcomes", "before", "feedings_of", "outcomes", "run", "stock_at"]


class Course(NamedTuple):
    """The likely course: when each feeding starts and ends, and what it grows (shorter where it cannot be told)."""

    at: datetime | None  # when the lots go in
    planned_h: tuple[float | None, ...]
    starts: tuple[datetime | None, ...]
    ends: tuple[datetime | None, ...]
    fed: tuple[Fed, ...]
    feedings: tuple[Feeding, ...]


def feedings_of(session: Session, worts: list[Made]) -> tuple[Feeding, ...]:
    """The feedings whose wort is known, up to the first whose is not."""
    kind = settle.yeast_type(session)
    known: list[Feeding] = []
    for made in worts:
        if made.extract_g is None or made.extract_g <= 0.0:
            break
        asked = made.asked
        rate = kinetics.rate_per_h(asked.temperature_c, kind)
        known.append(starter.Feeding(made.extract_g, asked.decant, asked.motion, rate, asked.hours))
    return tuple(known)


def stock_at(session: Session, at: datetime, z: Deviates = spread.LIKELY) -> Stock | None:
    """All known lots together at one hour; None where no lot has known cells."""
    stocks = [
        viability.alive(stored, max(0.0, lots.days_in_store(lot, at)), z)
        for lot in session.yeast
        if (stored := lots.stored(lot)) is not None
    ]
    return viability.together(stocks) if stocks else None


def run(session: Session, worts: list[Made]) -> Course:
    """The fixed point of start and age, then whole hours, then the lots aged once more to that start."""
    feedings = feedings_of(session, worts)
    pitch_at = session.batch.pitch_at
    planned_h = _planned_hours(session, worts, feedings)
    starts, ends = _times(session, worts, planned_h)
    at = starts[0] if starts and starts[0] is not None else pitch_at
    stock = stock_at(session, at) if at is not None else None
    fed = starter.feed_all(stock, feedings, planned_h) if stock is not None else []
    return Course(at, planned_h, starts, ends, tuple(fed), feedings)


def _planned_hours(session: Session, worts: list[Made], feedings: tuple[Feeding, ...]) -> tuple[float | None, ...]:
    """Hours each feeding is left: the brewer's as given, else what growth takes, rounded up."""
    given = tuple(made.asked.hours for made in worts)
    pitch_at = session.batch.pitch_at
    first = stamp(session, "yeast-in", 1)
    reference = first or pitch_at
    if reference is None or not worts or all(hours is not None for hours in given):
        return given

    def stock_of(lead_h: float) -> Stock | None:
        return stock_at(session, before(reference, lead_h) or reference)

    return timing.planned_hours(stock_of, feedings, given, _rests_h(session, worts), begun=first is not None)


def before(at: datetime | None, hours: float | None) -> datetime | None:
    """So many hours earlier; None where either is not known, or the calendar does not reach that far."""
    if at is None or hours is None:
        return None
    try:
        return at - timedelta(hours=hours)
    except OverflowError:
        return None


def _rests_h(session: Session, worts: list[Made]) -> float:
    """Cold rests between the first yeast-in and pitching."""
    decants = sum(made.asked.decant for made in worts[1:]) + (settle.pitch(session) == "decanted")
    return decants * settle.rest_h(session)


def _times(
    session: Session, worts: list[Made], planned_h: tuple[float | None, ...]
) -> tuple[tuple[datetime | None, ...], tuple[datetime | None, ...]]:
    """Starts and ends, reckoned back from pitching; a stamped start stands."""
    rest_h = settle.rest_h(session)
    starts: list[datetime | None] = []
    ends: list[datetime | None] = []
    end = session.batch.pitch_at
    if end is not None and settle.pitch(session) == "decanted":
        end = before(end, rest_h)
    for made, hours in zip(reversed(worts), reversed(planned_h), strict=True):
        start = before(end, hours)
        stamped = stamp(session, "yeast-in", made.asked.number)
        if stamped is not None:
            start = stamped
        starts.insert(0, start)
        ends.insert(0, end)
        end = before(start, rest_h) if made.asked.decant else start
    return tuple(starts), tuple(ends)


class Outcomes(NamedTuple):
    """The 512 draws, column by column: lots, all on hand, after each feeding. Empty where nothing is known."""

    lots_b: tuple[list[float], ...]
    viability: tuple[list[float], ...]
    hand_b: list[float]
    out_b: tuple[list[float], ...]
    ends: Outcomes | None = None  # the same where one input at a time is at an end of its range, as in `shares.ENDS`

    @property
    def swung(self) -> Outcomes:
        """The columns at those ends; empty ones where they were not worked out."""
        return self.ends or Outcomes((), (), [], ())


def outcomes(session: Session, course: Course) -> Outcomes:
    """Every draw of the uncertain inputs through lots and feedings, with the likely plan's times held."""
    drawn, ends = (_through(session, course, draws) for draws in (spread.draws(), ENDS))
    return drawn._replace(ends=ends)


def _through(session: Session, course: Course, draws: Sequence[Deviates]) -> Outcomes:
    known = [(i, stored) for i, lot in enumerate(session.yeast) if (stored := lots.stored(lot)) is not None]
    if course.at is None or not known:
        return Outcomes((), (), [], ())
    ages = [max(0.0, lots.days_in_store(session.yeast[i], course.at)) for i, _ in known]
    run_hours = [fed.run_hours for fed in course.fed if fed.out_b is not None and fed.run_hours is not None]
    lots_b: tuple[list[float], ...] = tuple([] for _ in known)
    shares: tuple[list[float], ...] = tuple([] for _ in known)
    hand_b: list[float] = []
    out_b: tuple[list[float], ...] = tuple([] for _ in run_hours)
    for z in draws:
        stocks = [viability.alive(lot, days, z) for (_, lot), days in zip(known, ages, strict=True)]
        for stock, cells, share in zip(stocks, lots_b, shares, strict=True):
            cells.append(stock.live_b)
            share.append(stock.viability)
        stock = viability.together(stocks)
        hand_b.append(stock.live_b)
        for column, out in zip(out_b, starter.cells_out(stock, course.feedings, run_hours, z), strict=True):
            column.append(out)
    return Outcomes(lots_b, shares, hand_b, out_b)
