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

__all__ = ["export", "put"]

_MOST = 99  # files of one batch and form


def export(desk: Desk, form: str) -> None:
    """Write the plan in a form, a key of `choices.FORMS`, and say where it went."""
    try:
        desk.said = put(desk.store.path, *desk.in_form(form, desk), desk.exported)
    except WorkbenchError as wrong:
        desk.said = str(wrong)


def put(batch: Path, suffix: str, text: str, ours: dict[Path, bytes]) -> str:
    """Write `text` beside a batch, under the first name that nothing else has; what there is to say of it.

    One of `ours`, the files written in this run, is brought up to date; over any other nothing is written. Raises
    SaveFailed, or WorkbenchError where all names are taken.
    """
    stem, data = safe_file_name(batch.stem).removesuffix(".toml"), text.encode()
    for number in range(1, _MOST + 1):
        path = batch.with_name(f"{stem}{f'-{number}' if number > 1 else ''}{suffix}")
        if write_beside(path, data, ours=ours.get(path)):
            ours[path] = data
            return harmless(f"written: {path.name} in {path.parent}")
    raise WorkbenchError(f"{stem}{suffix} and {_MOST - 1} more are there already: put some of them away")
