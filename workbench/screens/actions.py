"""What the keys do: one function an action, under the action's name in the table of `keys`."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.panes.large_flask import large_flask
from workbench.panes.linear import linear
from workbench.panes.rows import stops
from workbench.screens import (
    asking,
    belated,
    choices,
    exporting,
    following,
    guide,
    making,
    pages,
    planning,
    stamping,
    typed,
)
from workbench.screens.changes import adopted, change, told
from workbench.screens.desk import DAY, STEPS, Page
from workbench.screens.finder import Finder
from workbench.screens.keys import PANES, by_id
from workbench.session.edits import AddTable, MoveTable, RemoveTable
from workbench.session.locate import written

if TYPE_CHECKING:
    from collections.abc import Callable

    from workbench.panes.rows import Row
    from workbench.screens.desk import Desk
    from workbench.session.edits import Edit

__all__ = ["run"]

_NAMES = {"yeast": "lot", "step": "feeding", "reading": "reading"}


def run(desk: Desk, action_id: str, told: str = "") -> None:
    """Do what an action of the table says; on a page the arrows scroll it and any other key closes it first.

    One that other panes have is done in the first of those. `told` is the form of an export.
    """
    desk.said = desk.alarm = ""
    desk.armed = desk.armed if desk.armed == action_id else ""
    if desk.page is not None and _on_page(desk, desk.page, action_id):
        return
    if action_id.startswith("pane-"):
        choose_pane(desk, int(action_id.removeprefix("pane-")) - 1)
        guide.stand(desk, (desk.pane,))
        return
    panes = by_id(desk.actions, action_id).panes
    if desk.pane not in panes:
        choose_pane(desk, min(panes))
    if told:
        exporting.export(desk, told)
    else:
        _ACTIONS[action_id](desk)


def _on_page(desk: Desk, page: Page, action_id: str) -> bool:
    """Whether the page took the key."""
    if action_id in _SCROLLS:
        page.first = max(0, page.first + _SCROLLS[action_id])
        return True
    desk.page = None
    return action_id in {"back", "why", "edit", "picture", "plain", "tour"}


_SCROLLS = {"up": -1, "down": 1, "page-up": -10, "page-down": 10, "first": -10_000, "last": 10_000}


def enter(desk: Desk) -> None:
    """Take the way under the cursor, or edit the value there."""
    row = desk.row()
    if row is not None and row.way is not None:
        planning.take(desk, row.way)
    elif row is not None and row.id == guide.NO_LOT:
        guide.add_lot(desk, typed.edit)
    elif row is not None and row.does:
        if not following.take(desk, row.does):
            stamping.answer(desk, row.does)
    elif not belated.ask_hour(desk):
        typed.edit(desk)


def choose_pane(desk: Desk, pane: int) -> None:
    """Go to a pane; its cursor is where it was."""
    desk.pane = pane


def next_pane(desk: Desk) -> None:
    """The pane after this one, the first after the last."""
    choose_pane(desk, (desk.pane + 1) % len(PANES))


def last_pane(desk: Desk) -> None:
    """The pane before this one."""
    choose_pane(desk, (desk.pane - 1) % len(PANES))


def move(desk: Desk, by: int) -> None:
    """The cursor `by` stops down, held at the ends."""
    rows = desk.rows(desk.pane)
    where, at = stops(rows), desk.cursor(desk.pane)
    if where:
        to = where[max(0, min(where.index(at) + by, len(where) - 1))]
        desk.put(rows[to].id)
        desk.spots[desk.pane].index = to
        _into_details(desk, rows[at], rows[to])


def _into_details(desk: Desk, left: Row, to: Row) -> None:
    """From a feeding's line into the rows below the lines: they are those of that feeding then."""
    if desk.pane != STEPS or left.table is None or left.table[0] != "step" or left.id != f"step.{left.table[1]}.wort":
        return
    number, inside = left.table[1], f"step.{desk.step}."
    if number != desk.step and to.id.startswith(inside) and not to.id.endswith(".wort"):
        desk.put(f"step.{number}.{to.id.removeprefix(inside)}")
        desk.step = number
        desk.redraw()


