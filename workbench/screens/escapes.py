"""Esc and the key after it, when both reach the program in one piece, as over a slow link: Esc is never lost.

Textual takes such a pair for one key with Alt: of a letter it says so, of any other key it drops the Esc. Then Esc and
Enter would keep what was to be left.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual import events
from textual._ansi_sequences import ANSI_SEQUENCES_KEYS
from textual._xterm_parser import XTermParser
from textual.drivers import linux_driver

if TYPE_CHECKING:
    from collections.abc import Iterable

__all__ = ["Parser", "install"]

_ESC = "\x1b"
_BEGINS = ("[", "]")  # of sequences: what Textual does not know is no Esc that anybody pressed


class Parser(XTermParser):
    """Textual's, but for that."""

    def _sequence_to_key_events(self, sequence: str, alt: bool = False) -> Iterable[events.Key]:  # noqa: FBT001, FBT002
        """The keys of a sequence; `alt`: an Esc came right before."""
        pair = sequence[:1] == _ESC and len(sequence) == 2
        if pair and isinstance(ANSI_SEQUENCES_KEYS.get(sequence), str):  # a sign of some keyboards: `¡` for Esc and 1
            sequence, alt = sequence[1:], True
        for key in super()._sequence_to_key_events(sequence, alt):
            if alt and sequence not in _BEGINS and not key.key.startswith("alt+"):
                yield events.Key("escape", _ESC)
            yield key


def install() -> None:
    """Have Textual read the terminal with it."""
    vars(linux_driver)["XTermParser"] = Parser
