"""Other programs at the same file: who holds it, what they made of it, and what they and this one changed both."""

from __future__ import annotations

import time
from contextlib import suppress
from typing import TYPE_CHECKING, Any

from workbench.errors import EditRefused, FileRefused, SaveFailed
from workbench.session.beside import asides, free_aside
from workbench.session.edits import Several
from workbench.session.faults import FaultyFile
from workbench.session.follow import Watch
from workbench.session.load import read_bytes, understood
from workbench.session.lock import Lock, ask_to_leave, holder
from workbench.session.read import sound
from workbench.session.saving import write_atomically
from workbench.session.undecided import joined_by, moved, still_open
from workbench.units.plainly import harmless

if TYPE_CHECKING:
    from pathlib import Path

    from workbench.session.load import Loaded
    from workbench.session.lock import Holder
    from workbench.session.merge import Change
    from workbench.session.store import Store

__all__ = ["FOLLOWS", "Sharing"]

FOLLOWS = "another terminal edits this batch: it is shown here, live, not edited"
_AS_OPENED = "it could not be edited when it was opened: open it again"
_PATIENCE_S = 10.0  # how long one that was asked to leave may take


class Sharing:
    """What a store knows of others. `look` once a second, and whenever saving fails.

    `follows`: another terminal holds the file, `holder` if it is known who; `stuck` says why nothing is saved to the
    file, if so; `news` is what the last look found, as a sentence.
    """

    def __init__(self, store: Store) -> None:
        self.follows = False
        self.holder: Holder | None = None
        self.stuck = ""
        self.news = ""
        self._store = store
        self._lock = Lock(store.path)
        self._watch = Watch(store.path)
        self._asked_until = 0.0  # on the monotonic clock; 0: nobody is being asked to leave
        self._clashes: tuple[Change, ...] = ()
        self._kept: list[Path] = []  # where what is only here has been written
        self._base: Loaded | None = None  # while stuck: what both sides began with
        self._refused: tuple[Loaded, str] | None = None  # a version that did not go with this text

    def begin(self) -> None:
        """Take the right to edit the file, or follow who has it; where neither can be, the store is read-only."""
        if self._store.read_only:
            return
        try:
            self.follows = not self._lock.take()
        except SaveFailed as error:
            self._store.read_only = str(error)
        if self.follows:
            self._store.read_only, self.holder = FOLLOWS, holder(self._store.path)
        else:
            self.news = self._left_over()

    def end(self) -> None:
        """Leave the file to others."""
        self._tidy()
        self._lock.release()

    def look(self, *, now: bool = False) -> bool:
        """Look at the file, and at who holds it; whether anything is new. `now`: even at what may be half written."""
        moved = self.follows and self._look_at_holder()
        if self._store.saver.under_way and not now:
            return moved  # what comes of that would have to be waited for, and a disk may hang
        if now or (self._store.saver.problem is not None and not self.stuck):
            self._watch.again()  # what the saver found there may have escaped it
        try:
            found = self._watch.look(now=now)
            new = self._meet(found) if found is not None else self._try_again()
        except (FileRefused, FaultyFile, EditRefused) as wrong:
            new = self._stop(wrong)
        self._tidy()
        return moved or new

    # ---- who holds it ---------------------------------------------------------------------------------------

    def take_over(self) -> str:
        """Ask who holds the file to save and leave; `look` then takes it. What to tell the brewer."""
        if not self.follows:
            return "nobody else edits this batch"
        if self._look_at_holder(at_once=True):
            return self.news
        if why := ask_to_leave(self._store.path):
            return why
        self._asked_until = time.monotonic() + _PATIENCE_S
        return "asked to save and leave"

    def _look_at_holder(self, *, at_once: bool = False) -> bool:
        """Who holds it now; whether that is new. Where it has been asked for, it is taken as soon as it is free."""
        before, self.holder = self.holder, holder(self._store.path)
        if (at_once or self._asked_until) and self._lock_taken():
            return True
        if self._asked_until and time.monotonic() > self._asked_until:
            self._asked_until, self.news = 0.0, "it was not left: end it there, or try again"
            return True
        return before != self.holder

    def _lock_taken(self) -> bool:
        """Whether this program may edit it from now on, beginning with the file as it lies there."""
        store = self._store
        try:
            if not self._lock.take():
                return False
            loaded = understood(read_bytes(store.path), store.path.name)
            outcome = sound(loaded.data, loaded.text, store.path.name)
        except (SaveFailed, FileRefused, FaultyFile) as error:
            self._lock.release()
            self._asked_until, self.news = 0.0, str(error)
            return True
        store.show(loaded, outcome)
        store.saver.turn_to(store.path, loaded.raw)
        store.begin()
        self.follows, self.holder, self._asked_until, self.stuck = False, None, 0.0, ""
        self.news = store.read_only or self._left_over() or "yours now: what you change is saved"
        if store.read_only:
            self._lock.release()  # for who can edit it
        return True

    def _left_over(self) -> str:
        """What lies beside the file, of whoever had it before, as a sentence."""
        names = ", ".join(harmless(path.name) for path in asides(self._store.path))
        return names and f"{names} beside it has what was typed and not taken in: compare, then delete it"

    # ---- what others made of the file -----------------------------------------------------------------------

    def _meet(self, found: bytes) -> bool:
        """A version lies there that may be new. Raises FaultyFile, FileRefused, EditRefused where it cannot be used."""
        store = self._store
        known = found == store.loaded.raw if store.read_only else store.saver.is_own(found)
        if known and not self.stuck:
            return False
        before = store.saver.on_disk  # not later: a save may end meanwhile, that began before this version was there
        if read_bytes(store.path) != found:  # the saver, or somebody else, was quicker
            self._watch.again()
            return False
        loaded = understood(found, store.path.name)
        outcome = sound(loaded.data, loaded.text, store.path.name)
        if store.read_only:
            store.show(loaded, outcome)
            store.read_only = store.read_only or (FOLLOWS if self.follows else _AS_OPENED)
            self.stuck = ""
            return True
        if reason := loaded.read_only or outcome.read_only:
            raise FileRefused(reason)
        return self._merged(self._base or understood(before, store.path.name), loaded)

    def _merged(self, base: Loaded, theirs: Loaded) -> bool:
        store, mine = self._store, self._store.loaded
        try:
            clashes = store.merge(base, theirs)
        except EditRefused:
            self._refused = theirs, store.text
            raise
        self.stuck, self._base, self._refused = "", None, None
        self.news = "taken in: what was changed in the file elsewhere"
        if clashes:
            self._clashes = joined_by(self._clashes, clashes, store.loaded.data)
            self.news = f"changed here and elsewhere: {', '.join(clash.key for clash in clashes)}"
            self._keep(mine.raw)
        return True

    def _try_again(self) -> bool:
        """A version that did not go with what was here may do so now."""
        if self._base is None or self._refused is None or self._refused[1] == self._store.text:
            return False
        return self._merged(self._base, self._refused[0])

    def _stop(self, wrong: Exception) -> bool:
        """What lies there cannot be used: it is left alone, and what is changed here goes to a file of its own."""
        store, name = self._store, self._store.path.name
        before = self.stuck
        if not isinstance(wrong, EditRefused):
            self._refused = None  # it lies there no longer
        why = str(wrong.faults[0]) if isinstance(wrong, FaultyFile) else str(wrong)
        if store.read_only:
            self.stuck = f"{name} cannot be read now, this is how it was: {why}"
            return before != self.stuck
        if self._base is None:
            self._base = understood(store.saver.on_disk, name)
            self._kept.append(free_aside(store.path))
            store.saver.turn_to(self._kept[-1], b"", None if store.loaded.raw == self._base.raw else store.loaded.raw)
        self.stuck = f"{name} is left alone, yours is kept in {self._kept[-1].name}: {why}"
        return before != self.stuck

    # ---- what was changed on both sides ---------------------------------------------------------------------

    @property
    def clashes(self) -> tuple[Change, ...]:
        """What was changed here and elsewhere and is not decided; `theirs` is what stands in the file by now."""
        return still_open(self._clashes, self._store.data)

    def moved(self, after: dict[str, Any]) -> None:
        """The store's data is about to become `after`: what is to be decided goes along with its lots and feedings."""
        if self._clashes:
            self._clashes = moved(self._clashes, self._store.loaded.data, after)

    @property
    def kept(self) -> tuple[Path, ...]:
        """Where what is only here lies beside the file, until it is decided."""
        return tuple(self._kept)

    def decide(self, key: str, *, mine: bool) -> None:
        """Take the one or the other for a key. Raises EditRefused where that cannot be; it then stays open."""
        before = self._clashes
        self._clashes = tuple(clash for clash in before if clash.key != key)
        clash = next((clash for clash in before if clash.key == key), None)
        try:
            if clash is not None and mine:
                self._store.apply(Several(clash.edits))
        except EditRefused:
            self._clashes = before
            raise
        self._tidy()

    def _keep(self, raw: bytes) -> None:
        """Write what is only here beside the file, until it is decided."""
        path = free_aside(self._store.path)
        try:
            write_atomically(path, raw, on_disk=None)
        except SaveFailed as error:
            self.news = f"{self.news}; {error}"
        else:
            self._kept.append(path)

    def _tidy(self) -> None:
        """Once all is in the file and decided, what was written beside it is not needed."""
        if self._kept and not (self.clashes or self.stuck or self._store.saver.dirty):
            for path in self._kept:
                with suppress(OSError):
                    path.unlink()
            self._kept.clear()
