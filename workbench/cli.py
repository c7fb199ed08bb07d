"""The command line: which command is meant, its exit code, and what is said where it cannot go on."""

from __future__ import annotations

import os
import sys
from typing import TYPE_CHECKING

from workbench.exits import AT_FAULT, FINE, WRONG_USE
from workbench.units.plainly import harmless

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = ["main"]

COMMANDS = ("demo", "sheet", "calendar", "table", "check", "new", "list")


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code: 0 fine, 1 the input is at fault, 2 wrong use or no terminal."""
    words = list(sys.argv[1:] if argv is None else argv)
    _soften_output()
    from workbench.errors import WorkbenchError

    try:
        return _flushed(_run(words))
    except WorkbenchError as error:
        print("\n".join(map(harmless, str(error).split("\n"))), file=sys.stderr)
        return AT_FAULT
    except BrokenPipeError:  # the reader of our output has left, `| head`
        _drop_output()
        return FINE
    except OSError as error:  # a full disk behind our output, a folder that cannot be made
        _drop_output()
        print(f"cannot go on: {error.strerror or error}", file=sys.stderr)
        return AT_FAULT
    except KeyboardInterrupt:
        return 130


def _flushed(code: int) -> int:
    """The code, once all output is out: a full disk behind it then still is an error that can be told."""
    sys.stdout.flush()
    return code


def _drop_output() -> None:
    """Nothing more can be written; what is left in the buffer must not fail once more at the end."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _soften_output() -> None:
    """A sign that the terminal cannot show becomes `?`, not an error."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")


def _run(words: list[str]) -> int:
    if words and words[0] not in COMMANDS and not words[0].startswith("-"):
        from workbench import opening

        if len(words) > 1:
            print(f"one FILE, or a command: {', '.join(COMMANDS)}", file=sys.stderr)
            return WRONG_USE
        return opening.file(words[0])
    from workbench.arguments import parser

    options, more = parser().parse_known_args(words)
    if more:  # told here, as they may be names of files
        print(f"not understood: {harmless(' '.join(more))}", file=sys.stderr)
        return WRONG_USE
    from workbench import commands, opening

    handlers = {
        "demo": opening.demo,
        "sheet": commands.sheet,
        "calendar": commands.calendar,
        "table": commands.table,
        "check": commands.check,
        "new": commands.new,
        "list": commands.listed,
    }
    return handlers.get(options.command, opening.home)(options)
