"""What lies beside a batch's file: the version that was opened, what could not be saved, what a crash left over."""

from __future__ import annotations

import os
import re
import tempfile
from contextlib import suppress
from itertools import count
from pathlib import Path

from workbench.errors import FileRefused, SaveFailed
from workbench.session.fresh import ASIDE
from workbench.session.load import read_bytes
from workbench.session.saving import replace_whole, temporary_prefix, write_atomically
from workbench.session.unfinished import line_path

__all__ = ["aside_of", "asides", "backup_path", "free_aside", "keep_backup", "set_aside", "sweep"]


def backup_path(path: str | os.PathLike[str]) -> Path:
    """Where the version that was opened is kept: the file's whole name and `.bak`, beside the file itself."""
    return Path(f"{os.path.realpath(path)}.bak")


def keep_backup(path: str | os.PathLike[str], opened: bytes) -> None:
    """Keep the version that was opened, which reads without a fault. Where that cannot be, saving will tell of it."""
    backup = backup_path(path)
    with suppress(OSError, FileRefused):
        if os.path.lexists(backup) and read_bytes(backup) == opened:
            return
    with suppress(OSError):
        replace_whole(backup, opened, Path(path).stat())


def sweep(path: str | os.PathLike[str]) -> None:
    """Take away what was left of saving this very batch, and its backup, when the program was killed at it.

    To be called before anything is saved. Should another program be saving just now, it will find its file gone and
    save again.
    """
    target = Path(os.path.realpath(path))
    prefixes = tuple(map(temporary_prefix, (target, backup_path(target), line_path(target))))
    with suppress(OSError), os.scandir(target.parent) as entries:
        for entry in entries:
            if entry.name.startswith(prefixes) and entry.name.endswith(".tmp"):
                with suppress(OSError):
                    Path(entry.path).unlink()


def aside_of(name: str) -> str:
    """The file name of the batch that a file of this name was put aside of; "" where it is a batch like others.

    >>> aside_of("alder.mine-2.toml")
    'alder.toml'
    """
    found = re.fullmatch(rf"(.+){ASIDE}\.toml", name)
    return f"{found[1]}.toml" if found else ""


def asides(path: str | os.PathLike[str]) -> list[Path]:
    """What was put aside of a batch and lies beside it still."""
    target = Path(os.path.realpath(path))
    begins = f"{target.stem}."  # asked first: a folder may hold years of batches
    with suppress(OSError), os.scandir(target.parent) as entries:
        lying = [entry for entry in entries if entry.name.startswith(begins) and aside_of(entry.name) == target.name]
        return sorted(Path(entry.path) for entry in lying)
    return []


def free_aside(path: str | os.PathLike[str], folder: Path | None = None) -> Path:
    """Where to put a version that is not to replace `path`: NAME.mine.toml beside it, or in `folder`.

    With a number where there is such a file already.
    """
    target = Path(os.path.realpath(path))
    names = (f"{target.stem}.mine{'' if n == 1 else f'-{n}'}.toml" for n in count(1))
    return next(aside for aside in map((folder or target.parent).joinpath, names) if not os.path.lexists(aside))


def set_aside(path: str | os.PathLike[str], data: bytes) -> Path | None:
    """Put what cannot be saved as `path` aside, beside it, else among the temporary files.

    A file that is there is never replaced. None where it cannot be put anywhere.
    """
    for folder in (None, Path(tempfile.gettempdir())):
        aside = free_aside(path, folder)
        with suppress(SaveFailed):
            write_atomically(aside, data, on_disk=None)
            return aside
    return None
