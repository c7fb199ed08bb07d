"""The file of the next batch, made beside the present one from what that keeps: the name is asked for in the line."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.errors import WorkbenchError
from workbench.plan.next_batch import next_text
from workbench.screens import editor
from workbench.screens.desk import Entry
from workbench.session.fresh import safe_file_name
from workbench.session.saving import write_atomically

if TYPE_CHECKING:
    from workbench.screens.desk import Desk

__all__ = ["ask", "make"]


def ask(desk: Desk) -> None:
    """Open the line for a name; where nothing is kept, say what to set."""
    try:
        _text(desk, "")
    except WorkbenchError as wrong:
        desk.said = str(wrong)
        return
    desk.entry = Entry("", editor.start(""), "", "the next batch's name; its file goes beside this one", names=True)


def make(desk: Desk, entry: Entry) -> None:
    """Write the file and say so; one that is there already is never overwritten. Without a name nothing is made."""
    name = entry.line.text.strip()
    if name:
        path = desk.store.path.with_name(safe_file_name(name))
        try:
            write_atomically(path, _text(desk, name).encode(), on_disk=None)
        except WorkbenchError as wrong:
            entry.error = str(wrong)
            return
        desk.said = f"made {path.name} beside this file; it opens with: workbench {path}"
    desk.entry = None


def _text(desk: Desk, name: str) -> str:
    return next_text(desk.plan, desk.store.data, name, desk.store.path.name, tz=desk.tz)
