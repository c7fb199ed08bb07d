"""Who may write a batch: a lock on a file of its own beside it, `.alder.toml.lock`, which the system frees at any end.

The lock file is never deleted and nothing is renamed over it: a lock on a file that loses its name is no lock. What
stands in it, who holds it, is for the message only. Network disks may not lock at all; there the content of the batch,
compared before each save, still keeps one program's work from the other's.
"""

from __future__ import annotations

import fcntl
import os
import signal
import stat
import time
import tomllib
from contextlib import contextmanager, suppress
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from workbench.errors import SaveFailed
from workbench.units.plainly import harmless

if TYPE_CHECKING:
    from collections.abc import Iterator

__all__ = ["Holder", "Lock", "alone", "ask_to_leave", "holder", "lock_path"]

_TRIES, _PAUSE_S = 3, 0.02  # somebody may be about to leave, or only asking
_LONGEST = 2000  # bytes that are read of a lock file
_LOCKS = Path("/proc/locks")  # where Linux tells who holds what


class Holder(NamedTuple):
    """Who edits a batch: process, machine, person, since when."""

    pid: int
    host: str
    user: str
    since: datetime


class Lock:
    """The right to write one batch, while it is `held`."""

    def __init__(self, path: str | os.PathLike[str]) -> None:
        self._batch = Path(os.path.realpath(path))
        self._fd = -1

    @property
    def held(self) -> bool:
        """Whether this program has it."""
        return self._fd >= 0

    def take(self, now: datetime | None = None) -> bool:
        """Whether it is held from now on; False where another terminal has it. Raises SaveFailed where none can be."""
        if self.held:
            return True
        try:
            fd = os.open(lock_path(self._batch), os.O_RDWR | os.O_CREAT | os.O_NOFOLLOW, 0o600)
        except OSError as error:
            raise SaveFailed(f"{harmless(self._batch.name)} cannot be edited: its lock: {error.strerror}") from None
        if not _locked(fd):
            os.close(fd)
            return False
        self._fd = fd
        with suppress(OSError):  # who may write the batch may lock it
            os.fchmod(fd, stat.S_IMODE(self._batch.stat().st_mode) & 0o666)
        self._tell(_oneself(now or datetime.now(UTC)))
        return True

    def release(self) -> None:
        """Leave it to others."""
        if self.held:
            self._tell("")
            os.close(self._fd)
            self._fd = -1

    def _tell(self, text: str) -> None:
        with suppress(OSError):  # a full disk: nobody learns who it is, and that is all
            os.ftruncate(self._fd, 0)
            os.pwrite(self._fd, text.encode(), 0)


@contextmanager
def alone(path: str | os.PathLike[str]) -> Iterator[None]:
    """While a batch is moved or rewritten as a whole. Raises SaveFailed where it is open in another terminal."""
    lock, name = Lock(path), harmless(Path(path).name)
    if not lock.take():
        by = holder(path)
        who = "" if by is None else f" ({harmless(f'{by.user}@{by.host}')})"
        raise SaveFailed(f"{name} is open in another terminal{who}: leave it there first")
    try:
        yield
    finally:
        lock.release()


def lock_path(path: str | os.PathLike[str]) -> Path:
    """The lock file of a batch, beside the file itself."""
    target = Path(os.path.realpath(path))
    return target.with_name(f".{target.name}.lock")


def holder(path: str | os.PathLike[str]) -> Holder | None:
    """Who holds a batch, as far as it can be told without touching the lock; None where nobody seems to."""
    try:
        fd = os.open(lock_path(path), os.O_RDONLY | os.O_NONBLOCK | os.O_NOFOLLOW)
        with os.fdopen(fd, "rb") as stream:
            told = tomllib.loads(stream.read(_LONGEST).decode())
        found = Holder(int(told["pid"]), str(told["host"]), str(told["user"]), told["since"].astimezone(UTC))
    except (OSError, ValueError, KeyError, TypeError, AttributeError):  # none, or one that is just being written
        return None
    return found if found.pid > 0 and (found.host != _host() or _lives(found.pid)) else None


def ask_to_leave(path: str | os.PathLike[str]) -> str:
    """Ask the program that holds a batch, stopped or not, to save and leave; "", or why it cannot be asked."""
    found = holder(path)
    if found is None:
        return ""
    if found.host != _host():
        return f"it is open on {found.host}: leave it there, or take over from a terminal of that machine"
    if found.pid == os.getpid() or not _holds(found.pid, lock_path(path)):
        return "who holds it cannot be told for sure: leave it there"
    try:
        os.kill(found.pid, signal.SIGTERM)
        if _stopped(found.pid):
            os.kill(found.pid, signal.SIGCONT)
    except ProcessLookupError:
        return ""
    except OSError:
        return f"{found.user} holds it: only the same user can take over"
    return ""


def _locked(fd: int) -> bool:
    """Whether the lock was got; also where the disk knows no locks, so that nobody can be asked."""
    for _ in range(_TRIES):
        try:
            fcntl.flock(fd, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            time.sleep(_PAUSE_S)
        except OSError:
            return True
        else:
            return True
    return False


def _oneself(now: datetime) -> str:
    import pwd

    try:
        user = pwd.getpwuid(os.geteuid()).pw_name
    except KeyError:
        user = str(os.geteuid())
    since = now.astimezone(UTC).replace(microsecond=0).isoformat()
    return f'pid = {os.getpid()}\nhost = "{_host()}"\nuser = "{_plain(user)}"\nsince = {since}\n'


def _plain(name: str) -> str:
    """A name as it can stand in quotes."""
    return "".join(c for c in name if c.isalnum() or c in "-_.@")


def _host() -> str:
    return _plain(os.uname().nodename)


def _lives(pid: int) -> bool:
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    except OSError:  # another user's
        return True
    return True


def _holds(pid: int, path: Path) -> bool:
    """Whether this process holds the lock now; where the system does not tell, whether it lives."""
    try:
        lines, inode = _LOCKS.read_text().splitlines(), path.stat().st_ino
    except OSError:
        return _lives(pid)
    held = (line.split() for line in lines if " FLOCK " in line and " WRITE " in line)
    return any(words[4] == str(pid) and words[5].endswith(f":{inode}") for words in held if len(words) > 5)


def _stopped(pid: int) -> bool:
    """Whether a process stands still, as by ctrl+z; where the system does not tell, that it may."""
    try:
        return Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0] == "T"
    except OSError:
        return True
