"""Fewer bytes for the same picture: of each run of text only what differs from the style before it is sent.

Textual ends each run of text with a reset and tells the next style in full, which is half of all that goes over a line.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from textual.driver import Driver

__all__ = ["shortened", "thrifty"]

_MOVES = r"(?:\r?\n|\x1b\[\d+;\d+H)*"
_STYLE = re.compile(rf"(?:\x1b\[0m(?P<moves>{_MOVES}))?\x1b\[(?P<codes>[1-9][\d;]*)m")
_CODE = re.compile(r"[34]8;5;\d+|[34]8;2;\d+;\d+;\d+|\d+")
_INK, _GROUND = "ink", "ground"


def shortened(sent: str) -> str:
    """What draws the same as `sent`, a string of text and styles that begins in the terminal's own style."""
    before = ""

    def told(match: re.Match[str]) -> str:
        nonlocal before
        known, before = before, match["codes"]
        return match[0] if match["moves"] is None else match["moves"] + _turn(known, before)

    return _STYLE.sub(told, sent)


@lru_cache(maxsize=1024)
def _turn(before: str, after: str) -> str:
    """From one style to another, the reset between them not yet sent."""
    old, new = _parts(before), _parts(after)
    if old.keys() - new.keys():  # something ends that only a reset ends
        return f"\x1b[0;{after}m"
    codes = [code for part, code in new.items() if old.get(part) != code]
    return f"\x1b[{';'.join(codes)}m" if codes else ""


def _parts(codes: str) -> dict[str, str]:
    """Ink, ground and the attributes, each by itself."""
    return {_part(code): code for code in _CODE.findall(codes)}


def _part(code: str) -> str:
    number = int(code.partition(";")[0])
    if 30 <= number <= 39 or 90 <= number <= 97:
        return _INK
    return _GROUND if 40 <= number <= 49 or 100 <= number <= 107 else code


def thrifty(driver: type[Driver]) -> type[Driver]:
    """The driver of this system, sending less."""

    def write(self: Driver, data: str) -> None:
        driver.write(self, shortened(data))

    return type(driver.__name__, (driver,), {"write": write})
