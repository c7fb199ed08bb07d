"""Yeast through time: how old the lots are when each feeding starts, what grows, and how sure that is."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from workbench.brewing import drawn, kinetics, spread, starter, timing, viability
from workbench.plan import happened, lots, settle, timeline
from workbench.plan.shares import ENDS
from workbench.plan.timeline import before, rests_h
from workbench.units.when import local

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime, tzinfo

    from workbench.brewing.drawn import Stocks
    from workbench.brewing.spread import Deviates
    from workbench.brewing.starter import Fed, Feeding
    from workbench.brewing.viability import Lot, Stock
    from workbench.plan.made import Made
    from workbench.plan.settle import Asked
    from workbench.plan.timeline import Span
    from workbench.session.model import Session

__all__ = ["Course", "Outcomes", "at_pitching", "before", "drawn_at", "feedings_of", "outcomes", "run", "stock_at"]


class Course(NamedTuple):
    """The likely course: when each feeding starts and ends, and what it grows (shorter where it cannot be told)."""

    at: datetime | None  # when the lots go in
    wanted_h: tuple[float | None, ...]  # hours that growth, or the brewer, wants each feeding left
    spans: tuple[Span, ...]
    fed: tuple[Fed, ...]
    feedings: tuple[Feeding, ...]

    @property
    def planned_h(self) -> tuple[float | None, ...]:
        """Hours that each feeding grows: as wanted, but for one that began too late for that."""
        return tuple(span.hours for span in self.spans)

    @property
    def starts(self) -> tuple[datetime | None, ...]:
        """When the yeast of each feeding goes in."""
        return tuple(span.start for span in self.spans)

    @property
    def ends(self) -> tuple[datetime | None, ...]:
        """When each feeding is chilled, fed on or pitched."""
        return tuple(span.end for span in self.spans)

    @property
    def cold_days(self) -> float:
        """So long the last feeding stands cold before it is pitched, beyond a rest."""
        return self.spans[-1].cold_h / 24.0 if self.spans else 0.0


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
    stocks = [viability.alive(stored, days, z) for stored, days in _aged(session, at)]
    return viability.together(stocks) if stocks else None


def drawn_at(session: Session, at: datetime) -> Stocks:
    """All known lots, at least one, together at one hour, in every draw."""
    return drawn.together([drawn.alive(stored, days) for stored, days in _aged(session, at)])


def _aged(session: Session, at: datetime) -> list[tuple[Lot, float]]:
    """Each known lot, with its days in store at one hour."""
    return [
        (stored, max(0.0, lots.days_in_store(lot, at)))
        for lot in session.yeast
        if (stored := lots.stored(lot)) is not None
    ]


def at_pitching(session: Session) -> Stock | None:
    """All known lots together at the hour of pitching; None where that, or no lot, is known."""
    pitch_at = happened.pitch_at(session)
    return stock_at(session, pitch_at) if pitch_at is not None else None


def run(session: Session, worts: list[Made], tz: tzinfo | None = None) -> Course:
    """The fixed point of start and age, then whole hours, then the lots aged once more to that start.

    Times are told in the zone `tz`.
    """
    asked = [made.asked for made in worts]
    feedings = feedings_of(session, worts)
    wanted_h = _wanted_hours(session, asked, feedings)
    spans = timeline.spans(session, asked, wanted_h)
    if happened.last_begun(session):
        wanted_h, spans = _with_what_happened(session, asked, feedings, wanted_h)
    feedings = _chilled(feedings, spans)
    at, fed = _grown(session, feedings, spans)
    told = tuple(s._replace(start=s.start and local(s.start, tz), end=s.end and local(s.end, tz)) for s in spans)
    return Course(at and local(at, tz), wanted_h, told, tuple(fed), feedings)


def _grown(
    session: Session, feedings: tuple[Feeding, ...], spans: tuple[Span, ...]
) -> tuple[datetime | None, list[Fed]]:
    """When the lots go in, and what then grows."""
    at = spans[0].start if spans and spans[0].start is not None else happened.pitch_at(session)
    stock = stock_at(session, at) if at is not None else None
    return at, starter.feed_all(stock, feedings, [span.hours for span in spans]) if stock is not None else []


def _chilled(feedings: tuple[Feeding, ...], spans: tuple[Span, ...]) -> tuple[Feeding, ...]:
    """The feedings, each with the days that the culture stood cold before it."""
    waits = (0.0, *(span.cold_h / 24.0 for span in spans))
    return tuple(feeding._replace(cold_days=days) for feeding, days in zip(feedings, waits, strict=False))


def _wanted_hours(session: Session, asked: list[Asked], feedings: tuple[Feeding, ...]) -> tuple[float | None, ...]:
    """Hours each feeding is to be left: the brewer's as given, else what growth takes, rounded up."""
    given = tuple(feeding.hours for feeding in asked)
    first = happened.begun(session, 1)
    reference = first or happened.pitch_at(session)
    if reference is None or not asked or all(hours is not None for hours in given):
        return given

    def stock_of(lead_h: float) -> Stock | None:
        return stock_at(session, before(reference, lead_h) or reference)

    return timing.planned_hours(stock_of, feedings, given, rests_h(session, asked), begun=first is not None)


