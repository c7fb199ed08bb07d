"""The one way in for every change of a session: check, undo, save."""

from __future__ import annotations

import os
from copy import deepcopy
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from workbench.errors import EditRefused, SaveFailed
from workbench.session import beside
from workbench.session.faults import FaultyFile
from workbench.session.formats import back_up
from workbench.session.load import BOM, load, parsed
from workbench.session.read import read
from workbench.session.saver import Saver
from workbench.session.saving import write_atomically
from workbench.units.plainly import harmless

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from workbench.session.edits import Edit
    from workbench.session.faults import Fault
    from workbench.session.load import Loaded
    from workbench.session.model import Session
    from workbench.session.read import Outcome

__all__ = ["Store"]

_MOST_UNDO = 10_000_000  # characters of old texts kept: some 2,000 steps back for a usual file
_ODD_LAYOUT = "the file is laid out in a way that this cannot be changed here: change it in an editor"


class Store:
    """A session file that is open.

    `session` and `notes` are what it says now, `text` how; `read_only` says why it cannot be edited, if so.
    `saver` tells whether all of it is on disk.
    """

    def __init__(self, path: Path, loaded: Loaded, *, on_save: Callable[[], None] | None = None) -> None:
        outcome = read(loaded.data, loaded.text)
        if outcome.faults:
            raise FaultyFile(os.fspath(path), outcome.faults)
        self.path = path
        self.session: Session = outcome.session
        self.notes: tuple[Fault, ...] = (*loaded.notes, *outcome.notes)
        self.read_only = loaded.read_only or outcome.read_only
        if not self.read_only and not os.access(path, os.W_OK):
            self.read_only = "the file may not be written to: it is shown, not edited"
        self.saver = Saver(path, loaded.raw, tell=on_save, first=partial(_prepare, path, loaded.raw))
        self._loaded = loaded
        self._bom = BOM if loaded.raw.startswith(BOM) else b""
        self._undo: list[str] = []
        self._redo: list[str] = []
        self._redo_before: list[str] = []  # what the last edit made void

    @classmethod
    def open(cls, path: str | os.PathLike[str], *, on_save: Callable[[], None] | None = None) -> Store:
        """Open a file. Raises FileRefused where it cannot be read, FaultyFile with all its faults where it has any.

        `on_save` is called, in the saver's thread, after each attempt to save.
        """
        return cls(Path(path), load(path), on_save=on_save)

    @classmethod
    def create(cls, path: str | os.PathLike[str], text: str, *, on_save: Callable[[], None] | None = None) -> Store:
        """Write a new file and open it. Raises SaveFailed where it cannot be written or is there already."""
        write_atomically(path, text.encode(), on_disk=None)
        return cls.open(path, on_save=on_save)

    @property
    def text(self) -> str:
        """The file's text as it stands now, saved or not, without a byte order mark."""
        return self._loaded.text

    @property
    def data(self) -> Mapping[str, Any]:
        """The same as plain data, each value as TOML reads it. To look at only."""
        return self._loaded.data

    def apply(self, edit: Edit) -> Session:
        """Make the edit, keep what was for `undo`, have it saved. Raises EditRefused, and then nothing has changed."""
        loaded, outcome = self._edited(edit)
        if loaded.text != self.text:
            self._undo.append(self.text)
            self._redo_before, self._redo = self._redo, []
            while sum(map(len, self._undo)) > _MOST_UNDO and len(self._undo) > 1:
                del self._undo[0]
            self._become(loaded, outcome)
        return self.session

    def note(self, edit: Edit) -> None:
        """Make an edit that is the program's own: undo goes past it. Raises EditRefused."""
        self._become(*self._edited(edit))

    def undo(self) -> bool:
        """Go back one edit. False where there is none."""
        return self._step(self._undo, self._redo)

    def redo(self) -> bool:
        """Make the edit undone last again. False where there is none, or another edit came after."""
        return self._step(self._redo, self._undo)

    def take_back(self) -> None:
        """Make the last edit as if it had never been: it cannot be redone, and what could be before it can again."""
        redo = self._redo_before
        if self._step(self._undo, []):
            self._redo = redo

    def begin(self) -> None:
        """Have the version that was opened kept as NAME.bak now; left out, that is done before the first save."""
        if not self.read_only:
            self.saver.begin()

    def flush(self, timeout: float = 5.0) -> bool:
        """Have everything written now. False where that fails, or takes longer than `timeout` seconds."""
        return self.saver.flush(timeout)

    def flush_or_set_aside(self, timeout: float = 5.0) -> str | None:
        """Have everything written now, if need be beside the file: there will be no other time. What went wrong."""
        if self.flush(timeout) or (data := self.saver.waiting) is None:
            return None
        aside = beside.set_aside(self.path, data)
        where = "nowhere else either" if aside is None else f"what was typed is in {harmless(str(aside))}"
        return f"{self.saver.problem or f'{harmless(self.path.name)} could not be saved in time'}; {where}"

    def close(self) -> bool:
        """Write everything and end the saver. False where not everything could be written."""
        return self.saver.close()

    def _edited(self, edit: Edit) -> tuple[Loaded, Outcome]:
        """The file after the edit, read anew and held to what the edit was to do."""
        if self.read_only:
            raise EditRefused(self.read_only)
        wanted = deepcopy(self._loaded.data)
        edit.in_data(wanted)
        try:
            loaded = parsed(self._bom + edit.in_text(self.text).encode(), os.fspath(self.path))
        except FaultyFile:
            raise EditRefused(_ODD_LAYOUT) from None
        if not _same(_without_empty(loaded.data), _without_empty(wanted)):
            raise EditRefused(_ODD_LAYOUT)
        if loaded.read_only:
            raise EditRefused(loaded.read_only)
        outcome = read(loaded.data, loaded.text)
        if outcome.faults:
            raise EditRefused("; ".join(f"{fault.what}: {fault.right}" for fault in outcome.faults))
        self._keep_older()
        return loaded, outcome

    def _keep_older(self) -> None:
        """Before a file of an older format is changed: kept as it was. Raises EditRefused where it cannot be."""
        was = self._loaded.was
        if was is not None:
            try:
                back_up(self.path, self._loaded.raw, was)
            except SaveFailed as error:
                raise EditRefused(f"it is of format {was} and must be kept as it is first: {error}") from None

    def _step(self, back: list[str], forth: list[str]) -> bool:
        if not back:
            return False
        forth.append(self.text)
        loaded = parsed(self._bom + back.pop().encode(), os.fspath(self.path))
        self._become(loaded, read(loaded.data, loaded.text))
        return True

    def _become(self, loaded: Loaded, outcome: Outcome) -> None:
        self._loaded = loaded
        self.session = outcome.session
        self.notes = (*loaded.notes, *outcome.notes)
        self.saver.put(loaded.raw)


def _prepare(path: Path, opened: bytes) -> None:
    """What the saver does first, in its thread."""
    beside.sweep(path)
    beside.keep_backup(path, opened)


def _without_empty(data: dict[str, object]) -> dict[str, object]:
    """Without the tables and arrays of tables that hold nothing: a file may say so or say nothing."""
    return {key: value for key, value in data.items() if value not in ([], {})}


def _same(a: object, b: object) -> bool:
    """Whether two TOML values are the same, type by type; one nan is as good as another."""
    if isinstance(a, dict) and isinstance(b, dict):
        return a.keys() == b.keys() and all(_same(value, b[key]) for key, value in a.items())
    if isinstance(a, list) and isinstance(b, list):
        return len(a) == len(b) and all(map(_same, a, b))
    return type(a) is type(b) and (a == b or (a != a and b != b))  # noqa: PLR0124
