"""The plan as a file beside the batch: a page of text or Markdown, JSON, a calendar, a table."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.errors import WorkbenchError
from workbench.session.fresh import safe_file_name
from workbench.session.saving import write_beside
from workbench.units.plainly import harmless

if TYPE_CHECKING:
    from pathlib import Path

    from workbench.screens.desk import Desk

__all__ = ["export"]

_MOST = 99  # files of one batch and form


def export(desk: Desk, form: str) -> None:
    """Write the plan in a form, a key of `choices.FORMS`, and say where it went.

    A file that was written in this run is brought up to date; over any other nothing is written.
    """
    try:
        path = _put(desk, *desk.in_form(form, desk))
    except WorkbenchError as wrong:
        desk.said = str(wrong)
        return
    desk.said = harmless(f"written: {path.name} in {path.parent}")


def _put(desk: Desk, suffix: str, text: str) -> Path:
    """Under the first name that nothing else has. Raises SaveFailed."""
    stem, data = safe_file_name(desk.store.path.stem).removesuffix(".toml"), text.encode()
    for number in range(1, _MOST + 1):
        path = desk.store.path.with_name(f"{stem}{f'-{number}' if number > 1 else ''}{suffix}")
        if write_beside(path, data, ours=desk.exported.get(path)):
            desk.exported[path] = data
            return path
    raise WorkbenchError(f"{stem}{suffix} and {_MOST - 1} more are there already: put some of them away")
