"""A pane as plain lines to be read out or copied: no columns, no drawing, every sign a word."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from workbench.panes.glyphs import WORDS
from workbench.panes.spans import clean

if TYPE_CHECKING:
    from collections.abc import Callable

    from workbench.panes.rows import Row, Scene

__all__ = ["linear"]

_ENDLESS = 10_000  # cells: nothing is wrapped or cut


def linear(drawn: Callable[[Scene, int], list[Row]], scene: Scene) -> list[str]:
    """What a pane says, a line for each row: label, value, unit, range, then its warnings in words."""
    lines: list[str] = []
    for row in drawn(scene._replace(glyphs=WORDS), _ENDLESS):
        said = " ".join(clean(f"{row.label} {''.join(text for text, _ in row.spans)}").split())
        said = re.sub(r"(?<=\S)–(?=\S)", " to ", re.sub(r"(?<!\S)–(?!\S)", "not given", said))
        said = re.sub(r" +([,;:)])", r"\1", said)
        if any(c.isalnum() for c in said) or (not said and lines and lines[-1]):
            lines.append(said)
    return lines
