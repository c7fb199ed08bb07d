"""Need and on hand: what the beer wants, and what the lots hold at the hour they go in."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from workbench.brewing import spread, viability
from workbench.plan import counted, culture, given, happened, lots, settle, words
from workbench.plan.model import Figure, Hand, LotPlan, Need, Reason
from workbench.plan.shares import ENDS, estimate
from workbench.plan.sources import (
    ASKED,
    BUBNIK,
    MISSING,
    PITCH_RATE,
    PITCH_RATE_DRY,
    STORAGE,
    STORAGE_COUNTED,
    TRADE,
)

if TYPE_CHECKING:
    from datetime import datetime

    from workbench.brewing.viability import Stock
    from workbench.plan.culture import Course, Outcomes
    from workbench.plan.model import Source
    from workbench.session.model import Lot, Session

__all__ = ["hand", "keep_cells_b", "need", "packs_instead", "starter", "starter_needed", "starter_wanted"]

_MOST_PACKS = 20  # more is no answer
_NO_BEER = Reason("needs the beer's volume and gravity", MISSING)
_UNKNOWN_LOT = Reason("needs the kind, the day it was made and the cells", MISSING)
_HOLDS = "some weeks at 1 to 25 °C; a lot under 1 % alive counts as none"


def keep_cells_b(session: Session) -> float:
    """Cells to hold back for another batch, where told as cells; 0 for a build for the shelf, whose need they are."""
    if session.keep is None or settle.is_shelf(session):
        return 0.0
    return session.keep.cells_b or 0.0


def need(session: Session) -> Need:
    """Viable cells wanted: rate × mL × °P, or what is to be kept."""
    if settle.is_shelf(session):
        cells_b = session.keep.cells_b if session.keep is not None else None
        kept = Figure(cells_b, "B", given.reason(session, "keep.cells"))
        nothing = Figure(None, "°P", Reason("no beer in the file", MISSING))
        return Need(kept, nothing, nothing, shelf=True)
    beer = session.beer
    rate = settle.pitch_rate(session)
    source = ASKED if session.is_given("beer.pitch_rate") else _rate_source(session)
    rate_figure = Figure(
        rate if beer is not None else None,
        "M/mL/°P",
        given.reason(session, "beer.pitch_rate")._replace(unsure="rules of thumb differ two-fold"),
    )
    if beer is None or beer.volume_l is None or beer.gravity_w is None:
        plato = Figure(None if beer is None or beer.gravity_w is None else 100.0 * beer.gravity_w, "°P", _NO_BEER)
        return Need(Figure(None, "B", _NO_BEER), plato, rate_figure, shelf=False)
    degrees = 100.0 * beer.gravity_w
    cells_b = rate * beer.volume_l * degrees  # million/mL/°P × mL × °P = 10⁶ × 10³ per litre = billions
    says = f"{rate:g} M/mL/°P × {1000 * beer.volume_l:.0f} mL × {degrees:.2f} °P = {words.cells(cells_b)}"
    return Need(
        Figure(cells_b, "B", Reason(says, source, "beers of 0 to 35 °P", "the rate")),
        Figure(degrees, "°P", Reason(_as_sucrose(beer.gravity_w), BUBNIK, "0 to 35 °P")),
        rate_figure,
        shelf=False,
    )


def _as_sucrose(w: float) -> str:
    return f"SG {words.gravity(w)} at 20/20 °C = {100.0 * w:.2f} °P, as a sucrose solution"


def _rate_source(session: Session) -> Source:
    return PITCH_RATE_DRY if settle.all_dry(session) else PITCH_RATE


def hand(session: Session, course: Course, drawn: Outcomes) -> Hand:
    """Each lot and all together, with their ranges over the draws."""
    plans: list[LotPlan] = []
    stocks: list[Stock] = []
    for lot in session.yeast:
        stored = lots.stored(lot)
        if stored is None or course.at is None:
            plans.append(_unknown(lot, course))
            continue
        days = max(0.0, lots.days_in_store(lot, course.at))
        stock = viability.alive(stored, days)
        column = len(stocks)
        stocks.append(stock)
        reason = _lot_reason(lot, stored, days, stock)
        plans.append(
            LotPlan(
                lot.kind,
                estimate(stock.live_b, "B", reason, drawn.lots_b[column], drawn.swung.lots_b[column]),
                estimate(
                    stock.viability,
                    "1",
                    _alive_reason(lot, stored.loss_per_day, days, stock.viability),
                    drawn.viability[column],
                    drawn.swung.viability[column],
                ),
                _age(lot, course.at, days),
                lots.viability(lot),
                counted.count_plan(lot),
            )
        )
    return Hand(_together(stocks, drawn), tuple(plans), course.at)


def _unknown(lot: Lot, course: Course) -> LotPlan:
    """A lot whose cells are not known; its viability may be all the same."""
    cells, viable, age = (Figure(None, unit, _UNKNOWN_LOT) for unit in ("B", "1", "d"))
    if lot.made_on is not None and course.at is not None:
        days = max(0.0, lots.days_in_store(lot, course.at))
        age = _age(lot, course.at, days)
        if lot.kind is not None:
            anyway = viability.Lot(
                spread.Range(1.0, 1.0, 1.0), lots.viability(lot), viability.LOSS_PER_DAY[lot.kind], lot.stored_at_c
            )
            share = viability.alive(anyway, days).viability
            drawn, ends = ([viability.alive(anyway, days, z).viability for z in zs] for zs in (spread.draws(), ENDS))
            viable = estimate(share, "1", _alive_reason(lot, anyway.loss_per_day, days, share), drawn, ends)
    return LotPlan(lot.kind, cells, viable, age, lots.viability(lot), counted.count_plan(lot))


def _age(lot: Lot, at: datetime, days: float) -> Figure:
    return Figure(days, "d", Reason(f"{lot.made_on} to {at:%Y-%m-%d %H:%M} = {days:.1f} d", ASKED, "from 0"))


def _alive_says(lot: Lot, loss_per_day: spread.Range, days: float) -> str:
    return (
        f"{lots.viability(lot):.4g} × exp(-{loss_per_day.likely:g} × 3^(({lot.stored_at_c:g} - 4)/10) × {days:.1f} d)"
    )


def _alive_reason(lot: Lot, loss_per_day: spread.Range, days: float, share: float) -> Reason:
    """Of the share that lives."""
    unsure = f"loss of {loss_per_day.low:g} to {loss_per_day.high:g} a day at 4 °C"
    return Reason(f"{_alive_says(lot, loss_per_day, days)} = {share:.2f}", STORAGE, _HOLDS, unsure)


def _lot_reason(lot: Lot, stored: viability.Lot, days: float, stock: Stock) -> Reason:
    """Of the cells that live."""
    share = _alive_reason(lot, stored.loss_per_day, days, stock.viability)
    says = f"{_when_made(lot)} × {_alive_says(lot, stored.loss_per_day, days)} = {words.cells(stock.live_b)}"
    made = words.spread(stored.cells_b.low, stored.cells_b.high)
    unsure, source = f"{share.unsure}; cells when made {made}", STORAGE
    if counted.is_used(lot):
        unsure, source = f"{unsure}, Garwood's limits of the count", STORAGE_COUNTED
    return share._replace(says=says, source=source, unsure=unsure)


def _when_made(lot: Lot) -> str:
    """The cells when made, as they come about."""
    if lot.kind == "dry":
        return f"{lot.packs} × {lot.mass_g:g} g × {viability.CELLS_PER_GRAM_DRY.likely:g} B/g"
    if lot.kind == "slurry":
        return f"{1000 * (lot.volume_l or 0.0):.0f} mL × {lot.density_b_per_ml:g} B/mL"
    if lot.kind == "pack":
        return f"{lot.packs} × {words.cells(lots.DEFAULT_PACK_B if lot.cells_b is None else lot.cells_b)}"
    return counted.formula(lot) if counted.is_used(lot) else words.cells(lot.cells_b or 0.0)


def _together(stocks: list[Stock], drawn: Outcomes) -> Figure:
    if not stocks:
        return Figure(None, "B", Reason("no lot with known cells at a known hour", MISSING))
    total_b = sum(stock.live_b for stock in stocks)
    says = " + ".join(words.cells(stock.live_b) for stock in stocks)
    says += f" = {words.cells(total_b)}" if len(stocks) > 1 else " in the one lot"
    return estimate(total_b, "B", Reason(says, STORAGE, _HOLDS), drawn.hand_b, drawn.swung.hand_b)


def starter_needed(session: Session, wanted: Need, at_pitching: Stock | None) -> bool | None:
    """Whether the lots, aged to pitching, fall short of need and keep; dry yeast alone is pitched as it is."""
    if settle.all_dry(session) and any(lots.stored(lot) is not None for lot in session.yeast):
        return False
    if at_pitching is None or wanted.cells_b.value is None:
        return None
    return at_pitching.live_b < wanted.cells_b.value + keep_cells_b(session)


def starter(session: Session, wanted: Need, at_pitching: Stock | None) -> Figure:
    """What lives at pitching if nothing is grown, and whether that is enough; the verdict is `starter_needed`."""
    need_b, as_it_is = wanted.cells_b.value, "dry yeast goes in as it is, without a starter"
    if at_pitching is None or need_b is None:
        if starter_needed(session, wanted, at_pitching) is False:
            return Figure(None, "B", Reason(as_it_is, TRADE))
        return Figure(None, "B", Reason("needs the pitching time, the need and a lot whose cells are known", MISSING))
    keep_b, live_b = keep_cells_b(session), at_pitching.live_b
    kept = f" and {words.cells(keep_b)} to keep" if keep_b else ""
    over_b = live_b - need_b - keep_b
    says = (
        f"{words.cells(live_b)} alive at pitching if nothing is grown, {words.cells(need_b)} needed{kept}: "
        f"{words.cells(abs(over_b))} {'short' if over_b < 0.0 else 'to spare'}"
    )
    if settle.all_dry(session):
        return Figure(live_b, "B", Reason(f"{says}; {as_it_is}", TRADE, _HOLDS))
    verdict = "a starter is wanted" if over_b < 0.0 else "no starter is needed"
    return Figure(live_b, "B", Reason(f"{says}, so {verdict}", STORAGE, _HOLDS))


def packs_instead(session: Session, need_b: float | None) -> tuple[int, int] | None:
    """The first lot of packs or sachets, and how many more of it meet need and keep without a starter.

    None where none are short, nothing of it would be alive, or it takes more than twenty.
    """
    pitch_at, stock = happened.pitch_at(session), culture.at_pitching(session)
    if stock is None or pitch_at is None or need_b is None:
        return None
    short_b = need_b + keep_cells_b(session) - stock.live_b
    for index, lot in enumerate(session.yeast):
        stored = lots.stored(lot._replace(packs=1)) if lot.kind in ("pack", "dry") else None
        days = max(0.0, lots.days_in_store(lot, pitch_at))
        each_b = viability.alive(stored, days).live_b if stored is not None else 0.0
        if short_b > 0.0 and each_b > 0.0 and short_b <= _MOST_PACKS * each_b:
            return index, math.ceil(short_b / each_b)
    return None


def starter_wanted(session: Session) -> bool:
    """Whether feedings are to be proposed: there are none, none is refused, nothing is pitched, the lots fall short."""
    if session.step or not session.batch.starter or not session.yeast or happened.pitched(session) is not None:
        return False
    return starter_needed(session, need(session), culture.at_pitching(session)) is True