def _with_what_happened(
    session: Session, asked: list[Asked], feedings: tuple[Feeding, ...], wanted_h: tuple[float | None, ...]
) -> tuple[tuple[float | None, ...], tuple[Span, ...]]:
    """Hours and spans where what is begun or chilled leaves a feeding other cells than planned.

    Fewer cells take longer to grow, which starts the next feeding sooner and may leave this one fewer still: hours
    only ever rise, whole hour by whole hour, so it settles.
    """
    while True:
        spans = timeline.spans(session, asked, wanted_h)
        _, fed = _grown(session, _chilled(feedings, spans), spans)
        free_h = [done.free_hours for done in fed] + [None] * (len(asked) - len(fed))
        longer_h = tuple(
            _longer(feeding.hours, old, new) for feeding, old, new in zip(asked, wanted_h, free_h, strict=True)
        )
        if longer_h == wanted_h:
            return wanted_h, spans
        wanted_h = longer_h


def _longer(given_h: float | None, old_h: float | None, new_h: float | None) -> float | None:
    if given_h is not None or new_h is None:
        return old_h
    whole_h = timing.whole_hours(new_h)
    return whole_h if old_h is None else max(old_h, whole_h)


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
    aged = _aged(session, course.at) if course.at is not None else []
    if not aged:
        return Outcomes((), (), [], ())
    run_hours = [fed.run_hours for fed in course.fed if fed.out_b is not None and fed.run_hours is not None]
    each = [drawn.alive(stored, days) for stored, days in aged]
    stocks = drawn.together(each)
    return Outcomes(
        lots_b=tuple(lot.live_b for lot in each),
        viability=tuple(lot.viability for lot in each),
        hand_b=stocks.live_b,
        out_b=tuple(drawn.cells_out(stocks, course.feedings, run_hours)),
        ends=_at_ends(aged, course.feedings, run_hours),
    )


def _at_ends(aged: list[tuple[Lot, float]], feedings: Sequence[Feeding], run_hours: list[float]) -> Outcomes:
    """The same with one input at a time at an end of its range."""
    each = [[viability.alive(stored, days, z) for stored, days in aged] for z in ENDS]
    stocks = [viability.together(stocks) for stocks in each]
    by_end = [starter.cells_out(stock, feedings, run_hours, z) for stock, z in zip(stocks, ENDS, strict=True)]
    by_lot = list(zip(*each, strict=True))
    return Outcomes(
        lots_b=tuple([stock.live_b for stock in lot] for lot in by_lot),
        viability=tuple([stock.viability for stock in lot] for lot in by_lot),
        hand_b=[stock.live_b for stock in stocks],
        out_b=tuple(map(list, zip(*by_end, strict=True))),
    )
