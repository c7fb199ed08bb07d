"""What the keyboard sends: keys that come in one piece, over a slow line, stay the keys that were pressed."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from textual._xterm_parser import XTermParser
from textual.constants import DISABLE_KITTY_KEY

if TYPE_CHECKING:
    from collections.abc import Iterator

    from textual.message import Message

__all__ = ["Pieces"]

_PART = re.compile(r"\x1b\[20([01])~|\x1b(?!(\[(20?[01]?)?)?$)", re.DOTALL)  # a paste begins or ends; another Esc
_OPEN = re.compile(r"\x1b(\[(20?[01]?)?)?$")  # what may become one of these
# What other keys begin with (arrows: Esc [, Esc O), or are, where a terminal sends moves by a word so (Esc b, Esc f,
# Esc Backspace), can't be told from an Esc and the next key.
_OF_OTHERS = ("[", "O", "b", "f", "\x7f", "\x1b")
# As terminals say it that know how to tell the one from the other, unless Textual was told not to listen to that.
_ESCAPE = "\x1b" if DISABLE_KITTY_KEY else "\x1b[27u"


class Pieces(XTermParser):
    """Textual's reader of what terminals send, which by itself takes Esc and the next key in one piece for one key."""

    def __init__(self) -> None:
        super().__init__()
        self._open = ""  # what is not yet clear,
        self._known = 0  # and how much of that has been handed on
        self._pasting = False

    @property
    def waits(self) -> bool:
        """Whether what came last is clear only once nothing more has come for a while: `tick` then tells."""
        return self._timeout_time is not None

    def feed(self, data: str) -> Iterator[Message]:
        """The keys in so much more of what was sent."""
        whole = _PART.sub(self._told, self._open + data)
        last = _OPEN.search(whole)
        self._open = last[0] if last else ""
        end = len(whole) - (len(self._open) if self._pasting else 0)  # what is no key can wait
        new = whole[self._known : end]
        self._known = len(self._open) if end == len(whole) else 0
        if new:
            yield from super().feed(new)

    def tick(self) -> Iterator[Message]:
        """The Esc behind which nothing came."""
        for message in super().tick():
            self._open, self._known = "", 0
            yield message

    def _told(self, part: re.Match[str]) -> str:
        if part[1]:
            self._pasting = part[1] == "0"
            return part[0]
        if self._pasting:  # nothing that is pasted is a key
            return ""
        return part[0] if part.string[part.end()] in _OF_OTHERS else _ESCAPE
