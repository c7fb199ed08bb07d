"""The command line. Nothing here imports Textual but to open the screen, and each command only what it needs."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from workbench.units.plainly import harmless

if TYPE_CHECKING:
    import argparse
    from collections.abc import Sequence
    from datetime import datetime

    from workbench.config import Config
    from workbench.plan.model import Plan
    from workbench.session.read import Outcome

__all__ = ["main"]

FINE, AT_FAULT, WRONG_USE = 0, 1, 2
_TERMINAL = "a terminal for keys and picture, and not TERM=dumb"
COMMANDS = ("demo", "sheet", "calendar", "table", "check", "new", "list")

SHORT_HELP = """\
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
        return _open(words)
    from workbench.arguments import parser

    options, more = parser().parse_known_args(words)
    if more:  # told here, as they may be names of files
        print(f"not understood: {harmless(' '.join(more))}", file=sys.stderr)
        return WRONG_USE
    if options.command is None:
        return _home(options)
    handlers = (_demo, _sheet, _calendar, _table, _check, _new, _list)
    return dict(zip(COMMANDS, handlers, strict=True))[options.command](options)


def _now() -> datetime:
    from datetime import UTC, datetime

    return datetime.now(UTC)


def _config() -> Config:
    from workbench.config import load_config

    return load_config()


def _home(options: argparse.Namespace) -> int:
    """No file named: the batches that there are."""
    folder = options.folder or _config().batches()
    if not _has_terminal():
        print(f"the screen needs {_TERMINAL}; without one: workbench list", file=sys.stderr)
        print(f"\n{SHORT_HELP}", end="", file=sys.stderr)
        return WRONG_USE
    return _screen(folder, home=True)


def _read(path: Path) -> Outcome:
    """What a session file says, with its faults and notes. Raises FileRefused where it cannot be read at all."""
    from workbench.session.faults import FaultyFile
    from workbench.session.load import load
    from workbench.session.model import Session
    from workbench.session.read import Outcome, read

    try:
        loaded = load(path)
    except FaultyFile as no_toml:
        return Outcome(Session(), no_toml.faults, ())
    outcome = read(loaded.data, loaded.text)
    return outcome._replace(notes=(*loaded.notes, *outcome.notes))


def _plan(path: Path, at: datetime | None, config: Config) -> Plan:
    from workbench.plan.derive import derive
    from workbench.session.faults import FaultyFile

    outcome = _read(path)
    if outcome.faults:
        raise FaultyFile(str(path), outcome.faults)
    if outcome.newer:
        print(outcome.newer.of(str(path)), file=sys.stderr)
    return derive(outcome.session, at or _now(), config.habits)


def _sheet(options: argparse.Namespace) -> int:
    config = _config()
    plan = _plan(options.file, options.at, config)
    form = "json" if options.json else "markdown" if options.markdown else "text"
    print(_in_form(form, plan, options.file, config), end="")
    return AT_FAULT if any(warning.code == "newer-format" for warning in plan.warnings) else FINE


def _in_form(form: str, plan: Plan, path: Path, config: Config) -> str:
    from workbench.forms import Wanted, written

    return written(form, Wanted(plan, path.name, config.units, config.comma, config.habits))


def _calendar(options: argparse.Namespace) -> int:
    config = _config()
    text = _in_form("calendar", _plan(options.file, options.at, config), options.file, config)
    _as_written()
    print(text, end="")
    return FINE


def _table(options: argparse.Namespace) -> int:
    import csv

    from workbench.errors import WorkbenchError
    from workbench.table import HEADER, lines

    config, code = _config(), FINE
    _as_written()
    table = csv.writer(sys.stdout)
    table.writerow(HEADER)
    for path in options.file:
        try:
            table.writerows(lines(_plan(path, None, config), str(path), config.habits))
        except WorkbenchError as error:  # that file; the others still count
            print(error, file=sys.stderr)
            code = AT_FAULT
    return code


def _as_written() -> None:
    """For files of a standard: UTF-8 and line ends as they are, whatever this machine's own are."""
    if hasattr(sys.stdout, "reconfigure"):
        sys.stdout.reconfigure(encoding="utf-8", errors="replace", newline="")


def _check(options: argparse.Namespace) -> int:
    from workbench.errors import FileRefused

    count = 0
    for path in options.file:
        try:
            outcome = _read(path)
        except FileRefused as error:
            print(error)
            count += 1
            continue
        faults = outcome.faults or ((outcome.newer,) if outcome.newer else ())  # what is newer cannot be vouched for
        count += len(faults)
        for fault in faults:
            print(fault.of(str(path)))
        for note in (note for note in outcome.notes if note not in faults):
            print(f"{note.of(str(path))} (no fault)")
    if count:
        print(f"{count} fault{'s' if count > 1 else ''}", file=sys.stderr)
    return AT_FAULT if count else FINE


