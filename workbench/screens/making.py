"""The file of another batch, made beside the present one, anew or from what that keeps: its name is asked for."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from workbench.errors import WorkbenchError
from workbench.plan.next_batch import keeps_nothing, next_text
from workbench.screens import editor
from workbench.screens.desk import STEPS, Ask, Entry
from workbench.session.folder import short
from workbench.session.fresh import safe_file_name
from workbench.session.saving import write_atomically

if TYPE_CHECKING:
    from collections.abc import Callable

    from workbench.screens.desk import Desk
    from workbench.units.mark import Mark

__all__ = ["ask", "ask_new"]


def ask(desk: Desk) -> None:
    """Open the line for the name of the next batch; where nothing is kept, go to where that is set."""
    if keeps_nothing(desk.plan):
        desk.pane = STEPS
        desk.put("keep.cells")
        sets, again = desk.key("edit"), desk.key("next-batch")
        desk.said = f"nothing is kept of this batch yet: {sets} sets how much, then {again}"
        return
    try:
        _text(desk, "")
    except WorkbenchError as wrong:
        desk.said = str(wrong)
        return
    _open(desk, "the next batch's name; its file goes beside this one", partial(_text, desk))


def ask_new(desk: Desk) -> None:
    """Open the line for the name of a batch that begins anew."""
    _open(desk, "the new batch's name; its file goes beside this one", desk.fresh)


def _open(desk: Desk, means: str, text: Callable[[str], str]) -> None:
    def keep(name: str, _at: Mark) -> str:
        """Write the file and say so; one that is there already is never overwritten."""
        path = desk.store.path.with_name(safe_file_name(name))
        write_atomically(path, text(name).encode(), on_disk=None)
        return f"made {path.name} beside this file: workbench {short(path)} opens it"

    desk.entry = Entry("", editor.start(""), "", means, ask=Ask("name", means, keep), at=desk.clock())


def _text(desk: Desk, name: str) -> str:
    return next_text(desk.plan, desk.store.data, name, desk.store.path.name, tz=desk.tz)
