"""The command line. Nothing here imports Textual but to open the screen, and each command only what it needs."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

from workbench import __version__
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
COMMANDS = ("demo", "sheet", "check", "new", "list")
TO_COME = ("calendar", "table")  # named by the format, built later

SHORT_HELP = """\
workbench                      your batches on the screen, and what each waits for
workbench FILE                 open a batch on the screen (if there is none, offers to make it)
workbench demo [NAME]          open a scratch copy of a demo batch
workbench sheet FILE           the plan as a page of text (--json, --markdown, --at TIME)
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
    if words and words[0] in TO_COME:
        print(f"workbench {words[0]} is not built yet", file=sys.stderr)
        return WRONG_USE
    if words and words[0] not in COMMANDS and not words[0].startswith("-"):
        return _open(words)
    options, more = _parser().parse_known_args(words)
    if more:  # told here, as they may be names of files
        print(f"not understood: {harmless(' '.join(more))}", file=sys.stderr)
        return WRONG_USE
    if options.command is None:
        return _home(options)
    handlers = {"demo": _demo, "sheet": _sheet, "check": _check, "new": _new, "list": _list}
    return handlers[options.command](options)


def _parser() -> argparse.ArgumentParser:
    import argparse

    parser = argparse.ArgumentParser(
        prog="workbench",
        description="Grow enough live yeast for the hour the beer is ready for it.",
        epilog="workbench FILE opens that batch on the screen; a file named like a command is opened as ./FILE.",
        usage="workbench [--folder FOLDER | FILE | COMMAND ...]",
    )
    parser.add_argument("--version", action="version", version=f"workbench {__version__}")
    parser.add_argument("--folder", type=Path, help="the folder of batches; left out: as the settings say")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", prog="workbench")
    demo = commands.add_parser("demo", help="open a scratch copy of a demo batch")
    demo.add_argument("name", nargs="?", help="which; left out: the plain ale")
    sheet = commands.add_parser("sheet", help="the plan as a page of text")
    sheet.add_argument("file", type=Path)
    form = sheet.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="one object, full precision, units in the keys")
    form.add_argument("--markdown", action="store_true", help="a Markdown page")
    sheet.add_argument("--at", metavar="TIME", type=_moment, help="take this as now: 2026-11-27T15:00:00+01:00")
    check = commands.add_parser("check", help="what is wrong in session files, a line each")
    check.add_argument("file", type=Path, nargs="+")
    new = commands.add_parser("new", help="make a session file")
    new.add_argument("name", help="the batch's name, or the path of its file")
    new.add_argument("--shelf", action="store_true", help="a build for the fridge, without a beer")
    new.add_argument("--from", dest="source", metavar="FILE", type=Path, help="grown from what that batch keeps")
    new.add_argument(
        "--slurry", metavar="VOLUME", type=_volume, help='from slurry of that beer, harvested today: "200 mL"'
    )
    unless_before: dict[str, Any] = {
        "type": Path,
        "default": argparse.SUPPRESS,
    }  # --folder may stand before the command
    new.add_argument("--folder", help="where to put it; left out: the folder of batches", **unless_before)
    listed = commands.add_parser("list", help="the batches of the folder, in order of what they wait for")
    listed.add_argument("--folder", help="of this folder; left out: the folder of batches", **unless_before)
    return parser


def _moment(text: str) -> datetime:
    """A time as ISO 8601; without an offset it is local."""
    from argparse import ArgumentTypeError
    from datetime import datetime

    try:
        at = datetime.fromisoformat(text)
    except ValueError:
        raise ArgumentTypeError(f"{text!r} is no time: write for example 2026-11-27T15:00:00+01:00") from None
    if not 1900 <= at.year <= 2199:
        raise ArgumentTypeError(f"the year {at.year} is out of range: 1900 to 2199")
    return at if at.tzinfo is not None else at.astimezone()


def _volume(text: str) -> str:
    """A volume of slurry as typed, once it is known to be one."""
    from argparse import ArgumentTypeError

    from workbench.errors import QuantityError
    from workbench.session.fields import field_of

    try:
        field_of("yeast.0.volume").from_typed(text, _now(), None)
    except QuantityError as error:
        raise ArgumentTypeError(str(error)) from None
    return text


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
        print("the screen needs a terminal; without one: workbench list", file=sys.stderr)
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
    return derive(outcome.session, at or _now(), config.habits)


def _sheet(options: argparse.Namespace) -> int:
    config = _config()
    plan = _plan(options.file, options.at, config)
    if options.json:
        import json

        from workbench.plan.export import as_data

        print(json.dumps(as_data(plan), indent=2, allow_nan=False))
        return FINE
    print(_printed(plan, config, markdown=options.markdown), end="")
    return FINE


def _printed(plan: Plan, config: Config, *, markdown: bool) -> str:
    from workbench.paper import as_markdown, as_text
    from workbench.sheet import page

    sheet = page(plan, config.units, comma=config.comma)
    return as_markdown(sheet) if markdown else as_text(sheet)


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
        count += len(outcome.faults)
        for fault in outcome.faults:
            print(fault.of(str(path)))
        for note in outcome.notes:
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
    print(_printed(_plan(path, None, config), config, markdown=False), end="")
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
        text = f"the screen needs a terminal; without one: workbench sheet {harmless(str(path))}"
        print(text, file=sys.stderr)
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

    make(path, _fresh(path.stem, _config()))
    return True


def _screen(path: Path, *, demo: bool = False, home: bool = False) -> int:
    print(f"opening {harmless(path.name)} ...", flush=True)
    import gc

    gc.disable()  # nothing that is imported goes away again: looking for it costs a tenth of the start
    from workbench.app import run

    if not home:
        import workbench.screens.bench  # noqa: F401 - now, while it is not looked for
    gc.freeze()
    gc.enable()
    return run(path, demo=demo, home=home, config=_config())
