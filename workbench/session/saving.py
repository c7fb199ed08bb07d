"""Saving: whole versions only, never blind over another program's work, and never in the way of the screen."""

from __future__ import annotations

import errno
import os
import stat
import zlib
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

from workbench.errors import FileRefused, NotLasting, SaveFailed
from workbench.session.faults import FaultyFile, shown
from workbench.session.load import parsed, read_bytes

if TYPE_CHECKING:
    from collections.abc import Callable

__all__ = ["replace_whole", "temporary_prefix", "write_atomically", "write_beside"]

# File systems that know no such thing, and a directory that may be written to but not read.
_NO_DIRECTORY_SYNC = {errno.EINVAL, errno.ENOTSUP, errno.EBADF, errno.EACCES}


def write_atomically(path: str | os.PathLike[str], data: bytes, *, on_disk: bytes | None) -> None:
    """Write `data` so that at every moment the file is the whole old or the whole new version, and then is on the disk.

    `on_disk` is what was last read or written there; None for a new file. Raises SaveFailed, the old file untouched,
    where `data` is no TOML, where another program has changed the file, or where the system refuses; NotLasting where
    the new version stands there already and only the last step failed. A symlink stays one; mode and owner stay; a hard
    link is cut: its other name keeps the old version.
    """
    target = Path(os.path.realpath(path))
    name = shown(target.name, 255)
    _check_reads(data, name)

    def checked() -> os.stat_result | None:
        return _checked_old(target, name, data, on_disk)

    try:
        _swap_in(target, data, checked(), checked)
    except OSError as error:
        raise SaveFailed(f"{name} could not be saved: {error.strerror or error}") from None
    try:
        _sync_directory(target.parent)
    except OSError as error:
        raise NotLasting(f"{name} could not be saved for good: {error.strerror or error}") from None


def temporary_prefix(path: str | os.PathLike[str]) -> str:
    """How the names of this file's temporary files begin; they are in the same directory."""
    return f".workbench-{zlib.crc32(os.fsencode(Path(path).name)):08x}-"


def replace_whole(target: Path, data: bytes, like: os.stat_result) -> None:
    """Write a file that nobody edits, mode and owner as `like`; whole at every moment. Raises OSError."""
    _swap_in(target, data, like)
    _sync_directory(target.parent)


def write_beside(target: Path, data: bytes, *, ours: bytes | None) -> bool:
    """Write a file that is no session, whole at every moment; False, nothing written, where another's is there.

    `ours` is what this program put there before. Raises SaveFailed where the system refuses.
    """
    name = shown(target.name, 255)
    try:
        old = target.lstat() if os.path.lexists(target) else None
        if old is not None and (ours is None or not stat.S_ISREG(old.st_mode) or target.read_bytes() != ours):
            return False
        _swap_in(target, data, old)
        _sync_directory(target.parent)
    except OSError as error:
        raise SaveFailed(f"{name} could not be written: {error.strerror or error}") from None
    return True


def _swap_in(target: Path, data: bytes, old: os.stat_result | None, check: Callable[[], object] = lambda: None) -> None:
    """In place of what `old` describes; None: of nothing. `check` comes last, as writing takes long on a slow disk."""
    temporary = target.with_name(f"{temporary_prefix(target)}{os.urandom(6).hex()}.tmp")
    try:
        _write_new(temporary, data, old)
        check()
        if old is None:
            _put_where_nothing_is(temporary, target)
        else:
            temporary.replace(target)
    finally:  # it is gone already, unless something failed
        with suppress(OSError):
            temporary.unlink()


def _check_reads(data: bytes, name: str) -> None:
    """The last guard: never write what could not be read again."""
    try:
        parsed(data, name)
    except FaultyFile as error:
        raise SaveFailed(f"{name} was not saved, as it could not be read again: {error.faults[0]}") from None


def _checked_old(target: Path, name: str, data: bytes, on_disk: bytes | None) -> os.stat_result | None:
    """The status of the file to replace, None where there is none. Raises SaveFailed where it must not be replaced."""
    try:
        old = target.stat()
    except FileNotFoundError:
        return None
    if on_disk is None:
        raise SaveFailed(f"{name} is there already")
    if not stat.S_ISREG(old.st_mode):
        raise SaveFailed(f"{name} is no plain file any more")
    if not os.access(target, os.W_OK):
        raise SaveFailed(f"{name} may not be written to: change its permissions")
    try:
        found = read_bytes(target)
    except FileRefused as error:
        raise SaveFailed(str(error)) from None
    if found not in (on_disk, data):
        raise SaveFailed(f"{name} was changed by another program, and is not overwritten")
    return old


def _write_new(temporary: Path, data: bytes, old: os.stat_result | None) -> None:
    fd = os.open(temporary, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666 if old is None else 0o600)
    try:
        view = memoryview(data)
        while view:
            view = view[os.write(fd, view) :]
        if old is not None:
            with suppress(OSError):  # the owner first, as changing it may clear bits of the mode
                if (old.st_uid, old.st_gid) != (os.geteuid(), os.getegid()):
                    os.fchown(fd, old.st_uid, old.st_gid)
            with suppress(OSError):
                os.fchmod(fd, stat.S_IMODE(old.st_mode))
        os.fsync(fd)
    finally:
        os.close(fd)


def _put_where_nothing_is(temporary: Path, target: Path) -> None:
    """Give the file its name, unless something has got that name meanwhile."""
    try:
        target.hardlink_to(temporary)
    except FileExistsError:
        raise SaveFailed(f"{shown(target.name, 255)} is there already") from None
    except OSError:  # a file system without hard links
        temporary.rename(target)


def _sync_directory(directory: Path) -> None:
    """Make the new name last, where the file system can."""
    try:
        fd = os.open(directory, os.O_RDONLY | os.O_DIRECTORY)
        try:
            os.fsync(fd)
        finally:
            os.close(fd)
    except OSError as error:
        if error.errno not in _NO_DIRECTORY_SYNC:
            raise
