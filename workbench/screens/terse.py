"""What is written to the terminal, in fewer bytes: colours are sent where they change, not with every stretch of text.

Over a slow line that is half of what a screen costs. What is seen stays the same.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

__all__ = ["Terse"]

_PART = re.compile(
    r"\x1b\[(?P<look>[\d;]*)m"
    r"|\n?(?P<place>\x1b\[\d+;\d+H)"  # a line ended right before that means nothing
    r"|(?P<text>[^\x1b\n]+)"
    r"|(?P<other>\n|\x1b(?:\[[0-?]*[ -/]*[@-~]|\][^\x07\x1b]*(?:\x07|\x1b\\)|.|$))",
    re.DOTALL,
)
_COLOUR = re.compile(r"(?:[34]8;(?:5;\d+|2;\d+;\d+;\d+)|\d+)")
_OFF = {
    "1": "22",
    "7": "27",
}  # bold (without dim, which the same code ends) and reverse; to end others all is told anew
_UNSEEN = frozenset({"1", "2", "3"})  # on a blank


class _Look(NamedTuple):
    """How text looks: colours as they are sent, "" for the terminal's own, and attributes such as bold."""

    ink: str = ""
    ground: str = ""
    rest: frozenset[str] = frozenset()

    def after(self, before: _Look) -> str:
        """What makes it of how text looked before."""
        lost = before.rest - self.rest
        codes = [_OFF.get(code, "0") if "2" not in before.rest else "0" for code in lost]
        if "0" in codes:
            before, codes = _Look(), ["0"]
        codes += sorted(self.rest - before.rest)
        codes += [self.ink or "39"] if self.ink != before.ink else []
        codes += [self.ground or "49"] if self.ground != before.ground else []
        if self == _Look() and codes:
            codes = [""]  # the shortest way to say so
        return f"\x1b[{';'.join(codes)}m" if codes else ""


_UNKNOWN = _Look(rest=frozenset({"?"}))


class Terse:
    """The line to a terminal. It remembers how text looks there: make another once something else has written to it."""

    def __init__(self) -> None:
        self._now, self._wanted = _UNKNOWN, _Look()

    def write(self, data: str) -> str:
        """The same in fewer bytes. Behind it all that was asked for is in force, so that anything may follow."""
        return "".join(map(self._part, _PART.finditer(data))) + self._turn(self._wanted)

    def _part(self, part: re.Match[str]) -> str:
        kind, text = part.lastgroup, part[0]
        if kind == "look":
            self._wanted = _look(part["look"], self._wanted)
            return ""
        if kind == "place":
            return part["place"]
        blank = kind == "text" and not text.strip(" ") and (self._now.rest | self._wanted.rest) <= _UNSEEN
        return self._turn(self._now._replace(ground=self._wanted.ground) if blank else self._wanted) + text

    def _turn(self, look: _Look) -> str:
        before, self._now = self._now, look
        return look.after(before)


@lru_cache(maxsize=1024)
def _look(codes: str, before: _Look) -> _Look:
    """How text looks after these codes; those unknown here are kept as attributes, and told as they came."""
    for code in _COLOUR.findall(codes) or ["0"]:
        number = int(code.partition(";")[0])
        if number == 0:
            before = _Look()
        elif 30 <= number <= 39 or 90 <= number <= 97:
            before = before._replace(ink="" if number == 39 else code)
        elif 40 <= number <= 49 or 100 <= number <= 107:
            before = before._replace(ground="" if number == 49 else code)
        else:
            before = before._replace(rest=before.rest | {code})
    return before
