"""Themes as data: those that come along, and the brewer's own in the folder `themes` beside the settings.

One TOML file is one theme: twelve colours by name, `#rrggbb`, or with `ansi = true` the terminal's own sixteen.
"""

from __future__ import annotations

import re
import tomllib
from typing import TYPE_CHECKING, Any, NamedTuple

from workbench.data import folder
from workbench.errors import WorkbenchError
from workbench.units.plainly import harmless

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from pathlib import Path

__all__ = ["COLOURS", "DEFAULT", "GROUNDS", "INKS", "Theme", "ThemeRefused", "contrast", "faint", "load", "names",
           "rounded", "shadowed"]  # fmt: skip

GROUNDS = ("ground", "bar", "cursor")
INKS = ("text", "dim", "accent", "warning", "danger", "fine", "typed")
"""The colours of letters; each may stand on each of the grounds."""
COLOURS = (*GROUNDS, *INKS, "wort", "rule")
DEFAULT = "harbour-dusk"
READABLE = 4.5
"""The least contrast of text that WCAG 2.2 asks for at level AA (success criterion 1.4.3)."""

_HEX = re.compile(r"#[0-9a-fA-F]{6}")
_SIXTEEN = re.compile(r"(default|(bright_)?(black|red|green|yellow|blue|magenta|cyan|white))( dim| bold)?")
_LEVELS = (0, 95, 135, 175, 215, 255)  # of the colour cube of xterm, 16 to 231; 232 to 255 are greys
_BLACK = 1.35  # contrast to black, up to which a ground may be black as well
_HUELESS = 48  # between the largest and the smallest part of a colour that may become a grey
_MOST_BYTES = 64 * 1024


class ThemeRefused(WorkbenchError):
    """A theme that there is not, or that cannot be used: what is wrong with its file, and what would be right."""


class Theme(NamedTuple):
    """Its name, whether its ground is dark, whether it is the terminal's own colours, colours by name."""

    name: str
    dark: bool
    ansi: bool
    colours: Mapping[str, str]


def names(own: Path | None = None) -> list[str]:
    """The themes there are: those that come along, then the brewer's own in `own`; each in alphabetical order."""
    ours = _in(folder("themes"))
    return ours + [name for name in _in(own) if name not in ours]


def shadowed(own: Path | None) -> list[str]:
    """Themes of the brewer's own that have the name of one that comes along, which is used instead."""
    ours = _in(folder("themes"))
    return [name for name in _in(own) if name in ours]


def load(name: str, own: Path | None = None) -> Theme:
    """The theme of that name. Raises ThemeRefused if there is none, or if its file cannot be used."""
    for place in (folder("themes"), own):
        if place is not None and name in _in(place):
            return _read(place / f"{name}.toml")
    raise ThemeRefused(f"there is no theme {harmless(name)}: there are {', '.join(names(own))}")


def _in(place: Path | None) -> list[str]:
    try:
        return [] if place is None else sorted(harmless(path.stem) for path in place.glob("*.toml"))
    except OSError:  # a folder that cannot be looked into has no themes for us
        return []


def _read(path: Path) -> Theme:
    name = path.stem
    try:
        with path.open("rb") as file:
            said = tomllib.loads(file.read(_MOST_BYTES).decode("utf-8"))
    except (OSError, ValueError) as wrong:  # unreadable, no text, no TOML
        raise ThemeRefused(f"theme {name}: {harmless(str(wrong))}") from None
    ansi = said.get("ansi") is True
    if faults := list(_faults(said, ansi=ansi)):
        more = f" (and {len(faults) - 1} more)" if len(faults) > 1 else ""
        raise ThemeRefused(f"theme {name}: {faults[0]}{more}")
    return Theme(name, said.get("dark", True), ansi, {colour: said[colour] for colour in COLOURS})


def _faults(said: Mapping[str, Any], *, ansi: bool) -> Iterator[str]:
    """What is wrong with the words of a theme, in order; unknown words are nobody's harm."""
    allowed, right = (_SIXTEEN, '"cyan" or "default dim"') if ansi else (_HEX, '"#99adbc"')
    for colour in COLOURS:
        if colour not in said:
            yield f"{colour} is missing: write {colour} = {right}"
        elif not isinstance(said[colour], str) or not allowed.fullmatch(said[colour]):
            yield f"{colour} = {harmless(str(said[colour]))} is no colour: write {colour} = {right}"
    for word in ("dark", "ansi"):
        if not isinstance(said.get(word, True), bool):
            yield f"{word} is true or false"


def contrast(one: str, other: str) -> float:
    """The contrast ratio of two colours `#rrggbb`, 1 to 21.

    W3C, Web Content Accessibility Guidelines 2.2, definitions of contrast ratio and relative luminance.
    """
    darker, lighter = sorted((_luminance(one), _luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def _luminance(colour: str) -> float:
    shares = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in shares)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def rounded(theme: Theme) -> Theme:
    """The theme in the 240 colours of fixed value that a terminal with 256 has: the nearest of its cube and its greys.

    Rich would round to the nearest hue: it makes dark slate navy, on which little can be read.
    """
    if theme.ansi:
        return theme
    colours = {name: _nearest(colour) for name, colour in theme.colours.items()}
    if contrast(theme.colours["ground"], "#000000") < _BLACK:
        colours["ground"] = "#000000"  # goes out with every stretch of text, and its number is the shortest
    return theme._replace(colours=colours)


def _nearest(colour: str) -> str:
    wanted = [int(colour[at : at + 2], 16) for at in (1, 3, 5)]
    cube = [min((abs(level - part), level) for level in _LEVELS)[1] for part in wanted]
    grey = min(24, max(1, round((sum(wanted) / 3 + 2) / 10)))  # of 24; the terminal's is 10 * grey - 2
    off = sum((a - b) ** 2 for a, b in zip(cube, wanted, strict=True))
    is_grey = max(wanted) - min(wanted) <= _HUELESS and sum((10 * grey - 2 - part) ** 2 for part in wanted) < off
    sent = [round(10.2 * grey)] * 3 if is_grey else cube  # the grey that Rich takes for that one
    return "#{:02x}{:02x}{:02x}".format(*sent)


def faint(theme: Theme) -> str:
    """The text of a theme that is hardest to read, in a sentence; empty where all can be read.

    Of the terminal's own colours nothing is known.
    """
    if theme.ansi:
        return ""
    pairs = [(ink, ground) for ink in INKS for ground in GROUNDS] + [("ground", "accent"), ("ground", "typed")]
    least, ink, ground = min((contrast(theme.colours[ink], theme.colours[on]), ink, on) for ink, on in pairs)
    if least >= READABLE:
        return ""
    return f"theme {theme.name}: {ink} on {ground} is hard to read, contrast {least:.1f}; {READABLE} is the least"
