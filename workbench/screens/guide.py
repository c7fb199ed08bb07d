"""From an empty batch to a plan: the first thing that is missing, and after each one typed the next."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.plan import lots
from workbench.screens.changes import change
from workbench.screens.desk import STEPS
from workbench.session.edits import AddTable

if TYPE_CHECKING:
    from collections.abc import Callable, Collection

    from workbench.screens.desk import Desk
    from workbench.session.edits import Edit
    from workbench.session.model import Lot

__all__ = ["NO_LOT", "add_lot", "last", "lead", "missing", "next_of_lot", "stand"]

NO_LOT = "yeast"
"""What stands for yeast where there is no lot yet: the id of the row that Enter adds one on."""
_SIZES = {"dry": "mass", "slurry": "volume", "counted": "squares"}  # what tells how many cells; others: the cells


def missing(desk: Desk) -> str:
    """The key of the first thing without which there is no plan; "" where nothing is missing."""
    return next(iter(_all_missing(desk)), "")


def last(desk: Desk) -> bool:
    """Whether no more than one thing is missing."""
    return len(_all_missing(desk)) < 2


def _all_missing(desk: Desk) -> list[str]:
    keys = [warning.key for warning in desk.plan.warnings if warning.code.startswith("needs-")]
    return [_of_lots(desk) if key == NO_LOT else key for key in keys]


def _of_lots(desk: Desk) -> str:
    """What the first lot that cannot be counted on is missing."""
    for index, lot in enumerate(desk.plan.session.yeast):
        if key := _of_lot(lot):
            return f"yeast.{index}.{key}"
    return NO_LOT


def next_of_lot(desk: Desk, key: str) -> str:
    """What else the lot of a key needs before it counts, as a key; "" where nothing is missing, or it is of no lot."""
    table, index, *_ = *key.split("."), "", ""
    missing = _of_lot(desk.plan.session.yeast[int(index)]) if table == "yeast" and index.isdecimal() else ""
    return missing and f"yeast.{index}.{missing}"


def _of_lot(lot: Lot) -> str:
    if lot.kind is None:
        return "kind"
    if lot.made_on is None:
        return "made_on"
    if lots.cells_when_made(lot) is not None:
        return ""
    return "volume" if lot.squares else _SIZES.get(lot.kind, "cells")


def stand(desk: Desk, panes: Collection[int] = (0, STEPS)) -> None:
    """Put the cursor on the first thing that is missing, if anything is, and in one of these panes."""
    key = missing(desk)
    pane = STEPS if key.startswith(("step.", "keep.")) else 0
    if key and pane in panes:
        desk.pane = pane
        desk.put(key)


def lead(desk: Desk, edit: Callable[..., None]) -> None:
    """One thing has been typed: open the line of the next by `edit`, or say that a plan stands."""
    key = missing(desk)
    stand(desk)
    if key == NO_LOT:
        add_lot(desk, edit)
    elif key:
        edit(desk)
    else:
        desk.said = _stands(desk)


def add_lot(desk: Desk, edit: Callable[..., None]) -> None:
    """A pack, the day it was made asked for at once; leaving the line takes it out again."""
    index = len(desk.plan.session.yeast)
    fresh: Edit = AddTable("yeast", index, {"kind": "pack"})
    if change(desk, fresh):
        desk.put(f"yeast.{index}.made_on")
        edit(desk, fresh=fresh)


def _stands(desk: Desk) -> str:
    plan = desk.plan
    if plan.steps:
        return f"a plan stands: 3 Steps has its feedings, 6 Day its hours; {desk.key('why')} says why on any row"
    if plan.starter_needed is False:
        return "no starter is needed: the yeast on hand is enough"
    return f"no feedings meet the need as it is: {desk.key('plan')} in 3 Steps shows what can be done"
