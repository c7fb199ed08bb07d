"""What is known of the batches of a folder, kept on disk so that each version of a file is read once only.

The index is never trusted further than it is sure: a file that changed in size, time or inode is read anew, and an
index that is missing, broken, or made by another version of the program is made anew without a word.
"""

from __future__ import annotations

import json
import os
import time
import zlib
from contextlib import suppress
from typing import TYPE_CHECKING, Any, Generic, NamedTuple, TypeVar

from workbench.session.folder import Found, batch_files

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

__all__ = ["Index", "Reader"]

T = TypeVar("T")
_FORMAT = "workbench index 1"
_ODD = (ValueError, TypeError, AttributeError, KeyError, OverflowError, OSError)  # of data that are not as expected


class Reader(NamedTuple, Generic[T]):
    """How one batch becomes what is known of it, and that plain data for JSON and back.

    `mark` tells one way of reading from another: what was read in another way is not used.
    """

    read: Callable[[Path], T]
    pack: Callable[[T], Any]
    unpack: Callable[[Any], T]
    mark: str


class Index(Generic[T]):
    """The batches of a folder. `known` is what each says, as far as they have been read; `pending` are to be read.

    One that has changed is in both until it has been read again. `file` is where the index is kept; None, or one that
    cannot be written: it is done without.
    """

    def __init__(self, folder: Path, reader: Reader[T], file: Path | None) -> None:
        self.folder = folder
        self.known: dict[Path, T] = {}
        self.pending: list[Path] = []
        self._reader = reader
        self._file = file
        self._signs: dict[Path, Found] = {}  # of each file that is known, as it was before it was read
        self._found: dict[Path, Found] = {}
        self._loaded = self._changed = False

    def look(self) -> None:
        """Look which files there are and which of them are new. Raises FileRefused, see `batch_files`."""
        if not self._loaded:
            self._load()
        self._found = {found.path: found for found in batch_files(self.folder)}
        gone = [path for path in self.known if path not in self._found]
        changed = [path for path, sign in self._signs.items() if self._found.get(path) != sign]
        for path in gone:
            del self.known[path]
        for path in changed:
            del self._signs[path]
        self._changed = self._changed or bool(changed)
        fresh = [found for found in self._found.values() if found.path not in self._signs]
        self.pending = [found.path for found in sorted(fresh, key=lambda found: found.mtime_ns)]

    def read(self, seconds: float = float("inf")) -> bool:
        """Read pending batches for so long, one at least, what was changed last first. Whether any is left."""
        end = time.monotonic() + seconds
        while self.pending:
            self._read(self.pending.pop())
            if time.monotonic() > end:
                break
        return bool(self.pending)

    def read_one(self, path: Path) -> None:
        """Read this batch now, if it is pending."""
        if path in self.pending:
            self.pending.remove(path)
            self._read(path)

    def _read(self, path: Path) -> None:
        self.known[path] = self._reader.read(path)
        self._signs[path] = self._found[path]
        self._changed = True

    def save(self) -> None:
        """Keep what is known for the next time, if any of it is new. Where that fails the next time takes longer."""
        if self._file is None or not self._changed:
            return
        rows = [[path.name, *sign[1:], self._reader.pack(self.known[path])] for path, sign in self._signs.items()]
        text = json.dumps([self._head(), rows], separators=(",", ":"))
        temporary = self._file.with_name(f"{self._file.name}.{os.getpid()}.tmp")
        with suppress(OSError):
            self._file.parent.mkdir(parents=True, exist_ok=True)
            temporary.write_text(f"{zlib.crc32(text.encode()):08x}\n{text}", "ascii")
            temporary.replace(self._file)
            self._changed = False
        with suppress(OSError):  # it is gone already, unless something failed
            temporary.unlink()

    def _head(self) -> list[str]:
        return [_FORMAT, self._reader.mark, os.fspath(self.folder)]

    def _load(self) -> None:
        """Take over what the file says. Its checksum tells whether it is whole, its head whether it can be used."""
        self._loaded = True
        if self._file is None:
            return
        try:
            if not self._file.is_file():  # a pipe would be waited for
                return
            check, _, text = self._file.read_text("ascii").partition("\n")
        except (OSError, UnicodeDecodeError):
            return
        if check != f"{zlib.crc32(text.encode()):08x}":
            return
        with suppress(*_ODD):  # whole, but of something else
            head, rows = json.loads(text)
            if head == self._head():
                self._take(rows)

    def _take(self, rows: list[Any]) -> None:
        """All of them or none: what cannot be understood raises one of the odd errors."""
        taken = {Found(self.folder / name, *sign): self._reader.unpack(packed) for name, *sign, packed in rows}
        self._signs = {sign.path: sign for sign in taken}
        self.known = {sign.path: told for sign, told in taken.items()}
