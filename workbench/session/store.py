"""The one way in for every change of a session: check, undo, save."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from workbench.errors import EditRefused, SaveFailed
from workbench.session import beside
from workbench.session.applied import edited, joined, with_text
from workbench.session.faults import FaultyFile
from workbench.session.formats import back_up
from workbench.session.load import load
from workbench.session.read import read
from workbench.session.saver import Saver
from workbench.session.saving import write_atomically
from workbench.session.sharing import Sharing
from workbench.session.unfinished import Unfinished
from workbench.units.plainly import harmless

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from workbench.session.edits import Edit
    from workbench.session.faults import Fault
    from workbench.session.load import Loaded
    from workbench.session.merge import Change
    from workbench.session.model import Session
    from workbench.session.read import Outcome

__all__ = ["Store"]

_MOST_UNDO = 10_000_000  # characters of old texts kept: some 2,000 steps back for a usual file

_TRIES = 3  # another program may write again meanwhile


class _Past(NamedTuple):
    """A text to go back to, and how many versions of others had been merged by then."""

    text: str
    merges: int


class Store:
    """A session file that is open.

    `session` and `notes` are what it says now, `text` how; `read_only` says why it cannot be edited, if so.
    `saver` tells whether all of it is on disk, `sharing` who else is at it; `unfinished` keeps what is being typed.
    """

    def __init__(self, path: Path, loaded: Loaded, *, on_save: Callable[[], None] | None = None) -> None:
        outcome = read(loaded.data, loaded.text)
        if outcome.faults:
            raise FaultyFile(os.fspath(path), outcome.faults)
        self.path = path
        self.read_only = self._why_not(loaded, outcome)
        self.saver = Saver(path, loaded.raw, tell=on_save, first=self._prepare)
        self.sharing = Sharing(self)
        self.unfinished = Unfinished(path, self.saver.flush)
        self._say(loaded, outcome)
        self._opened = loaded.raw
        self._undo: list[_Past] = []
        self._redo: list[_Past] = []
        self._redo_before: list[_Past] = []  # what the last edit made void
        self._merges: list[tuple[Loaded, Loaded]] = []  # each the version before, and what another program made of it

    @classmethod
    def open(cls, path: str | os.PathLike[str], *, on_save: Callable[[], None] | None = None) -> Store:
        """Open a file. Raises FileRefused where it cannot be read, FaultyFile with all its faults where it has any.

        `on_save` is called, in the saver's thread, after each attempt to save. Where another terminal edits it, it is
        read-only, and `sharing` follows it.
        """
        store = cls(Path(path), load(path), on_save=on_save)
        store.sharing.begin()
        return store

    @classmethod
    def create(cls, path: str | os.PathLike[str], text: str, *, on_save: Callable[[], None] | None = None) -> Store:
        """Write a new file and open it. Raises SaveFailed where it cannot be written or is there already."""
        write_atomically(path, text.encode(), on_disk=None)
        return cls.open(path, on_save=on_save)

    @property
    def loaded(self) -> Loaded:
        """The file as it stands now, saved or not."""
        return self._loaded

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
            self._undo.append(self._past())
            self._redo_before, self._redo = self._redo, []
            while sum(len(past.text) for past in self._undo) > _MOST_UNDO and len(self._undo) > 1:
                del self._undo[0]
            self._become(loaded, outcome)
        return self.session

    def would_be(self, edit: Edit) -> Session:
        """What the file would say after the edit; nothing changes. Raises EditRefused."""
        return edited(self._loaded, edit)[1].session

    def note(self, edit: Edit) -> None:
        """Make an edit that is the program's own: undo goes past it. Raises EditRefused."""
        self._become(*self._edited(edit))

    def undo(self) -> bool:
        """Go back one edit; what others changed meanwhile stays. False where there is none."""
        return self._step(self._undo, self._redo)

    def redo(self) -> bool:
        """Make the edit undone last again. False where there is none, or another edit came after."""
        return self._step(self._redo, self._undo)

    def take_back(self) -> None:
        """Make the last edit as if it had never been: it cannot be redone, and what could be before it can again."""
        redo = self._redo_before
        if self._step(self._undo, []):
            self._redo = redo

    def show(self, loaded: Loaded, outcome: Outcome) -> None:
        """Show another version of the file, as it lies there: nothing of this one is to be saved, nothing undone."""
        self._undo, self._redo, self._redo_before, self._merges = [], [], [], []
        self.read_only = self._why_not(loaded, outcome)
        self._opened = loaded.raw
        self._say(loaded, outcome)

    def merge(self, base: Loaded, theirs: Loaded) -> tuple[Change, ...]:
        """Take in what another program made of `base`; what clashes with a change made here, which theirs stands for.

        Undo goes past it. Raises EditRefused where both together would be at fault; then nothing has changed.
        """
        loaded, outcome, clashes = joined(base, self._loaded, theirs)
        if loaded is not theirs:
            self._keep_older(theirs)
        if self._undo or self._redo or self._redo_before:
            self._merges.append((base, theirs))
        self.saver.turn_to(self.path, theirs.raw, None if loaded is theirs else loaded.raw, known=base.raw)
        self.sharing.moved(loaded.data)
        self._say(loaded, outcome)
        return clashes

    def begin(self) -> None:
        """Have the version that was opened kept as NAME.bak now; left out, that is done before the first save."""
        if not self.read_only:
            self.saver.begin()

    def flush(self, timeout: float = 5.0) -> bool:
        """Have everything written now. False where that fails, or takes longer than `timeout` seconds."""
        saved = self.saver.flush(timeout)
        self.unfinished.flush()
        return saved

    def flush_or_set_aside(self, timeout: float = 5.0) -> str | None:
        """Have everything written now, if need be beside the file: there will be no other time. What went wrong."""
        if self.flush(timeout) or (data := self.saver.waiting) is None:
            return None
        aside = beside.set_aside(self.path, data)
        where = "nowhere else either" if aside is None else f"what was typed is in {harmless(str(aside))}"
        return f"{self.saver.problem or f'{harmless(self.path.name)} could not be saved in time'}; {where}"

    def settle(self) -> bool:
        """Have everything written, on top of what others wrote meanwhile. False where that fails.

        As all that edits, only for the thread of the screen; the others may be called in any.
        """
        return self.flush() or any(self.sharing.look(now=True) and self.flush() for _ in range(_TRIES))

    def close(self) -> bool:
        """Write everything, end the saver, leave the file to others. False where not everything could be written."""
        self.settle()
        saved = self.saver.close()
        self.unfinished.end()
        self.sharing.end()
        return saved

    def _prepare(self) -> None:
        """What the saver does first, in its thread; the file is held by then."""
        beside.sweep(self.path)
        beside.keep_backup(self.path, self._opened)

    def _why_not(self, loaded: Loaded, outcome: Outcome) -> str | None:
        """Why it cannot be edited as it lies there, if so."""
        if (reason := loaded.read_only or outcome.read_only) or os.access(self.path, os.W_OK):
            return reason
        return "the file may not be written to: it is shown, not edited"

    def _past(self) -> _Past:
        return _Past(self.text, len(self._merges))

    def _edited(self, edit: Edit) -> tuple[Loaded, Outcome]:
        if self.read_only:
            raise EditRefused(self.read_only)
        after = edited(self._loaded, edit)
        self._keep_older(self._loaded)
        return after

    def _step(self, back: list[_Past], forth: list[_Past]) -> bool:
        while back:
            found = self._brought_up(back.pop())
            if found is not None and found[0].text != self.text:
                forth.append(self._past())
                self._become(*found)
                return True
        return False

    def _brought_up(self, past: _Past) -> tuple[Loaded, Outcome] | None:
        """A text of the past with what others changed since; None where that would be at fault."""
        loaded = with_text(self._loaded, past.text)
        outcome = read(loaded.data, loaded.text)
        try:
            for base, theirs in self._merges[past.merges :]:
                loaded, outcome, _ = joined(base, loaded, theirs)
        except EditRefused:
            return None
        return loaded, outcome

    def _keep_older(self, loaded: Loaded) -> None:
        """Before a file of an older format is changed: kept as it was. Raises EditRefused where it cannot be."""
        if loaded.was is not None:
            try:
                back_up(self.path, loaded.raw, loaded.was)
            except SaveFailed as error:
                raise EditRefused(f"it is of format {loaded.was} and must be kept as it is first: {error}") from None

    def _say(self, loaded: Loaded, outcome: Outcome) -> None:
        self._loaded = loaded
        self.session: Session = outcome.session
        self.notes: tuple[Fault, ...] = (*loaded.notes, *outcome.notes)

    def _become(self, loaded: Loaded, outcome: Outcome) -> None:
        self.sharing.moved(loaded.data)
        self._say(loaded, outcome)
        self.saver.put(loaded.raw)
