"""Where a default comes from that depends on other values: in words, with the numbers in it.

`settle` has the values themselves; what the format sets to one constant is told by `given`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.brewing.growth import CELLS_LEFT_BY_DECANT
from workbench.plan import lots, settle, words
from workbench.plan.sources import (
    ASKED,
    GEOMETRY,
    PITCH_RATE,
    PITCH_RATE_DRY,
    RECKONED,
    RECOMMENDED,
    TRADE,
    WORT_STRENGTH,
)

if TYPE_CHECKING:
    from collections.abc import Callable

    from workbench.plan.model import Source
    from workbench.session.model import Session

__all__ = ["DEFAULTS", "NOTES", "Default"]

Default = tuple[str, "Source"]


def _of_type(session: Session) -> str:
    return "a lager" if settle.yeast_type(session) == "lager" else "an ale"


def _pitch(session: Session, _: int) -> Default:
    return f"{settle.pitch(session)}, as usual for {_of_type(session)}", TRADE


def _pitch_rate(session: Session, _: int) -> Default:
    dry = settle.all_dry(session)
    kind = " and dry yeast" if dry else ""
    return f"{settle.pitch_rate(session):g} for {_of_type(session)}{kind}", PITCH_RATE_DRY if dry else PITCH_RATE


def _cells(session: Session, index: int) -> Default | None:
    """A pack has a usual count; of a jar nobody knows."""
    if session.yeast[index].kind != "pack":
        return None
    return f"{words.cells(lots.DEFAULT_PACK_B)} in a pack, 70 to 200 B are sold", TRADE


def _range_end(session: Session, index: int, end: int) -> Default:
    """One end of a lot's cells, by the usual factor."""
    lot, stored = session.yeast[index], lots.stored(session.yeast[index])
    if stored is None or not stored.cells_b.likely:
        return "it follows from the cells", RECOMMENDED
    found_b, likely_b = stored.cells_b[end], stored.cells_b.likely
    return f"{found_b / likely_b:.2f} × {words.cells(likely_b)} = {words.cells(found_b)}, as {lot.kind}", RECOMMENDED


def _liquid(session: Session, index: int) -> Default | None:
    """A kept lot may come without liquid; a slurry is nothing else."""
    return ("no liquid comes along", RECOMMENDED) if session.yeast[index].kind == "kept" else None


def _limit(session: Session, limit_l: float, doing: str) -> Default:
    with_or_without = "with" if settle.foam_control(session) else "without"
    size_l = session.flask.size_l
    share = f"{100 * limit_l / size_l:.0f} % of {words.litres(size_l)}"
    return f"{share} while {doing}, {with_or_without} foam control = {words.litres(limit_l)}", TRADE


def _measure(session: Session, _: int) -> Default:
    return f"that of a typical flask of {words.litres(session.flask.size_l)}", GEOMETRY


def _gravity(session: Session, _: int) -> Default:
    return f"SG {words.gravity(session.wort.gravity_w)}", WORT_STRENGTH


def _rest(session: Session, _: int) -> Default:
    return f"{settle.rest_h(session):g} h for {_of_type(session)}", TRADE


def _left_after_decant(session: Session, _: int) -> Default:
    left_l = settle.left_after_decant_l(session) / session.flask.flasks
    size = words.litres(session.flask.size_l)
    return f"the larger of 100 mL and 5 % of {size} = {words.millilitres(1000 * left_l)}", RECOMMENDED


def _drops(session: Session, _: int) -> Default:
    return f"by the rule, {session.foam.drops_per_gallon:g} per US gallon", TRADE


def _hours(_session: Session, _: int) -> Default:
    return "as long as 95 % of the growth takes, rounded up to whole hours", RECKONED


def _boil_off(session: Session, index: int) -> Default:
    """The habit of the vessel, which belongs to its own boil time."""
    asked = settle.asked(session, index)
    key = "boil_off" if asked.boil_in == "flask" else "boil_off_pot"
    source = ASKED if session.is_given(f"wort.{key}") else RECOMMENDED
    minutes = asked.boil_time_s / 60
    return f"by {key} of [wort], {words.millilitres(asked.boil_off_ml)} in {minutes:g} min", source


def _boil_in(session: Session, index: int) -> Default:
    where = settle.asked(session, index).boil_in
    if index == 0 or session.flask.flasks > 1:
        return f"the {where}, by [wort]", ASKED if session.is_given("wort.boil_in") else TRADE
    return "a pot, for the flask holds yeast by then", TRADE


def _pouring_off(session: Session) -> str:
    """What a decant asks for and costs."""
    left_ml = 1000 * settle.left_after_decant_l(session)
    lost = 100 * (1.0 - CELLS_LEFT_BY_DECANT)
    return (
        f"Pouring off wants {settle.rest_h(session):g} h of cold rest before, takes {lost:.0f} % of the cells along "
        f"and leaves {words.millilitres(left_ml)}"
    )


DEFAULTS: dict[str, Callable[[Session, int], Default | None]] = {
    "batch.pitch": _pitch,
    "beer.pitch_rate": _pitch_rate,
    "yeast.cells": _cells,
    "yeast.cells_low": lambda session, index: _range_end(session, index, 0),
    "yeast.cells_high": lambda session, index: _range_end(session, index, 2),
    "yeast.volume": _liquid,
    "flask.fill_limit": lambda session, _: _limit(session, settle.fill_limit_l(session), "growing"),
    "flask.boil_limit": lambda session, _: _limit(session, settle.boil_limit_l(session), "boiling"),
    **dict.fromkeys(("flask.glass", "flask.base", "flask.height", "flask.neck", "flask.wall", "flask.brim"), _measure),
    "wort.gravity": _gravity,
    "wort.rest": _rest,
    "wort.left_after_decant": _left_after_decant,
    "foam.drops": _drops,
    "step.hours": _hours,
    "reading.temperature": lambda _session, _: ("that of the scale, so that nothing is put right", RECOMMENDED),
    "step.boil_off": _boil_off,
    "step.boil_in": _boil_in,
    **dict.fromkeys(("keep.cells", "keep.volume"), lambda _session, _: ("0 B: nothing is kept", RECOMMENDED)),
}
"""By table and key: what stands in for a value that is left out, and whose word that is; None: nothing does."""

NOTES: dict[str, Callable[[Session], str]] = {"batch.pitch": _pouring_off, "step.decant": _pouring_off}
"""By table and key: what a brewer should know of the choice, typed or not."""
