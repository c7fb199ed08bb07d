"""From the command line to the screen, which alone imports Textual; where there is no terminal, what to do instead."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from workbench import commands
from workbench.exits import AT_FAULT, FINE, WRONG_USE
from workbench.units.plainly import harmless

if TYPE_CHECKING:
    import argparse

__all__ = ["demo", "file", "home"]

_TERMINAL = "a terminal for keys and picture, and not TERM=dumb"
_SHORT_HELP = """\
workbench                      your batches on the screen, and what each waits for
workbench FILE                 open a batch on the screen (if there is none, offers to make it)
workbench demo [NAME]          open a scratch copy of a demo batch
workbench sheet FILE           the plan as a page of text (--json, --markdown, --at TIME)
workbench calendar FILE        its tasks for your calendar, as iCalendar (--at TIME)
workbench table FILE...        planned and measured, a line for each feeding, as CSV
workbench check FILE...        what is wrong in session files, a line each
workbench list                 the batches of your folder, and what each waits for
workbench new NAME             make a session file (--shelf: a build for the fridge; --from FILE: what that one kept)
"""


def home(options: argparse.Namespace) -> int:
    """No file named: the batches that there are."""
    folder = options.folder or commands.settings().batches()
    if not _has_terminal():
        print(f"the screen needs {_TERMINAL}; without one: workbench list", file=sys.stderr)
        print(f"\n{_SHORT_HELP}", end="", file=sys.stderr)
        return WRONG_USE
    return _screen(folder, folder=True)


def file(name: str) -> int:
    """That batch; where there is none it may be made."""
    path = Path(name)
    if not path.exists() and not path.suffix:
        path = path.with_suffix(".toml")
    if not _has_terminal():
        print(f"the screen needs {_TERMINAL}; without one: workbench sheet {harmless(str(path))}", file=sys.stderr)
        return WRONG_USE
    if not path.exists() and not _offer(path):
        return AT_FAULT
    return _screen(path)


def demo(options: argparse.Namespace) -> int:
    """A scratch copy of a demo batch."""
    from workbench.demo import DEFAULT, names, scratch_copy
    from workbench.errors import WorkbenchError

    name = options.name or DEFAULT
    if name not in names():
        raise WorkbenchError(f"there is no demo {name!r}: there are {', '.join(names())}")
    path = scratch_copy(name, commands.now())
    if _has_terminal():
        return _screen(path, scratch=True)
    config = commands.settings()
    print(commands.in_form("text", commands.plan_of(path, None, config), path, config), end="")
    print(f"\nThis was the sheet. On a terminal, `workbench {path}` opens the screen.")
    return FINE


def _offer(path: Path) -> bool:
    """Ask whether to make a file that is not there, and make it."""
    try:
        answer = input(f"There is no {harmless(str(path))}. Make it? [y/N] ")
    except EOFError:  # Ctrl-D
        print()
        answer = ""
    if answer.strip().casefold() not in {"y", "yes"}:
        return False
    from workbench.session.folder import make

    if not _is_first():  # else it is made once the usual flask and wort are known
        make(path, commands.fresh(path.stem, commands.settings()))
    return True


def _screen(path: Path, *, scratch: bool = False, folder: bool = False) -> int:
    print(f"opening {harmless(path.name)} ...", flush=True)
    import gc

    gc.disable()  # till the screen stands: nothing goes away before, and looking for it costs a tenth of the start
    from workbench.app import run

    if not folder:
        import workbench.screens.bench  # noqa: F401 - now, while it is not looked for
    from workbench.config import config_path

    first = config_path() if not scratch and _is_first() else None
    return run(path, commands.settings(), demo=scratch, home=folder, first=first)


def _is_first() -> bool:
    """Whether there are no settings yet."""
    from workbench.config import config_path

    path = config_path()
    return not path.exists() and not path.is_symlink()


def _has_terminal() -> bool:
    """All three: keys are read from the first, the screen is drawn on the last."""
    streams = (sys.stdin, sys.stdout, sys.stderr)
    return all(stream is not None and stream.isatty() for stream in streams) and os.environ.get("TERM", "") != "dumb"
