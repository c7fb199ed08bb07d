"""The words of the command line: the commands, what each may be given, and what that has to be."""

from __future__ import annotations

import argparse
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from workbench import __version__
from workbench.units.when import of_system

__all__ = ["parser"]


def parser() -> argparse.ArgumentParser:
    """Of all commands but `workbench FILE`, which is none."""
    top = argparse.ArgumentParser(
        prog="workbench",
        description="Grow enough live yeast for the hour the beer is ready for it.",
        epilog="workbench FILE opens that batch on the screen; a file named like a command is opened as ./FILE.",
        usage="workbench [--folder FOLDER | FILE | COMMAND ...]",
    )
    top.add_argument("--version", action="version", version=f"workbench {__version__}")
    top.add_argument("--folder", type=Path, help="the folder of batches; left out: as the settings say")
    commands = top.add_subparsers(dest="command", metavar="COMMAND", prog="workbench")
    demo = commands.add_parser("demo", help="open a scratch copy of a demo batch")
    demo.add_argument("name", nargs="?", help="which; left out: the plain ale")
    sheet = commands.add_parser("sheet", help="the plan as a page of text")
    sheet.add_argument("file", type=Path)
    form = sheet.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="one object, full precision, units in the keys")
    form.add_argument("--markdown", action="store_true", help="a Markdown page")
    calendar = commands.add_parser("calendar", help="what is still to be done, as an iCalendar file (RFC 5545)")
    calendar.add_argument("file", type=Path)
    for timed in (sheet, calendar):
        timed.add_argument("--at", metavar="TIME", type=_moment, help="take this as now: 2026-11-27T15:00:00+01:00")
    table = commands.add_parser("table", help="planned and measured, a line for each feeding, as CSV (RFC 4180)")
    table.add_argument("file", type=Path, nargs="+")
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
    return top


def _moment(text: str) -> datetime:
    """A time as ISO 8601; without an offset it is local."""
    try:
        at = datetime.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{text!r} is no time: write for example 2026-11-27T15:00:00+01:00") from None
    if not 1900 <= at.year <= 2199:
        raise argparse.ArgumentTypeError(f"the year {at.year} is out of range: 1900 to 2199")
    return at if at.tzinfo is not None else of_system(at).astimezone()


def _volume(text: str) -> str:
    """A volume of slurry as typed, once it is known to be one."""
    from workbench.errors import QuantityError
    from workbench.session.fields import field_of

    try:
        field_of("yeast.0.volume").from_typed(text, datetime.now(UTC), None)
    except QuantityError as error:
        raise argparse.ArgumentTypeError(str(error)) from None
    return text
