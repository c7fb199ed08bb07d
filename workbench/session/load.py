"""From a path to plain data, whatever lies there: bytes, text, TOML. The file is never touched."""

from __future__ import annotations

import os
import re
import stat
import tomllib
from pathlib import Path
from typing import Any, NamedTuple

from workbench.errors import FileRefused
from workbench.session.faults import Fault, FaultyFile, shown
from workbench.session.formats import format_of, upgraded

__all__ = ["BOM", "Loaded", "load", "parsed", "read_bytes", "understood"]

BOM = b"\xef\xbb\xbf"
_LARGEST = 5_000_000  # bytes; larger takes many seconds and much memory to read
_LARGEST_EDITED = 1_000_000
_LARGE = 200_000
_DEEPEST = 20  # dots in one key; the reader's time grows with their square
_UTF_16 = (b"\xff\xfe", b"\xfe\xff")
_PLACE = r" \(at (?:line (\d+), column (\d+)|end of document)\)$"
_LONG_NUMBER = r"[0-9_]{4000,}"
# Strings and comments as wholes, so that only the dots of keys and numbers are left. Takes time in proportion only.
# Like the patterns above it is compiled where it is needed, which is seldom.
_TOKENS = (
    r'"""(?:\\[\s\S]|[^\\])*?(?:"""|\\?\Z)'
    r"|'''[\s\S]*?(?:'''|\Z)"
    r'|"(?:\\[^\n]|[^"\\\n])*"?'
    r"|'[^'\n]*'?"
    r"|#[^\n]*|[.=,\n\[\]{}]"
)


class Loaded(NamedTuple):
    """A file that reads as TOML. `text` is without the byte order mark that `raw` may begin with.

    `read_only` says why it can be shown but not edited, if so; `notes` are worth telling. `was` is the older format
    that `raw` is of, where `text` and `data` are what it comes to in this one.
    """

    raw: bytes
    text: str
    data: dict[str, Any]
    read_only: str | None
    notes: tuple[Fault, ...]
    was: int | None = None


def load(path: str | os.PathLike[str]) -> Loaded:
    """Load the file. Raises FileRefused where it is not read at all, FaultyFile where it is no TOML text."""
    return understood(read_bytes(path), os.fspath(path))


def understood(raw: bytes, file: str) -> Loaded:
    """As `parsed`; what is of an older format is brought up to this one. Raises FaultyFile."""
    loaded = parsed(raw, file)
    form = format_of(loaded.data)
    text = loaded.text if form is None else upgraded(loaded.text, form)
    return loaded if text is loaded.text else loaded._replace(text=text, data=_toml(text, file), was=form)


def read_bytes(path: str | os.PathLike[str]) -> bytes:
    """Read a regular file of at most 5 MB; never waits for a pipe. Raises FileRefused."""
    file = shown(os.fspath(path), 4096)
    try:
        _regular(Path(path).stat().st_mode, file)
        fd = os.open(path, os.O_RDONLY | os.O_NONBLOCK | os.O_NOCTTY)
        with os.fdopen(fd, "rb") as stream:
            _regular(os.fstat(fd).st_mode, file)
            raw = stream.read(_LARGEST + 1)
    except FileNotFoundError:
        raise FileRefused(f"{file}: there is no such file") from None
    except (OSError, ValueError) as error:  # ValueError: a NUL in the path
        reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise FileRefused(f"{file}: cannot be read: {reason}") from None
    if len(raw) > _LARGEST:
        raise FileRefused(f"{file}: is larger than 5 MB: a session file is a few kB of text")
    return raw


def parsed(raw: bytes, file: str) -> Loaded:
    """Make data of the bytes of `file`, which is only named. Raises FaultyFile."""
    text = _decoded(raw, file)
    _guard_keys(text, file)
    return Loaded(raw, text, _toml(text, file), _too_large_to_edit(raw), _notes(raw))


def _regular(mode: int, file: str) -> None:
    if stat.S_ISDIR(mode):
        raise FileRefused(f"{file}: is a directory: give a file in it")
    if not stat.S_ISREG(mode):
        raise FileRefused(f"{file}: is a pipe or device: a session is a plain file")


def _decoded(raw: bytes, file: str) -> str:
    if raw.startswith(_UTF_16):
        raise FaultyFile(file, [Fault(1, "", "the file is in UTF-16", "save it as UTF-8")])
    if (at := raw.find(b"\0")) >= 0:
        line = raw.count(b"\n", 0, at) + 1
        raise FaultyFile(file, [Fault(line, "", "there is a zero byte", "a session file is plain text in UTF-8")])
    try:
        return raw.removeprefix(BOM).decode()
    except UnicodeDecodeError as error:
        line = raw.removeprefix(BOM).count(b"\n", 0, error.start) + 1
        raise FaultyFile(file, [Fault(line, "", "there are bytes that are no UTF-8", "save it as UTF-8")]) from None


def _guard_keys(text: str, file: str) -> None:
    """Refuse dotted keys so deep that reading them would take minutes."""
    if not any(line.count(".") > _DEEPEST for line in text.split("\n")):
        return
    dots = 0
    for match in re.finditer(_TOKENS, text):
        if match.group() == ".":
            dots += 1
        elif match.group() in {"=", ",", "\n", "[", "]", "{", "}"}:
            dots = 0
        if dots > _DEEPEST:
            raise FaultyFile(file, [_too_deep(text.count("\n", 0, match.start()) + 1)])


def _too_deep(line: int) -> Fault:
    return Fault(line, "", "tables or lists lie too deep in each other", "a session file has keys in tables, no more")


def _toml(text: str, file: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        fault = _syntax(str(error), text)
    except ValueError:  # of whole numbers with thousands of digits
        at = re.search(_LONG_NUMBER, text)
        line = text.count("\n", 0, at.start()) + 1 if at else 1
        fault = Fault(line, "", "there is a number with thousands of digits", "shorten it")
    except (RecursionError, MemoryError):
        fault = _too_deep(1)
    raise FaultyFile(file, [fault])


def _syntax(message: str, text: str) -> Fault:
    """The reader's message as a fault, with what would be right where that can be told from the line."""
    place = re.search(_PLACE, message)
    line = int(place[1]) if place and place[1] else text.rstrip("\n").count("\n") + 1
    column = f", column {place[2]}" if place and place[2] else ""
    what = f"is no TOML{column}: {shown(re.sub(_PLACE, '', message), 120)}"
    here = text.split("\n")[line - 1]
    if here.startswith(("<<<<<<<", "=======", ">>>>>>>")):
        return Fault(line, "", "two versions of the file are mixed here", "keep one of them and delete the marks")
    return Fault(line, "", what, 'each line is [table], key = value or # comment, with text in quotes: volume = "23 L"')


def _too_large_to_edit(raw: bytes) -> str | None:
    return "the file is larger than 1 MB: it is shown, not edited" if len(raw) > _LARGEST_EDITED else None


def _notes(raw: bytes) -> tuple[Fault, ...]:
    if len(raw) <= _LARGE:
        return ()
    return (Fault(1, "", f"the file has {len(raw) // 1000} kB", "it works, but slowly; a usual one has 5 to 50 kB"),)
