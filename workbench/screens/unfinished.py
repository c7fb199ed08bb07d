"""What is being typed outlives the program: kept as it is typed, and a note once it is clear that nobody entered it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.errors import EditRefused
from workbench.screens.changes import event
from workbench.session.unfinished import Line

if TYPE_CHECKING:
    from workbench.screens.desk import Desk

__all__ = ["keep", "resume"]

_NOTE = "note"  # what a line for a note is called


def keep(desk: Desk) -> None:
    """After each key: have the open line kept, or no longer where none is open."""
    entry = desk.entry
    if desk.store.read_only or entry is None or entry.line.text == entry.began:
        desk.store.unfinished.clear()
    else:
        about = entry.key if entry.ask is None else entry.ask.label
        desk.store.unfinished.put(Line(about, entry.line.text))


def resume(desk: Desk) -> None:
    """Stamp the line that was open when the program died as a note; a note that was being typed is one anyway."""
    if desk.store.read_only or (line := desk.store.unfinished.take()) is None:
        return
    text = line.text if line.about == _NOTE else f"not entered: {line.about} {line.text}"
    try:
        desk.store.apply(event(desk, "note", 0, text=text))
    except EditRefused as refused:
        desk.said = f"{text} ({refused})"
        return
    desk.recompute()
    desk.said = f"{text}: typed when the program ended, now a note in Day; {desk.key('undo')} takes it back"
