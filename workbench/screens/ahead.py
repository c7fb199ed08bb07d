"""Thinking ahead: while a value is typed the planner looks for its feedings, so that Enter finds them known."""

from __future__ import annotations

import asyncio
from typing import TYPE_CHECKING

from workbench.errors import EditRefused, QuantityError
from workbench.plan.unasked import pieces
from workbench.screens import typed
from workbench.screens.changes import adopted

if TYPE_CHECKING:
    from workbench.screens.desk import Desk
    from workbench.session.model import Session

__all__ = ["think"]

_PAUSE_S = 0.02  # the key is painted first
_TURN_S = 0.001  # a key that has come goes all its way first: it takes several turns of the loop


async def think(desk: Desk) -> None:
    """Work out the proposal that the open line leads to, a piece at a time, so that a key never waits for long."""
    await asyncio.sleep(_PAUSE_S)
    session = _meant(desk)
    for _ in () if session is None else pieces(session):
        await asyncio.sleep(_TURN_S)


def _meant(desk: Desk) -> Session | None:
    """What the file would say if the line were kept as it stands; None where that changes no proposal."""
    entry = desk.entry
    if entry is None or entry.ask is not None or desk.store.session.step:
        return None
    try:
        change = typed.change(desk, entry)
        return None if change is None else desk.store.would_be(adopted(desk, change))
    except (QuantityError, EditRefused):  # not yet, or it will be said with Enter
        return None
