"""A batch under another name: the file renamed with it, or a copy of it made."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

from workbench.errors import FileRefused, SaveFailed
from workbench.session.edits import SetValue, Several, Unset
from workbench.session.formats import back_up
from workbench.session.fresh import safe_file_name
from workbench.session.load import BOM, load, parsed
from workbench.session.lock import alone
from workbench.session.moving import is_other_spelling, move
from workbench.session.read import read, sound
from workbench.session.saving import write_atomically

if TYPE_CHECKING:
    from datetime import datetime
    from pathlib import Path

    from workbench.session.edits import Edit

__all__ = ["copied_text", "rename"]


def rename(path: Path, name: str) -> Path:
    """Give a batch another name, in the file and as its file name; its new path.

    Raises SaveFailed where there is such a file already or it is open elsewhere, FileRefused and FaultyFile where it
    cannot be read; then nothing has changed.
    """
    with alone(path):
        return _renamed(path, name)


def _renamed(path: Path, name: str) -> Path:
    target = path.with_name(safe_file_name(name))
    same = path == target or is_other_spelling(path, target)
    if os.path.lexists(target) and not same:
        raise SaveFailed(f"{target.name} is there already")
    old = load(path)
    if old.was is not None:
        back_up(path, old.raw, old.was)
    text = _edited(old.text, SetValue("batch.name", name))
    bom = BOM if old.raw.startswith(BOM) else b""
    write_atomically(path, bom + text.encode(), on_disk=old.raw)
    if path != target:
        move(path, target, over=same)
    return target


def copied_text(path: Path, name: str, now: datetime) -> str:
    """The text of a copy called `name`: what was measured and what happened is left out, and a pitching hour gone by.

    Raises FileRefused, FaultyFile where the file cannot be read.
    """
    loaded = load(path)
    pitch_at = read(loaded.data, loaded.text).session.batch.pitch_at
    gone = (Unset("batch.pitch_at"),) if pitch_at is not None and pitch_at < now else ()
    return _edited(loaded.text, Several((Unset("reading"), Unset("event"), *gone, SetValue("batch.name", name))))


def _edited(text: str, edit: Edit) -> str:
    """The text with the edit made. Raises FaultyFile where it has faults or gets any, FileRefused where it is newer."""
    _check(text)
    changed = edit.in_text(text)
    _check(changed)
    return changed


def _check(text: str) -> None:
    outcome = sound(parsed(text.encode(), "the file").data, text, "the file")
    if outcome.read_only:
        raise FileRefused(outcome.read_only)
