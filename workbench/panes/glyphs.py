"""The signs that the panes draw with, in three sets: full, Linux console, and plain ASCII.

Every sign is one cell wide and says the same in each set. The console set holds what code-page-437 fonts have
(from memory, not seen on every console).
"""

from __future__ import annotations

import locale
import sys
from typing import NamedTuple

__all__ = ["ASCII", "CONSOLE", "FULL", "OUTLINE", "WORDS", "Glyphs", "choose", "plain", "terminal_encoding"]


class Glyphs(NamedTuple):
    """One set of signs."""

    name: str
    cursor: str
    typed: str
    fine: str
    caution: str
    danger: str
    note: str
    arrow: str
    more: str
    above: str
    cut: str
    rule: str
    enter: str
    dash: str
    times: str
    glass: str  # empty glass, wort and limit fill a row of the flask between its walls
    glass_left: str
    glass_right: str
    glass_wall: str  # where a wall stands upright
    wort: str
    surface: str
    limit: str
    solid: bool  # the flask is a silhouette in half cells; else an outline


FULL = Glyphs(
    "full", "▸", "•", "✓", "!", "‼", "·", "▸", "▾", "▴", "…", "─", "⏎", "–", "×",
    glass="█", glass_left="▐", glass_right="▌", glass_wall="█", wort="█", surface="▄", limit="╌", solid=True,
)  # fmt: skip
OUTLINE = FULL._replace(glass=" ", glass_left="╱", glass_right="╲", glass_wall="│", wort="▒", surface="▒", solid=False)
CONSOLE = Glyphs(
    "console", "►", "•", "√", "!", "!!", "·", "►", "▼", "▲", "~", "─", "Enter", "-", "x",
    glass="░", glass_left="▐", glass_right="▌", glass_wall="█", wort="▓", surface="▄", limit="─", solid=True,
)  # fmt: skip
ASCII = Glyphs(
    "ascii", ">", "*", "ok", "!", "!!", "-", ">", "v", "^", "~", "-", "Enter", "-", "x",
    glass=" ", glass_left="/", glass_right="\\", glass_wall="|", wort=":", surface=":", limit="-", solid=False,
)  # fmt: skip
WORDS = ASCII._replace(
    name="words", cursor="", typed=" typed ", fine="fine:", caution="caution:", danger="danger:", note="note:",
    arrow=" to ", cut="", rule="", dash="–", times=" times ",
)  # fmt: skip
"""Each sign as a word, for text that is read out; not for a grid."""

# What a text may hold that a lesser set has no sign for, and what is written instead.
_TO_CONSOLE = str.maketrans({
    "–": "-", "—": "-", "×": "x", "…": "~", "−": "-", "▸": "►", "⏎": "Enter", "⌫": "Bksp", "✓": "√", "⅔": "2/3",
    "⅓": "1/3", "’": "'", "‘": "'", "“": '"', "”": '"', "ρ": "rho", "γ": "gamma", "μ": "mu",
})  # fmt: skip
_TO_ASCII = str.maketrans({
    "–": "-", "—": "-", "×": "x", "…": "~", "·": "-", "•": "*", "°": "", "≤": "<=", "≥": ">=", "−": "-", "±": "+/-",
    "▸": ">", "⏎": "Enter", "✓": "ok", "‼": "!!", "µ": "u", "²": "2", "³": "3", "⅔": "2/3", "⅓": "1/3",
    "’": "'", "‘": "'", "“": '"', "”": '"', "½": "1/2", "ρ": "rho", "γ": "gamma", "μ": "mu", "√": "sqrt",
    "↑": "Up", "↓": "Down", "←": "Left", "→": "Right", "⌫": "Bksp",
})  # fmt: skip


def choose(encoding: str, term: str, wanted: str = "", *, tinted: bool = True) -> Glyphs:
    """The set for a terminal: `wanted` by name, else ASCII without UTF-8, console on TERM=linux, else full.

    Without tints of colour (`tinted`) a silhouette of glass can't be told from wort, so it is drawn in outline.
    """
    full = FULL if tinted else OUTLINE
    named = {"full": full, "console": CONSOLE, "ascii": ASCII}
    if wanted in named:
        return named[wanted]
    if not _unicode(encoding):
        return ASCII
    return CONSOLE if term == "linux" else full


def terminal_encoding() -> str:
    """What reaches the terminal: UTF-8 only where both the locale and the program's own output say so.

    `sys.stdout` itself is not asked: inside the app it is something else.
    """
    streams = (sys.__stderr__, sys.__stdout__)  # the screen is drawn on the first
    said = (locale.getencoding(), *(stream.encoding for stream in streams if stream is not None))
    return next((name for name in said if not _unicode(name)), "UTF-8")


def _unicode(encoding: str) -> bool:
    return encoding.lower().replace("-", "").replace("_", "") in {"utf8", "cp65001"}


def plain(text: str, glyphs: Glyphs) -> str:
    """`text` in signs that the set has: letters the ASCII set lacks become `?`."""
    if text.isascii() or glyphs.name in ("full", "words"):
        return text
    if glyphs is CONSOLE:
        return text.translate(_TO_CONSOLE)
    return text.translate(_TO_ASCII).encode("ascii", "replace").decode("ascii")
