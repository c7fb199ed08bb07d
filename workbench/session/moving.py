"""Another path for a batch's file, never that of another file, and what lies beside the batch along with it."""

from __future__ import annotations

import os
import re
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

from workbench.errors import SaveFailed
from workbench.session.faults import shown
from workbench.session.fresh import ASIDE

if TYPE_CHECKING:
    from collections.abc import Iterator

__all__ = ["is_other_spelling", "move"]

# The version that was opened, those of older formats, what was put aside, the line that was being typed.
_BESIDE = rf"\.toml(\.v\d+)?\.bak|{ASIDE}\.toml|\.toml\.line"


def move(source: Path, target: Path, *, over: bool = False) -> None:
    """Another path for a batch, never that of another file unless `over`. Raises SaveFailed.

    What lies beside it goes along, so far as nothing is replaced. A link goes without: all that lies beside its file.
    """
    try:
        if not over:
            _move_where_nothing_is(source, target)
        else:
            source.rename(target)
    except FileExistsError:
        raise SaveFailed(f"{shown(target.name, 255)} is there already") from None
    except OSError as error:
        raise SaveFailed(f"{shown(source.name, 255)} could not be moved: {error.strerror or error}") from None
    if not target.is_symlink():
        for lying, there in list(_beside(source, target)):
            with suppress(OSError):  # it stays where it is, and nothing is lost
                _move_where_nothing_is(lying, there)


def is_other_spelling(path: Path, target: Path) -> bool:
    """Whether both are one entry of their folder, as where letters' case does not count; two links are two."""
    try:
        return os.path.lexists(target) and target.name not in os.listdir(path.parent)  # noqa: PTH208 - names alone
    except OSError:
        return False


def _beside(source: Path, target: Path) -> Iterator[tuple[Path, Path]]:
    """What lies beside a batch, and where it is to lie."""
    pattern = re.compile(rf"(\.?){re.escape(source.stem)}({_BESIDE})")
    with suppress(OSError):
        for lying in source.parent.iterdir():
            if match := pattern.fullmatch(lying.name):
                yield lying, target.with_name(f"{match[1]}{target.stem}{match[2]}")


def _move_where_nothing_is(source: Path, target: Path) -> None:
    """By a second name, so that a file which appears meanwhile is not replaced. Raises FileExistsError, OSError."""
    if os.path.lexists(target):
        raise FileExistsError
    try:
        if source.is_symlink():
            target.symlink_to(_led_to(source, target.parent))
        else:
            target.hardlink_to(source)
    except FileExistsError:
        raise
    except (OSError, NotImplementedError):  # a file system without links
        source.rename(target)
    else:
        source.unlink()


def _led_to(link: Path, folder: Path) -> Path:
    """What a link has to say in another folder to lead to the same file."""
    to = link.readlink()
    if to.is_absolute() or folder == link.parent:
        return to
    return Path(os.path.relpath(link.parent.resolve() / to, folder.resolve()))
