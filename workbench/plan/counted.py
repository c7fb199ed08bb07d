"""A lot counted under the microscope: what its raw count comes to, with limits and reasons, and what is odd."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.brewing import counts
from workbench.plan import lots, words
from workbench.plan.model import CountPlan, Figure, Reason, Warning
from workbench.plan.sources import ASKED, GARWOOD, WILSON

if TYPE_CHECKING:
    from collections.abc import Iterator

    from workbench.session.model import Lot, Session

__all__ = ["FEW", "count_plan", "count_warnings", "formula", "is_used"]

FEW = 100  # cells in all; fewer leave more than ± 20 %

_VALID = "cells that lie apart; a bud counts once it is half its mother's size (common practice)"
_UNSURE = "dilution and volumes are taken as exact; fill and count the chamber twice, both should agree"
_STAIN_VALID = "read within 10 minutes, the stain itself kills (common practice)"
_STAIN_UNSURE = "some dead cells stay unstained, so it says too much (O'Connor-Cox et al. 1997, abstract)"


def is_used(lot: Lot) -> bool:
    """Whether the cells of a lot are those of its raw count: one in all typed outright stands instead."""
    return lot.kind == "counted" and bool(lot.squares) and lot.cells_b is None


def formula(lot: Lot) -> str:
    """How the cells of the jar follow from the raw count, with the numbers in it."""
    return f"{_per_ml(lot)} × {1000.0 * (lot.volume_l or 0.0):.4g} mL"


def _per_ml(lot: Lot) -> str:
    diluted = "" if lot.dilution == 1.0 else f" × {lot.dilution:g}"
    return f"{sum(lot.squares)}/{len(lot.squares)}/{lot.square_ul:g} µL{diluted}"


def count_plan(lot: Lot) -> CountPlan | None:
    """What the raw count of a counted lot comes to; None where there is none."""
    per_ml = lots.counted_per_ml(lot)
    if per_ml is None:
        return None
    why = Reason(f"{_per_ml(lot)} = {words.density(per_ml.likely)}; {_limits(lot)}", GARWOOD, _VALID, _UNSURE)
    density = Figure(per_ml.likely, "B/mL", why, per_ml.low, per_ml.high)
    return CountPlan(sum(lot.squares), density, _cells(lot), _viability(lot))


def _cells(lot: Lot) -> Figure:
    cells_b = lots.cells_when_made(lot) if is_used(lot) else None
    if cells_b is None:
        return Figure(None, "B", Reason("needs the volume of the jar that was sampled", ASKED))
    why = Reason(f"{formula(lot)} = {words.cells(cells_b.likely)}; {_limits(lot)}", GARWOOD, _VALID, _UNSURE)
    return Figure(cells_b.likely, "B", why, cells_b.low, cells_b.high)


def _limits(lot: Lot) -> str:
    """Garwood's limits of the count, and how far they were moved."""
    found, (low, high) = sum(lot.squares), counts.poisson_limits(sum(lot.squares))
    says = f"{found} cells found may stand for {low:.4g} to {high:.4g} (Garwood, 95 %)"
    spread = counts.dispersion(lot.squares)
    if spread is not None and spread.uneven:
        says += f", in proportion √{spread.ratio:.1f} times as far apart, as the squares differ (recommended)"
    if lot.cells_low_b or lot.cells_high_b:
        says += "; the limits typed stand instead"
    return says


def _viability(lot: Lot) -> Figure:
    live = lots.live_by_stain(lot)
    if live is None:
        return Figure(None, "1", Reason("needs the cells that were stained", ASKED))
    found = sum(lot.squares)
    low, high = counts.wilson(live, found)
    says = f"1 - {lot.stained}/{found} = {live / found:.3f}; {low:.3f} to {high:.3f} (Wilson, 95 %)"
    return Figure(live / found, "1", Reason(says, WILSON, _STAIN_VALID, _STAIN_UNSURE), low, high)


def count_warnings(session: Session) -> Iterator[Warning]:
    """What is odd about the raw counts, and what of them is not used."""
    for index, lot in enumerate(session.yeast):
        if lot.kind == "counted":
            key = f"yeast.{index}"
            if is_used(lot):
                yield from _uneven(lot, key)
                yield from _small(lot, key)
            yield from _doubtful(lot, key)
            yield from _unused(lot, key)


def _uneven(lot: Lot, key: str) -> Iterator[Warning]:
    spread = counts.dispersion(lot.squares)
    if spread is not None and spread.uneven:
        text = (
            f"uneven beyond chance, index {spread.ratio:.1f} over {spread.limit:.1f}:"
            " clumped or badly mixed; shake and count again"
        )
        yield Warning("count-uneven", "caution", text, f"{key}.squares")


def _small(lot: Lot, key: str) -> Iterator[Warning]:
    found = sum(lot.squares)
    low, high = counts.poisson_limits(found)
    if found == 0:
        text = f"no cell found, which up to {high:.0f} may be by chance: dilute less or count more squares"
        yield Warning("count-small", "note", text, f"{key}.squares")
    elif found < FEW:
        less, more = (100.0 * (limit / found - 1.0) for limit in (low, high))
        text = f"{found} cells found, {less:+.0f} to {more:+.0f} %: count {FEW} or more"
        yield Warning("count-small", "note", text, f"{key}.squares")


def _doubtful(lot: Lot, key: str) -> Iterator[Warning]:
    live = lots.live_by_stain(lot)
    if live is None or lot.viability is not None:
        return
    found = sum(lot.squares)
    if live / found < counts.STAIN_DOUBTFUL_BELOW:
        low, high = counts.wilson(live, found)
        text = f"{100 * live / found:.0f} % ({100 * low:.0f}–{100 * high:.0f}) alive by the stain: doubtful below 90 %"
        yield Warning("stain-doubtful", "note", text, f"{key}.viability")


def _unused(lot: Lot, key: str) -> Iterator[Warning]:
    if lot.squares and lot.cells_b is not None:
        yield Warning("count-unused", "note", "raw count not used: the cells in all are typed", f"{key}.squares")
    if lot.stained is None:
        return
    if lot.viability is not None:
        yield Warning("count-unused", "note", "stained cells not used: the viability is typed", f"{key}.stained")
    elif not any(lot.squares):
        yield Warning("count-unused", "note", "stained cells not used: of how many? set the squares", f"{key}.stained")
