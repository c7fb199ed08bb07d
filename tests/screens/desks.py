"""A desk on a file, at a fixed hour, and keys pressed on it without a terminal."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tests.panes.scenes import CET, NOW, text_of
from workbench.panes.glyphs import FULL
from workbench.screens import actions, typed
from workbench.screens.desk import Desk
from workbench.session.store import Store
from workbench.units.mark import Mark

if TYPE_CHECKING:
    from pathlib import Path


def desk_on(path: Path, text: str) -> Desk:
    path.write_text(text, "utf-8")
    return Desk(Store.open(path), lambda: Mark(NOW), FULL, tz=CET)


def do(desk: Desk, *ids: str) -> Desk:
    for action_id in ids:
        actions.run(desk, action_id)
    return desk


def write(desk: Desk, text: str, *, clear: bool = True) -> None:
    """Type into the open line and keep it."""
    assert desk.entry is not None
    if clear:
        typed.press(desk, desk.entry, "ctrl+u", None)
    for sign in text:
        typed.press(desk, desk.entry, sign, sign)
    typed.press(desk, desk.entry, "enter", "\r")


def pane_text(desk: Desk, pane: int | None = None, cells: int = 60) -> str:
    index = desk.pane if pane is None else pane
    desk.widths[index] = cells
    desk.redraw()
    return text_of(desk.rows(index), cells)
