"""The file of the next batch, made beside the present one from what that keeps: the name is asked for in the line."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.errors import WorkbenchError
from workbench.plan.next_batch import next_text
from workbench.screens import editor
from workbench.screens.desk import Ask, Entry
from workbench.session.fresh import safe_file_name
from workbench.session.saving import write_atomically

if TYPE_CHECKING:
    from workbench.screens.desk import Desk
    from workbench.units.mark import Mark

__all__ = ["ask"]


def ask(desk: Desk) -> None:
    """Open the line for a name; where nothing is kept, say what to set."""
    try:
        _text(desk, "")
    except WorkbenchError as wrong:
        desk.said = str(wrong)
        return

    def keep(name: str, _at: Mark) -> str:
        """Write the file and say so; one that is there already is never overwritten."""
        path = desk.store.path.with_name(safe_file_name(name))
        write_atomically(path, _text(desk, name).encode(), on_disk=None)
        return f"made {path.name} beside this file; it opens with: workbench {path}"

    means = "the next batch's name; its file goes beside this one"
    desk.entry = Entry("", editor.start(""), "", means, ask=Ask("name", means, keep), at=desk.clock())


def _text(desk: Desk, name: str) -> str:
    return next_text(desk.plan, desk.store.data, name, desk.store.path.name, tz=desk.tz)
