"""The commands that need no screen; each imports only what it needs. What they take are `arguments`."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

from workbench.exits import AT_FAULT, FINE, WRONG_USE
from workbench.units.plainly import harmless

if TYPE_CHECKING:
    import argparse
    from datetime import datetime

    from workbench.config import Config
    from workbench.plan.model import Plan
    from workbench.session.read import Outcome

__all__ = [
    "calendar",
    "check",
    "fresh",
    "in_form",
    "listed",
    "new",
    "now",
    "plan_of",
    "settings",
    "sheet",
    "table",
]


def now() -> datetime:
    """What the clock on the wall says."""
    from datetime import UTC, datetime

    return datetime.now(UTC)


def settings() -> Config:
    """The brewer's own."""
    from workbench.config import load_config

    return load_config()


def sheet(options: argparse.Namespace) -> int:
    """The plan as a page of text."""
    config = settings()
    plan = plan_of(options.file, options.at, config)
    form = "json" if options.json else "markdown" if options.markdown else "text"
    print(in_form(form, plan, options.file, config), end="")
    return _code(plan)


def calendar(options: argparse.Namespace) -> int:
    """What is still to be done, for a calendar."""
    config = settings()
    plan = plan_of(options.file, options.at, config)
    text = in_form("calendar", plan, options.file, config)
    _as_written()
    print(text, end="")
    return _code(plan)


def table(options: argparse.Namespace) -> int:
    """Planned and measured, a line for each feeding."""
    import csv

    from workbench.errors import WorkbenchError
    from workbench.table import HEADER, lines

    config, code = settings(), FINE
    _as_written()
    table = csv.writer(sys.stdout)
    table.writerow(HEADER)
    for path in options.file:
        try:
            plan = plan_of(path, None, config)
            table.writerows(lines(plan, str(path), config.habits))
            code = max(code, _code(plan))
        except WorkbenchError as error:  # that file; the others still count
            print(error, file=sys.stderr)
            code = AT_FAULT
    return code


def check(options: argparse.Namespace) -> int:
    """What is wrong, a line each."""
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


def new(options: argparse.Namespace) -> int:
    """A new session file."""
    from workbench.session.folder import make
    from workbench.session.fresh import safe_file_name

    if options.slurry is not None and options.source is None:
        print("--slurry needs to know of which beer: give its file with --from", file=sys.stderr)
        return WRONG_USE
    is_path = options.name.endswith(".toml")
    if is_path and options.folder and Path(options.name).is_absolute():
        print("NAME says where to put it already: leave --folder out", file=sys.stderr)
        return WRONG_USE
    config = settings()
    if is_path:
        path = (options.folder or Path()) / options.name
        name = path.stem
    else:
        path = (options.folder or config.batches()) / safe_file_name(options.name)
        name = options.name
    make(path, _next(options, name, config) if options.source else fresh(name, config, shelf=options.shelf))
    print(harmless(str(path)))
    return FINE


def listed(options: argparse.Namespace) -> int:
    """The batches of a folder, in order of what they wait for."""
    from workbench.listing import index_of, lines

    config = settings()
    folder = options.folder or config.batches()
    index = index_of(folder, config.habits)
    index.look()
    index.read()
    index.save()
    if not index.known:
        print(f"no batches in {harmless(str(folder))}: workbench new NAME makes one", file=sys.stderr)
    for line in lines(index, now()):
        print(line)
    return FINE


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


def plan_of(path: Path, at: datetime | None, config: Config) -> Plan:
    """The plan of a file at an hour, by default now. Raises FileRefused, FaultyFile; of a newer format says so."""
    from workbench.plan.derive import derive
    from workbench.session.faults import FaultyFile

    outcome = _read(path)
    if outcome.faults:
        raise FaultyFile(str(path), outcome.faults)
    if outcome.newer:
        print(outcome.newer.of(str(path)), file=sys.stderr)
    return derive(outcome.session, at or now(), config.habits)


def _code(plan: Plan) -> int:
    """What is newer than this program may be told wrong."""
    return AT_FAULT if any(warning.code == "newer-format" for warning in plan.warnings) else FINE


def in_form(form: str, plan: Plan, path: Path, config: Config) -> str:
    """The plan of a file in one of `forms`."""
    from workbench.forms import Wanted, written

    return written(form, Wanted(plan, path.name, config.units, config.comma, config.habits))


def fresh(name: str, config: Config, *, shelf: bool = False) -> str:
    """The text of a new session with the brewer's usual flask and wort."""
    from workbench.session.fresh import fresh_text

    return fresh_text(name, flask=config.flask, wort=config.wort, shelf=shelf)


def _next(options: argparse.Namespace, name: str, config: Config) -> str:
    """The text of a new session grown from another. Raises NothingKept where that one has nothing to grow from."""
    from workbench.plan.next_batch import next_text
    from workbench.session.load import load

    source: Path = options.source
    plan = plan_of(source, None, config)
    return next_text(plan, load(source).data, name, source.name, shelf=options.shelf, slurry=options.slurry)


def _as_written() -> None:
    """For files of a standard: UTF-8 and line ends as they are, whatever this machine's own are."""
    if hasattr(sys.stdout, "reconfigure"):
        sys.stdout.reconfigure(encoding="utf-8", errors="replace", newline="")
