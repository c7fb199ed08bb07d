"""From an empty batch to a plan: the first thing that is missing, and after each one typed the next."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from workbench.plan import lots
from workbench.screens.changes import change
from workbench.screens.desk import STEPS
from workbench.session.edits import AddTable

if TYPE_CHECKING:
    from collections.abc import Callable, Collection

    from workbench.screens.desk import Desk, Entry
    from workbench.session.edits import Edit
    from workbench.session.model import Lot, LotKind

__all__ = ["NO_LOT", "add_lot", "goes_on", "lead", "missing", "next_of_lot", "stand"]

NO_LOT = "yeast"
"""What stands for yeast where there is no lot yet: the id of the row that Enter adds one on."""
_SIZES = {"dry": "mass", "slurry": "volume"}  # what tells how many cells; others: the cells


def missing(desk: Desk) -> str:
    """The key of the first thing without which there is no plan; "" where nothing is missing."""
    return next(iter(_all_missing(desk)), "")


def _all_missing(desk: Desk, text: str = "") -> list[str]:
    keys = [warning.key for warning in desk.plan.warnings if warning.code.startswith("needs-")]
    return [part for key in keys for part in (_of_lots(desk, text) if key == NO_LOT else [key])]


def _of_lots(desk: Desk, text: str) -> list[str]:
    """What the first lot that cannot be counted on is missing."""
    for index, lot in enumerate(desk.plan.session.yeast):
        if keys := _of_lot(lot, text):
            return [f"yeast.{index}.{key}" for key in keys]
    return [NO_LOT]


def goes_on(desk: Desk, entry: Entry) -> bool:
    """Whether Enter, the line being right, opens the line of what is missing next: for a plan, or for that lot."""
    if entry.key == missing(desk) != "":
        return len(_all_missing(desk, entry.line.text)) > 1
    left = _left_of_lot(desk, entry.key, entry.line.text)
    return left != [entry.key] and (left[:1] == [entry.key] or (entry.fresh is not None and left != []))


def next_of_lot(desk: Desk, key: str) -> str:
    """What else the lot of a key needs before it counts, as a key; "" where nothing is missing, or it is of no lot."""
    return next(iter(_left_of_lot(desk, key)), "")


def _left_of_lot(desk: Desk, key: str, text: str = "") -> list[str]:
    for index, lot in enumerate(desk.plan.session.yeast):
        if key.startswith(f"yeast.{index}."):
            return [f"yeast.{index}.{missing}" for missing in _of_lot(lot, text)]
    return []  # of no lot, or of one taken out again


def _of_lot(lot: Lot, text: str) -> list[str]:
    """In the order in which it is asked for; `text` is the kind, where that is asked for first."""
    keys = [key for key in ("kind", "made_on") if getattr(lot, key) is None]
    lot = lot if lot.kind else lot._replace(kind=cast("LotKind", text))
    if lots.cells_when_made(lot) is not None or not lot.kind:
        return keys
    if lot.kind == "counted":
        return [*keys, *(["squares"] * (not lot.squares)), *(["volume"] * (lot.volume_l is None))]
    return [*keys, _SIZES.get(lot.kind, "cells")]


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
    danger = next((warning.text for warning in plan.warnings if warning.level == "danger"), "")
    if plan.steps and danger:
        return f"the feedings stand in 3 Steps, but: {danger}"
    if plan.steps:
        return f"a plan stands: 3 Steps has its feedings, 6 Day its hours; {desk.key('why')} says why on any row"
    if plan.wants_more_yeast:
        return "no starter: more yeast meets the need"
    if plan.starter_needed is False:
        return "no starter is needed: the yeast on hand is enough"
    return f"no feedings meet the need as it is: {desk.key('plan')} in 3 Steps shows what can be done"
