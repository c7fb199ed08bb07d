"""What is wrong in a session file: the line, the key, what it is and what would be right."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from workbench.errors import WorkbenchError
from workbench.units.number import quote
from workbench.units.plainly import harmless

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = ["Fault", "FaultyFile", "named", "shown"]

_LONGEST = 40


class Fault(NamedTuple):
    """One fault, or one note: `line` counts from 1, `key` is dotted ("step.0.wort"), empty for the file as a whole."""

    line: int
    key: str
    what: str
    right: str

    def __str__(self) -> str:
        """`LINE: KEY: WHAT: RIGHT`."""
        return ": ".join(part for part in (str(self.line), shown(self.key, 120), self.what, self.right) if part)

    def of(self, file: str) -> str:
        """`FILE:LINE: KEY: WHAT: RIGHT`, as printed."""
        return f"{shown(file, 4096)}:{self}"


class FaultyFile(WorkbenchError):
    """A file that was read but says something it cannot mean. `faults` holds every one of them, in the file's order."""

    def __init__(self, path: str, faults: Sequence[Fault]) -> None:
        super().__init__("\n".join(fault.of(path) for fault in faults))
        self.path = path
        self.faults = tuple(faults)


def shown(text: str, longest: int = _LONGEST) -> str:
    """The text fit for a message: shortened, and harmless to any terminal."""
    return harmless(text if len(text) <= longest else text[: longest - 1] + "…")


def named(raw: object) -> str:
    """The value as a message may show it, however large or odd it is."""
    match raw:
        case bool():
            return "true" if raw else "false"
        case str():
            return quote(raw)
        case int() | float():
            return repr(raw) if abs(raw) < 1e15 or isinstance(raw, float) else "a number of 16 digits and more"
        case list():
            return "a list"
        case dict():
            return "a table"
    return shown(str(raw))
