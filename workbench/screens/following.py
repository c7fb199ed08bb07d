"""Other programs at this batch: the file looked at each second, taking over, deciding what both sides changed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.errors import EditRefused
from workbench.panes.clashes import MINE, THEIRS
from workbench.panes.glyphs import plain
from workbench.panes.spans import clean
from workbench.screens import unfinished
from workbench.screens.desk import DAY
from workbench.units.when import moment

if TYPE_CHECKING:
    from workbench.panes.spans import Spans
    from workbench.screens.desk import Desk

__all__ = ["decide", "held", "left_undecided", "look", "take", "take_over", "told"]

_NAME = 16  # cells of a name


def look(desk: Desk) -> bool:
    """Look at the file: what others wrote is shown. Whether anything is new; else nothing was touched.

    While a value is typed it waits: it is typed in sight of what stood there, and lots and feedings are counted.
    """
    if desk.entry is not None:
        return False
    store = desk.store
    before, sharing, followed = store.session, store.sharing, store.sharing.follows
    if not sharing.look():
        return False
    desk.said, sharing.news = sharing.news or desk.said, ""
    _renew(desk, changed=store.session is not before)
    if followed and not sharing.follows:
        unfinished.resume(desk)
    return True


def take_over(desk: Desk) -> None:
    """Ask who edits the batch to save and leave, once that has been confirmed."""
    sharing = desk.store.sharing
    if sharing.follows and not desk.once_more("take-over"):
        desk.said = f"{desk.key('take-over')} once more takes over: the other terminal saves and leaves"
        return
    desk.armed, before = "", desk.store.session
    desk.said, sharing.news = sharing.take_over(), ""
    _renew(desk, changed=desk.store.session is not before)
    unfinished.resume(desk)


def decide(desk: Desk) -> None:
    """Show what was changed here and elsewhere, in the pane of the day; or leave that for later."""
    if not desk.store.sharing.clashes:
        desk.said = "nothing was changed both here and elsewhere"
        return
    desk.deciding = not (desk.deciding and desk.pane == DAY)
    desk.pane = DAY
    desk.redraw()


def take(desk: Desk, does: str) -> bool:
    """Whether Enter on a row decides, and then that one value is taken."""
    if not does.startswith((MINE, THEIRS)):
        return False
    mine = does.startswith(MINE)
    key = does.removeprefix(MINE if mine else THEIRS)
    try:
        desk.store.sharing.decide(key, mine=mine)
    except EditRefused as refused:
        desk.said = str(refused)
        return True
    desk.said = f"yours taken; {desk.key('undo')} takes it back" if mine else "the file's stands"
    _renew(desk, changed=mine)
    return True


def left_undecided(desk: Desk) -> str:
    """What to tell who leaves while something is still to be decided, "" if nothing is."""
    sharing, again = desk.store.sharing, f"{desk.key('quit')} again leaves it so"
    if kept := ", ".join(path.name for path in sharing.kept):
        return f"not decided yet: yours stays in {clean(kept)}; {again}"
    return f"not decided yet, and yours is written nowhere: {again}" if sharing.clashes else ""


def told(desk: Desk) -> Spans:
    """For the top line, behind what runs: what is to be decided, else why nothing can be edited."""
    store = desk.store
    if clashes := store.sharing.clashes:
        says = f"{len(clashes)} changed twice: {desk.key('decide')} shows both"
        return (("DECIDE ", "danger_"), (says, "text_"))
    if store.read_only and not store.sharing.follows:
        return (("READ ONLY ", "accent_"), (plain(clean(store.read_only), desk.glyphs), "text_"))
    return ()


def held(desk: Desk) -> Spans:
    """For the top line of one that follows: who holds the batch since when, and which key takes over."""
    holder, takes = desk.store.sharing.holder, f", {desk.key('take-over')} takes over"
    if holder is None:
        return (("FOLLOWS ", "accent_"), ("nobody by now", "text_"), (takes, "key_"))
    who = clean(f"{holder.user[:_NAME]}@{holder.host[:_NAME]}")
    since = moment(holder.since, desk.plan.now, desk.tz)
    return (("FOLLOWS ", "accent_"), (plain(f"{who} since {since}", desk.glyphs), "text_"), (takes, "key_"))


def _renew(desk: Desk, *, changed: bool) -> None:
    desk.deciding = desk.deciding and bool(desk.store.sharing.clashes)
    if changed:
        desk.typed_terms.clear()
        desk.recompute()
    else:
        desk.redraw()
