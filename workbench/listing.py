"""The batches of a folder, each summed up: joins folder, index and plan; and the list of them as lines of text."""

from __future__ import annotations

import os
import time
import zlib
from pathlib import Path
from typing import TYPE_CHECKING
from unicodedata import category, east_asian_width

from workbench import __version__
from workbench.config import APP
from workbench.errors import FileRefused
from workbench.plan.summary import WANTING, Summary, next_task, of_record, order, record, state
from workbench.session.faults import FaultyFile
from workbench.session.index import Index, Reader
from workbench.units.plainly import harmless
from workbench.units.when import moment

if TYPE_CHECKING:
    from collections.abc import Iterator
    from datetime import datetime, tzinfo

    from workbench.plan.habits import Habits

__all__ = ["index_file", "index_of", "lines", "read_summary"]

_NAME, _STATE, _WHEN, _PITCH = 32, 19, 17, 17  # cells of the columns
_REASONS = ("brewing", "plan", "session", "units")  # the parts of the program that a summary comes from


def index_of(folder: Path, habits: Habits) -> Index[Summary]:
    """The index of a folder, nothing looked at yet."""
    reader = Reader(lambda path: read_summary(path, habits), record, of_record, _mark(habits))
    return Index(folder.absolute(), reader, index_file(folder))


def index_file(folder: Path) -> Path:
    """Where the index of a folder is kept: in this system's folder for caches, or where WORKBENCH_CACHE says."""
    name = f"batches-{zlib.crc32(os.fsencode(folder.absolute())):08x}.json"
    if given := os.environ.get("WORKBENCH_CACHE"):
        return Path(given) / name
    from platformdirs import user_cache_path

    return user_cache_path(APP) / name


def read_summary(path: Path, habits: Habits) -> Summary:
    """What a list shows of a file, whatever it holds: of one that cannot be shown, why."""
    from workbench.plan.derive import derive
    from workbench.plan.summary import summary
    from workbench.session.beside import aside_of
    from workbench.session.load import load
    from workbench.session.read import read

    try:
        loaded = load(path)
    except FaultyFile as wrong:
        return Summary(fault=_told(wrong.faults[0].line, str(wrong.faults[0]), len(wrong.faults)))
    except FileRefused as wrong:
        return Summary(fault=str(wrong).removeprefix(f"{path}: "))
    outcome = read(loaded.data, loaded.text)
    if faults := outcome.faults or ((outcome.newer,) if outcome.newer else ()):
        return Summary(fault=_told(faults[0].line, str(faults[0]), len(faults)))
    if of := aside_of(path.name):
        return Summary(
            outcome.session.batch.name, needs=f"was not taken into {of}: compare, then put it away", aside=of
        )
    return summary(derive(outcome.session, _now(), habits))


def _told(line: int, fault: str, count: int) -> str:
    """The first fault of so many."""
    more = f" (and {count - 1} more)" if count > 1 else ""
    return f"line {line}{fault.removeprefix(str(line))}{more}"


def _now() -> datetime:
    from datetime import UTC, datetime

    return datetime.now(UTC)


def _mark(habits: Habits) -> str:
    """What a summary comes from besides its file: the program, to the day it was changed, and the brewer's settings."""
    package = Path(__file__).parent
    newest = max(path.stat().st_mtime_ns for part in _REASONS for path in (package / part).glob("*.py"))
    return f"{__version__} {newest} {habits} {time.tzname}"


def lines(index: Index[Summary], now: datetime, tz: tzinfo | None = None) -> Iterator[str]:
    """Every batch on a line of plain text, in order of time: name, state, next task and its hour, pitching."""
    if not index.known:
        return
    yield _line("batch", "state", "next", "", "pitch").rstrip()
    for path, told in sorted(index.known.items(), key=lambda item: (order(item[1], now), item[0].name)):
        name = told.name or path.stem
        if told.fault:
            yield f"{_column(path.name, _NAME)}  {_column('faulty', _STATE)}  {harmless(told.fault)}"
            continue
        task, (word, more) = next_task(told, now), state(told, now, tz)
        when = moment(task.at, now, tz) if task else ""
        what = told.needs if word in WANTING else task.what if task else ""
        pitch = moment(told.pitch_at, now, tz) if told.pitch_at else ""
        yield _line(name, f"{word} {more}", when, what, pitch, told.wrong).rstrip()


def _line(name: str, state: str, when: str, what: str, pitch: str, wrong: str = "") -> str:
    parts = (_column(name, _NAME), _column(state, _STATE), _column(pitch, _PITCH), _column(when, _WHEN), harmless(what))
    return "  ".join(parts) + (f"  ! {harmless(wrong)}" if wrong else "")


def _column(text: str, cells: int) -> str:
    """The text, harmless, in so many cells: cut or filled up."""
    text = harmless(text)
    if _cells(text) > cells:
        while _cells(text) > cells - 1:
            text = text[:-1]
        text += "…"
    return text + " " * (cells - _cells(text))


def _cells(text: str) -> int:
    """Cells that a terminal gives the text."""
    if text.isascii():
        return len(text)
    return sum(0 if category(c) in {"Mn", "Me"} else 2 if east_asian_width(c) in "WF" else 1 for c in text)