def why(desk: Desk) -> None:
    """Why what is under the cursor is what it is, as a page in its pane."""
    row = desk.row()
    if row is None or not (row.key or row.figure is not None or row.warnings):
        desk.said = "nothing to explain here"
        return
    scene, text = desk.scene, written(desk.store.text, row.key) if row.key else ""
    desk.page = Page(lambda cells: pages.why_lines(row, scene, cells, text))


def show_help(desk: Desk) -> None:
    """The keys of this pane, as a list to choose from."""
    desk.finder = Finder(choices.of_pane(desk.actions, desk.pane))


def show_all(desk: Desk) -> None:
    """Everything that can be done, likewise."""
    desk.finder = Finder(choices.all_of(desk.actions, desk.pane, desk.themes()))


def show_exports(desk: Desk) -> None:
    """The forms in which the plan can be written to a file, likewise."""
    desk.finder = Finder(choices.of_export(desk.actions))


def plain_text(desk: Desk) -> None:
    """What this pane says as plain lines, as a page."""
    said = linear(desk.drawn(desk.pane), desk.scene)
    desk.page = Page(lambda cells: pages.plain_lines(said, desk.glyphs, cells), alone=True)


def tour(desk: Desk) -> None:
    """What all of this is for, as a page over the whole screen."""
    from workbench.screens.tour import tour_lines  # once in a brewer's life

    actions, glyphs = desk.actions, desk.glyphs
    desk.page = Page(lambda cells: tour_lines(actions, glyphs, cells), alone=True)


def picture(desk: Desk) -> None:
    """The flask large, as a page in this pane."""
    scene = desk.scene
    desk.page = Page(lambda cells: large_flask(scene, cells))


def back(desk: Desk) -> None:
    """Out of what is to be chosen, else out of the whole-screen pane."""
    if desk.deciding and desk.pane == DAY:
        following.decide(desk)
    elif desk.planning and desk.pane == STEPS:
        planning.plan(desk)
    else:
        desk.zoomed = False


def zoom(desk: Desk) -> None:
    """One pane over the whole screen, and back."""
    desk.zoomed = not desk.zoomed


def units(desk: Desk) -> None:
    """Litres and grams, or gallons and ounces."""
    desk.system = "us" if desk.system == "metric" else "metric"
    desk.said = "gallons and ounces" if desk.system == "us" else "litres and grams"
    desk.recompute()


def consider(desk: Desk, by: int) -> None:
    """The feeding before or after the one considered."""
    desk.step = max(0, min(desk.step + by, len(desk.plan.steps) - 1))
    desk.redraw()


def add(desk: Desk) -> None:
    """A lot at the end of the lots, or a feeding behind the one considered, its volume asked for at once."""
    if desk.pane == 0:
        count = len(desk.plan.session.yeast)
        fresh: Edit = AddTable("yeast", count, {"kind": "pack"})
        if change(desk, fresh):
            desk.put(f"yeast.{count}.kind")
            typed.edit(desk, fresh=fresh)
    elif desk.pane == STEPS:
        desk.planning = False
        desk.redraw()
        index = min(desk.step + 1, len(desk.plan.steps))
        fresh = adopted(desk, AddTable("step", index, {}))
        if change(desk, fresh):
            desk.step = index
            desk.put(f"step.{index}.wort")
            desk.redraw()
            typed.edit(desk, fresh=fresh)


def remove(desk: Desk) -> None:
    """The lot, feeding or reading under the cursor."""
    row = desk.row()
    if row is None or row.table is None:
        desk.said = "nothing to remove here: put the cursor on a lot or a feeding"
        return
    table, index = row.table
    if table == "step" and _has_happened(desk, index):
        desk.said = "it stays: what has happened to it, or to a later one, would be another's"
    elif change(desk, RemoveTable(table, index)):
        desk.said = f"{_NAMES[table]} {index + 1} removed; {desk.key('undo')} brings it back"


