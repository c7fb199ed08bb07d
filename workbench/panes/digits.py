"""Time as large digits, three rows high, that can be read from across the garage."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from workbench.panes.glyphs import Glyphs
    from workbench.panes.spans import Spans

__all__ = ["WIDTH", "clock_text", "large"]

WIDTH = 19
"""Cells of `mm:ss`; an hour more takes eight."""
# Each sign as three columns of five dots, from top to bottom; `:` is one column.
_DOTS = {
    "0": ("###", "#.#", "#.#", "#.#", "###"),
    "1": (".#.", "##.", ".#.", ".#.", "###"),
    "2": ("###", "..#", "###", "#..", "###"),
    "3": ("###", "..#", ".##", "..#", "###"),
    "4": ("#.#", "#.#", "###", "..#", "..#"),
    "5": ("###", "#..", "###", "..#", "###"),
    "6": ("###", "#..", "###", "#.#", "###"),
    "7": ("###", "..#", "..#", ".#.", ".#."),
    "8": ("###", "#.#", "###", "#.#", "###"),
    "9": ("###", "#.#", "###", "..#", "###"),
    ":": (".", "#", ".", "#", "."),
}
_HALVES = {(True, True): "█", (True, False): "▀", (False, True): "▄", (False, False): " "}


def clock_text(seconds: float) -> str:
    """`09:41`, from an hour on `1:09:41`; below 0 as 0."""
    minutes, left = divmod(max(0, int(seconds)), 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours}:{minutes:02}:{left:02}" if hours else f"{minutes:02}:{left:02}"


def large(seconds: float, role: str, glyphs: Glyphs) -> list[Spans]:
    """The time in three rows; without block signs spaced digits in the middle one."""
    text = clock_text(seconds)
    if glyphs.name in ("ascii", "words"):
        spaced = text if glyphs.name == "words" else "  " + " ".join(text)
        return [(("", role),), ((spaced, role),), (("", role),)]
    rows: list[Spans] = []
    for upper in (0, 2, 4):
        signs = []
        for sign in text:
            dots = _DOTS[sign]
            below = dots[upper + 1] if upper < 4 else "." * len(dots[0])
            signs.append("".join(_HALVES[a == "#", b == "#"] for a, b in zip(dots[upper], below, strict=True)))
        rows.append(((" ".join(signs), role),))
    return rows
