"""Faults that lie between two values, each of them right by itself."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterator

    from workbench.session.model import Session

__all__ = ["Clash", "clashes"]


class Clash(NamedTuple):
    """`key` is told as the fault's; `other` is the key that it clashes with."""

    key: str
    other: str
    what: str
    right: str


def clashes(session: Session) -> Iterator[Clash]:
    """All clashes of a session, also with values that are left out and have a default."""
    yield from _limits(session)
    yield from _made_too_late(session)
    yield from _cells(session)
    yield from _stained(session)
    if session.keep and session.keep.cells_b is not None and session.keep.volume_l is not None:
        yield Clash("keep.volume", "keep.cells", "keep.cells is given too", "keep one of the two")


def _limits(session: Session) -> Iterator[Clash]:
    flask = session.flask
    size = f"{flask.size_l:g} L" + ("" if session.is_given("flask.size") else ", taken where no size is given")
    for key, limit in (("flask.fill_limit", flask.fill_limit_l), ("flask.boil_limit", flask.boil_limit_l)):
        if limit is not None and limit > flask.size_l * (1 + 1e-9):
            yield Clash(key, "flask.size", f"{limit:g} L is above the flask's size ({size})", "write at most the size")


def _made_too_late(session: Session) -> Iterator[Clash]:
    pitch_at = session.batch.pitch_at
    for i, lot in enumerate(session.yeast):
        if lot.made_on and pitch_at and lot.made_on > pitch_at.date():
            what = f"{lot.made_on} is after batch.pitch_at, {pitch_at.date()}"
            yield Clash(
                f"yeast.{i}.made_on", "batch.pitch_at", what, "write the day it was packed, harvested or counted"
            )


def _cells(session: Session) -> Iterator[Clash]:
    for i, lot in enumerate(session.yeast):
        at = f"yeast.{i}."
        likely = [] if lot.cells_b is None else [("cells", lot.cells_b)]
        low = [] if lot.cells_low_b is None else [("cells_low", lot.cells_low_b)]
        high = [] if lot.cells_high_b is None else [("cells_high", lot.cells_high_b)]
        rising = [*low, *likely, *high]
        for (smaller, least), (larger, most) in pairwise(rising):
            if least > most:
                key, other = (larger, smaller) if larger == "cells_high" else (smaller, larger)
                what = f"{smaller} ({least:g} B) is above {larger} ({most:g} B)"
                yield Clash(at + key, at + other, what, "write cells_low, cells and cells_high in rising order")


def _stained(session: Session) -> Iterator[Clash]:
    for i, lot in enumerate(session.yeast):
        cells = sum(lot.squares)
        if lot.squares and lot.stained is not None and lot.stained > cells:
            what = f"{lot.stained} stained are more than the {cells} cells in all squares"
            right = "write how many of all these cells were stained"
            yield Clash(f"yeast.{i}.stained", f"yeast.{i}.squares", what, right)