def _has_happened(desk: Desk, index: int) -> bool:
    """Whether anything is stamped or measured of a feeding at this place or behind it."""
    session = desk.store.session
    numbers = [event.step for event in session.event] + [reading.step for reading in session.reading]
    return any(number > index for number in numbers)


def reorder(desk: Desk, by: int) -> None:
    """The lot or feeding under the cursor moved among its like, the cursor with it."""
    row = desk.row()
    if row is None or row.table is None or row.table[0] == "reading":
        desk.said = "nothing to move here: put the cursor on a lot or a feeding"
        return
    table, index = row.table
    count = len(desk.plan.session.yeast if table == "yeast" else desk.plan.steps)
    to = index + by
    if table == "step" and _has_happened(desk, min(index, to)):
        desk.said = "what has happened to one of them would be taken for the other's: they stay"
    elif not 0 <= to < count:
        desk.said = f"it is the {'first' if by < 0 else 'last'} already"
    elif change(desk, MoveTable(table, index, to)):
        desk.put(row.id.replace(f"{table}.{index}.", f"{table}.{to}."))
        desk.step = to if table == "step" and desk.step == index else desk.step
        desk.redraw()


def default(desk: Desk) -> None:
    """The value under the cursor left out again."""
    row = desk.row()
    if row is None or not row.key or not desk.plan.session.is_given(row.key):
        desk.said = "this is not typed: there is nothing to leave out"
    elif change(desk, typed.unset(desk, row.key)):
        desk.said = f"{row.label.strip() or row.key} left out; {desk.key('undo')} brings it back"


def undo(desk: Desk) -> None:
    """The last change taken back."""
    made = desk.store.data
    if _gone_back(desk, desk.store.undo()):
        desk.said = f"undone: {told(desk.store.data, made)}; {desk.key('redo')} makes it again"
    else:
        desk.said = "nothing to undo"


def redo(desk: Desk) -> None:
    """The change that was taken back made again."""
    before = desk.store.data
    again = _gone_back(desk, desk.store.redo())
    desk.said = f"made again: {told(before, desk.store.data)}" if again else "nothing to make again"


def _gone_back(desk: Desk, done: bool) -> bool:  # noqa: FBT001 - what the store says
    """Whether another text stands now; then all is worked out anew, and the day shows what is next."""
    if done:
        desk.typed_terms.clear()
        desk.recompute()
        desk.follow()
    return done


_ACTIONS: dict[str, Callable[[Desk], None]] = {
    "edit": enter,
    "plan": planning.plan,
    "lock": planning.lock,
    "another-hour": planning.ask_hour,
    "turn": typed.turn,
    "add": add,
    "remove": remove,
    "earlier": lambda desk: reorder(desk, -1),
    "later": lambda desk: reorder(desk, 1),
    "step-back": lambda desk: consider(desk, -1),
    "step-on": lambda desk: consider(desk, 1),
    "measure": asking.measure,
    "next-batch": making.ask,
    "begin": stamping.begin,
    "done": stamping.done,
    "skip": stamping.skip,
    "boil": stamping.boil,
    "end": stamping.end,
    "longer": lambda desk: stamping.longer(desk, 60.0),
    "shorter": lambda desk: stamping.longer(desk, -60.0),
    "temperature": asking.ask_temperature,
    "lost": asking.ask_lost,
    "note": asking.ask_note,
    "default": default,
    "why": why,
    "undo": undo,
    "redo": redo,
    "take-over": following.take_over,
    "decide": following.decide,
    "zoom": zoom,
    "units": units,
    "help": show_help,
    "actions": show_all,
    "export": show_exports,
    "plain": plain_text,
    "new-batch": making.ask_new,
    "tour": tour,
    "picture": picture,
    "next-pane": next_pane,
    "last-pane": last_pane,
    "up": lambda desk: move(desk, -1),
    "down": lambda desk: move(desk, 1),
    "page-up": lambda desk: move(desk, -10),
    "page-down": lambda desk: move(desk, 10),
    "first": lambda desk: move(desk, -1000),
    "last": lambda desk: move(desk, 1000),
    "back": back,
}
