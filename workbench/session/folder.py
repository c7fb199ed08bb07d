"""The folder of batches: which of its files are batches; making one, putting one away, bringing it back."""

from __future__ import annotations

import os
import stat
from contextlib import suppress
from pathlib import Path
from typing import NamedTuple

from workbench.errors import FileRefused, SaveFailed
from workbench.session.faults import shown
from workbench.session.lock import alone
from workbench.session.moving import move
from workbench.session.saving import write_atomically

__all__ = ["ARCHIVE", "Found", "archive", "batch_files", "bring_back", "make", "short"]

ARCHIVE = "archive"
"""The folder inside the folder of batches where they are put away; what lies there is not listed with the others."""


def short(path: Path) -> str:
    """A path as it is told, from the home folder on where it lies in that."""
    try:
        return str(Path("~") / path.relative_to(Path.home()))
    except (ValueError, RuntimeError):
        return str(path)


class Found(NamedTuple):
    """A file as it lies there: whatever changes it changes one of these."""

    path: Path
    size: int
    mtime_ns: int
    inode: int
    ctime_ns: int  # also of what may be read, and of a file whose time was set back


def batch_files(folder: Path) -> list[Found]:
    """The batches of a folder, in no order: plain files NAME.toml, hidden ones left out; none where there is no folder.

    Raises FileRefused where the folder cannot be looked into.
    """
    found: list[Found] = []
    try:
        with os.scandir(folder) as entries:
            for entry in entries:
                if entry.name.endswith(".toml") and not entry.name.startswith("."):
                    with suppress(OSError):  # gone since, or a link that leads nowhere: no matter to the others
                        found += _found(folder / entry.name, entry)
    except FileNotFoundError:
        return []
    except OSError as error:
        raise FileRefused(f"{shown(os.fspath(folder), 4096)}: cannot be looked into: {error.strerror}") from None
    return found


def _found(path: Path, entry: os.DirEntry[str]) -> list[Found]:
    """One, or none where it is no plain file. Raises OSError."""
    status = entry.stat()
    sign = Found(path, status.st_size, status.st_mtime_ns, status.st_ino, status.st_ctime_ns)
    return [sign] if stat.S_ISREG(status.st_mode) else []


def make(path: Path, text: str) -> None:
    """Write a new session file, and its folder where that is missing. Raises SaveFailed where there is one already."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise SaveFailed(f"{shown(str(path.parent), 4096)}: cannot be made: {error.strerror}") from None
    write_atomically(path, text.encode(), on_disk=None)


def archive(path: Path) -> Path:
    """Put a batch away: its new path, beside others of its name where the archive has any.

    Raises SaveFailed, also where it is open in another terminal.
    """
    place = path.parent / ARCHIVE
    names = (path.name, *(f"{path.stem}-{n}.toml" for n in range(2, 1000)))
    target = next((place / name for name in names if not os.path.lexists(place / name)), place / path.name)
    with alone(path):
        try:
            place.mkdir(exist_ok=True)
        except OSError as error:
            raise SaveFailed(f"{shown(str(place), 4096)}: cannot be made: {error.strerror}") from None
        move(path, target)
    return target


def bring_back(archived: Path, path: Path) -> None:
    """Undo `archive`. Raises SaveFailed where another batch has taken its place meanwhile."""
    move(archived, path)
