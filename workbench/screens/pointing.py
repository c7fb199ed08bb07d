"""Where a click goes: on a pane's name, a row, a key of the bottom line, or an entry of an open list."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from workbench.panes.rows import stops
from workbench.screens import bars, finder, home_drawing

if TYPE_CHECKING:
    from collections.abc import Sequence

    from workbench.screens.desk import Desk
    from workbench.screens.home_desk import HomeDesk
    from workbench.screens.layout import Box, Layout

__all__ = ["Click", "Place", "on_bench", "on_home"]


class Click(NamedTuple):
    """The action that a click does, and what that is told; with no id nothing but what the click has moved."""

    action: str = ""
    told: str = ""


class Place(NamedTuple):
    """Where a pane stands; `titled`: its name is in the first line."""

    pane: int
    box: Box
    titled: bool


def on_bench(desk: Desk, shown: Layout, places: Sequence[Place], x: int, y: int) -> Click:
    """A click on the screen of a batch. A row, or a list's entry, is done where the cursor was on it already."""
    if desk.entry is not None or not shown.fits:
        return Click()
    if y == shown.bottom.y:
        return Click(bars.action_at(desk, shown.bottom.width, x) if desk.finder is None else "")
    if shown.rail is not None and _inside(shown.rail, x, y):
        desk.finder = None
        return Click(bars.rail_at(desk, x, shown.rail.width, places[0].pane if shown.pair else None))
    for pane, box, titled in places:
        if _inside(box, x, y):
            return _on_pane(desk, pane, y - box.y - titled)
    return Click()


def _inside(box: Box, x: int, y: int) -> bool:
    return box.x <= x < box.x + box.width and box.y <= y < box.y + box.height


def _on_pane(desk: Desk, pane: int, line: int) -> Click:
    if pane != desk.pane or line < 0:
        desk.finder = desk.page = None
        same = False
    elif desk.finder is not None:
        return _on_list(desk, line)
    elif desk.page is not None:
        return Click()
    else:
        same = True
    where = [index for index in stops(desk.rows(pane)) if index <= desk.spots[pane].first + line]
    if line < 0 or not where:
        return Click(f"pane-{pane + 1}")
    row = desk.rows(pane)[where[-1]]
    if same and where[-1] == desk.cursor(pane):
        return Click("edit")
    desk.pane, desk.said = pane, ""
    desk.put(row.id)
    desk.spots[pane].index = where[-1]
    return Click()


def on_home(desk: HomeDesk, cells: int, height: int, x: int, y: int) -> Click:
    """A click on the home screen, likewise."""
    if desk.question is not None:
        return Click()
    if y == height - 1:
        return Click(home_drawing.action_at(desk, cells, x) if desk.finder is None else "")
    if desk.finder is not None:
        return _on_list(desk, y - home_drawing.LIST)
    place = y - home_drawing.ROWS + desk.first
    if y < home_drawing.ROWS or place >= min(len(desk.rows), desk.first + desk.height):
        return Click()
    if place == desk.place:
        return Click("open")
    desk.held, desk.said = True, ""
    desk.step_to(place)
    return Click()


def _on_list(desk: Desk | HomeDesk, line: int) -> Click:
    if desk.finder is None or (place := finder.choice_at(desk.finder, line)) is None:
        return Click()
    chosen = desk.finder.chosen
    if place != desk.finder.place or chosen is None:
        desk.finder.place = place
        return Click()
    desk.finder = None
    return Click(chosen.action, chosen.told)