def _new(options: argparse.Namespace) -> int:
    from workbench.session.folder import make
    from workbench.session.fresh import safe_file_name

    if options.slurry is not None and options.source is None:
        print("--slurry needs to know of which beer: give its file with --from", file=sys.stderr)
        return WRONG_USE
    is_path = options.name.endswith(".toml")
    if is_path and options.folder and Path(options.name).is_absolute():
        print("NAME says where to put it already: leave --folder out", file=sys.stderr)
        return WRONG_USE
    config = _config()
    if is_path:
        path = (options.folder or Path()) / options.name
        name = path.stem
    else:
        path = (options.folder or config.batches()) / safe_file_name(options.name)
        name = options.name
    make(path, _next(options, name, config) if options.source else _fresh(name, config, shelf=options.shelf))
    print(harmless(str(path)))
    return FINE


def _fresh(name: str, config: Config, *, shelf: bool = False) -> str:
    """The text of a new session with the brewer's usual flask and wort."""
    from workbench.session.fresh import fresh_text

    return fresh_text(name, flask=config.flask, wort=config.wort, shelf=shelf)


def _next(options: argparse.Namespace, name: str, config: Config) -> str:
    """The text of a new session grown from another. Raises NothingKept where that one has nothing to grow from."""
    from workbench.plan.next_batch import next_text
    from workbench.session.load import load

    source: Path = options.source
    plan = _plan(source, None, config)
    return next_text(plan, load(source).data, name, source.name, shelf=options.shelf, slurry=options.slurry)


def _list(options: argparse.Namespace) -> int:
    from workbench.listing import index_of, lines

    config = _config()
    folder = options.folder or config.batches()
    index = index_of(folder, config.habits)
    index.look()
    index.read()
    index.save()
    if not index.known:
        print(f"no batches in {harmless(str(folder))}: workbench new NAME makes one", file=sys.stderr)
    for line in lines(index, _now()):
        print(line)
    return FINE


def _demo(options: argparse.Namespace) -> int:
    from workbench import demo
    from workbench.errors import WorkbenchError

    name = options.name or demo.DEFAULT
    if name not in demo.names():
        raise WorkbenchError(f"there is no demo {name!r}: there are {', '.join(demo.names())}")
    path = demo.scratch_copy(name, _now())
    if _has_terminal():
        return _screen(path, demo=True)
    config = _config()
    print(_in_form("text", _plan(path, None, config), path, config), end="")
    print(f"\nThis was the sheet. On a terminal, `workbench {path}` opens the screen.")
    return FINE


def _has_terminal() -> bool:
    """All three: keys are read from the first, the screen is drawn on the last."""
    streams = (sys.stdin, sys.stdout, sys.stderr)
    return all(stream is not None and stream.isatty() for stream in streams) and os.environ.get("TERM", "") != "dumb"


def _open(words: list[str]) -> int:
    path = Path(words[0])
    if not path.exists() and not path.suffix:
        path = path.with_suffix(".toml")
    if len(words) > 1:
        print(f"one FILE, or a command: {', '.join(COMMANDS)}", file=sys.stderr)
        return WRONG_USE
    if not _has_terminal():
        print(f"the screen needs {_TERMINAL}; without one: workbench sheet {harmless(str(path))}", file=sys.stderr)
        return WRONG_USE
    if not path.exists() and not _offer(path):
        return AT_FAULT
    return _screen(path)


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

    config = _config()
    if not _is_first():  # else it is made once the usual flask and wort are known
        make(path, _fresh(path.stem, config))
    return True


def _is_first() -> bool:
    """Whether there are no settings yet."""
    from workbench.config import config_path

    path = config_path()
    return not path.exists() and not path.is_symlink()


def _screen(path: Path, *, demo: bool = False, home: bool = False) -> int:
    print(f"opening {harmless(path.name)} ...", flush=True)
    import gc

    gc.disable()  # till the screen stands: nothing goes away before, and looking for it costs a tenth of the start
    from workbench.app import run

    if not home:
        import workbench.screens.bench  # noqa: F401 - now, while it is not looked for
    from workbench.config import config_path

    first = config_path() if not demo and _is_first() else None
    return run(path, _config(), demo=demo, home=home, first=first)
