"""What stands on a terminal after all that was written to it: enough of one to tell a change from a repaint."""

from __future__ import annotations

import re

__all__ = ["Picture"]

_PART = re.compile(r"\x1b\[([0-?]*)[ -/]*([@-~])|\x1b[^\[]|[^\x1b]+")


class Picture:
    """Cells with their colours. It knows what Textual writes: where the cursor goes, colours, and text."""

    def __init__(self) -> None:
        self._cells: dict[tuple[int, int], tuple[str, str]] = {}
        self._at = (0, 0)
        self._colours = ""

    def write(self, data: str) -> bool:
        """Whether anything looks different now. Sequences may not be cut in two."""
        before = dict(self._cells)
        for part in _PART.finditer(data):
            parameters, verb = part[1], part[2]
            if verb == "H":
                row, _, column = parameters.partition(";")
                self._at = int(row or 1) - 1, int(column or 1) - 1
            elif verb == "m":
                self._colours = "" if parameters in {"", "0"} else self._colours + f"{parameters};"
            elif part[0][0] != "\x1b":
                self._put(part[0])
        return self._cells != before

    def _put(self, text: str) -> None:
        row, column = self._at
        for sign in text:
            if sign == "\n":
                row += 1
            elif sign == "\r":
                column = 0
            else:
                self._cells[row, column] = sign, self._colours
                column += 1
        self._at = row, column
