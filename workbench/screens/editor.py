"""A line of text being typed: the text, where the cursor stands, and what each key does to it."""

from __future__ import annotations

from typing import NamedTuple

from rich.cells import cell_len

__all__ = ["Line", "press", "start", "turned", "window"]

LONGEST = 200
"""Most characters a line takes; what is pasted beyond it is left out."""


class Line(NamedTuple):
    """The text and the cursor, `at` from 0 to `len(text)`; a `fresh` text gives way to the first thing typed."""

    text: str = ""
    at: int = 0
    fresh: bool = False

    def insert(self, new: str) -> Line:
        """`new` at the cursor; line ends and other controls are left out."""
        if self.fresh:
            return Line().insert(new)
        kept = "".join(c for c in new if c.isprintable())[: max(0, LONGEST - len(self.text))]
        return Line(self.text[: self.at] + kept + self.text[self.at :], self.at + len(kept))

    def cut(self, to: int) -> Line:
        """Without what stands between the cursor and `to`."""
        low, high = sorted((self.at, max(0, min(to, len(self.text)))))
        return Line(self.text[:low] + self.text[high:], low)

    def move(self, to: int) -> Line:
        """The cursor at `to`, kept inside the text."""
        return self._replace(at=max(0, min(to, len(self.text))), fresh=False)

    def word_left(self) -> int:
        """Where the word before the cursor begins."""
        return len(self.text[: self.at].rstrip().rpartition(" ")[0]) + (" " in self.text[: self.at].rstrip())

    def word_right(self) -> int:
        """Where the word behind the cursor ends."""
        rest = self.text[self.at :]
        blanks = len(rest) - len(rest.lstrip())
        return self.at + blanks + len(rest.lstrip().partition(" ")[0])


def turned(words: tuple[str, ...], word: str, by: int) -> str:
    """The word so many after `word`, round and round; the first where it is none of them."""
    return words[(words.index(word) + by) % len(words)] if word in words else words[0]


def start(text: str, *, fresh: bool = False) -> Line:
    """A line to be edited, the cursor behind its end; `fresh`: typing replaces it, moving or rubbing out edits it."""
    return Line(text, len(text), fresh)


def press(line: Line, key: str, character: str | None) -> Line | None:
    """The line after a key by Textual's name; None if the key means nothing to a line."""
    moves = {"left": line.at - 1, "right": line.at + 1, "home": 0, "end": len(line.text), "ctrl+e": len(line.text)}
    moves |= {"ctrl+left": line.word_left(), "ctrl+right": line.word_right()}
    cuts = {"backspace": line.at - 1, "delete": line.at + 1, "ctrl+u": 0, "ctrl+k": len(line.text)}
    cuts |= {"ctrl+w": line.word_left()}
    if key in moves:
        return line.move(moves[key])
    if key in cuts:
        return line.cut(cuts[key])
    if character and character.isprintable():
        return line.insert(character)
    return None


def window(line: Line, width: int) -> tuple[str, int]:
    """What of the line shows in `width` cells, blanks behind it, and where the cursor stands in that."""
    first = max(0, line.at - width + 1)
    while cell_len(line.text[first : line.at + 1]) > width - (line.at == len(line.text)):
        first += 1
    shown = line.text[first : first + width]
    while cell_len(shown) > width:
        shown = shown[:-1]
    return shown + " " * (width - cell_len(shown)), line.at - first
