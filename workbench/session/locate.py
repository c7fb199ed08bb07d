"""Where each key of a TOML text stands.

The TOML reader of the standard library tells values but no places. `Layout` finds the places in a text that this
reader has accepted already, so it need not check anything.
"""

from __future__ import annotations

import re
import tomllib
from bisect import bisect_left
from functools import cached_property
from typing import Literal, NamedTuple, TypeAlias

__all__ = ["Layout", "Mark", "Path", "dotted", "path_of", "written"]

Path: TypeAlias = tuple[str | int, ...]

_BLANK = re.compile(r"(?:[ \t\r\n]+|#[^\n]*)*")
_SPACE = re.compile(r"[ \t]*")
_KEY = re.compile(r'[A-Za-z0-9_-]+|"(?:\\.|[^"\\])*"|\'[^\']*\'')
_STRING = re.compile(
    r'"""(?:\\[\s\S]|[^\\])*?"""(?:"{0,2})'
    r"|'''[\s\S]*?'''(?:'{0,2})"
    r'|"(?:\\.|[^"\\])*"'
    r"|'[^']*'"
)
_SCALAR = re.compile(r"[^,\]}#\r\n]*[^,\]}#\r\n \t]")


class Mark(NamedTuple):
    """One place, as offsets into the text.

    `kind`: "table" is a header `[a]`, "array" a header `[[a]]`, "pair" a `key = value` line, "member" a key or an
    element inside `{…}` or `[…]`. `start` to `end` is all of it, from `value` on its value.
    `owner` is the path of the header a pair stands under, or of the container of a member.
    """

    path: Path
    kind: Literal["table", "array", "pair", "member"]
    start: int
    value: int
    end: int
    owner: Path

    @property
    def is_header(self) -> bool:
        """Whether this is a `[table]` or `[[table]]` line."""
        return self.kind in ("table", "array")


def dotted(path: Path) -> str:
    """The path as one text: ("step", 0, "wort") → "step.0.wort"."""
    return ".".join(map(str, path))


def path_of(key: str) -> Path:
    """The inverse of `dotted` for keys of the format, none of which is a number or holds a dot."""
    return tuple(int(part) if part.isdecimal() else part for part in key.split("."))


def written(text: str, key: str) -> str:
    """The value of a dotted key letter for letter, as `text` (TOML that reads) has it; empty where it is not there."""
    mark = Layout(text).find(path_of(key))
    return "" if mark is None or mark.is_header else text[mark.value : mark.end]


class Layout:
    """The places of all keys of `text`, which must be TOML that reads."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.marks = tuple(_Scanner(text).scan())

    @cached_property
    def _by_key(self) -> dict[str, Mark]:
        return {dotted(mark.path): mark for mark in self.marks}

    def find(self, path: Path) -> Mark | None:
        """The place of this very path, if it stands in the text as a key, a header or an element."""
        return self._by_key.get(dotted(path))

    def line_of(self, key: str) -> int:
        """The line, from 1, of a dotted key; where it has none of its own, of what it stands in; else 1."""
        mark = self._by_key.get(key) or self._first_below(key)
        while mark is None and key:
            key = key.rpartition(".")[0]
            mark = self._by_key.get(key)
        return bisect_left(self._line_ends, mark.start) + 1 if mark else 1

    @cached_property
    def _line_ends(self) -> list[int]:
        return [match.start() for match in re.finditer("\n", self.text)]

    def _first_below(self, key: str) -> Mark | None:
        """The first place inside a table that has no header of its own."""
        return next((mark for place, mark in self._by_key.items() if place.startswith(key + ".")), None)


class _Scanner:
    """One pass over the text, from header to header and key to key."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.marks: list[Mark] = []
        self.counts: dict[Path, int] = {}  # how many [[headers]] of each array so far

    def scan(self) -> list[Mark]:
        table: Path = ()
        self._skip(_BLANK)
        while self.at < len(self.text):
            if self.text[self.at] == "[":
                table = self._header()
            else:
                self._pair(table, "pair")
            self._skip(_BLANK)
        return self.marks

    def _skip(self, pattern: re.Pattern[str]) -> str:
        match = pattern.match(self.text, self.at)
        if match is None:  # pragma: no cover - the text has been read as TOML already
            raise ValueError(f"not TOML at offset {self.at}")
        self.at = match.end()
        return match.group()

    def _header(self) -> Path:
        start = self.at
        double = self.text.startswith("[[", start)
        self.at += 2 if double else 1
        path = self._place(self._keys(), new=double)
        self.at += 2 if double else 1
        self.marks.append(Mark(path, "array" if double else "table", start, start, self.at, path[:-1]))
        return path

    def _place(self, keys: list[str], *, new: bool) -> Path:
        """The path a header means: under an array of tables it is the last element so far."""
        path: Path = ()
        for depth, key in enumerate(keys, 1):
            path += (key,)
            if new and depth == len(keys):
                self.counts[path] = self.counts.get(path, 0) + 1
            if path in self.counts:
                path += (self.counts[path] - 1,)
        return path

    def _keys(self) -> list[str]:
        keys = []
        while True:
            self._skip(_SPACE)
            key = self._skip(_KEY)
            keys.append(tomllib.loads(f"{key}=0").popitem()[0] if key[0] in "\"'" else key)
            self._skip(_SPACE)
            if self.text[self.at] != ".":
                return keys
            self.at += 1

    def _pair(self, owner: Path, kind: Literal["pair", "member"]) -> None:
        start = self.at
        path = owner + tuple(self._keys())
        self.at += 1  # the equals sign
        self._skip(_SPACE)
        self._value(path, kind, start, owner)

    def _value(self, path: Path, kind: Literal["pair", "member"], start: int, owner: Path) -> None:
        value, place = self.at, len(self.marks)
        match self.text[value]:
            case '"' | "'":
                self._skip(_STRING)
            case "[":
                self._members(path, "]")
            case "{":
                self._members(path, "}")
            case _:
                self._skip(_SCALAR)
        self.marks.insert(place, Mark(path, kind, start, value, self.at, owner))

    def _members(self, path: Path, closing: str) -> None:
        self.at += 1
        self._skip(_BLANK)
        index = 0
        while self.text[self.at] != closing:
            if closing == "]":
                self._value((*path, index), "member", self.at, path)
            else:
                self._pair(path, "member")
            index += 1
            self._skip(_BLANK)
            if self.text[self.at] == ",":
                self.at += 1
                self._skip(_BLANK)
        self.at += 1
