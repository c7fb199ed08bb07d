"""Which lines of a TOML text belong together: a header, its keys, and the comments that speak of them.

A block runs from the comment lines directly above its header to its last key and the comment lines directly beneath
that. A comment directly above the next header belongs to that one; what blank lines set apart belongs to no block and
stays where it is. All spans are offsets of whole lines.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeAlias

if TYPE_CHECKING:
    from collections.abc import Sequence

    from workbench.session.locate import Layout, Mark, Path

__all__ = ["Blocks", "Span", "is_blank_at", "line_end", "line_start", "newline_of", "permuted", "starts_with"]

Span: TypeAlias = tuple[int, int]


def newline_of(text: str) -> str:
    """The line ending this text uses, judged by its first line."""
    first = text.find("\n")
    return "\r\n" if first > 0 and text[first - 1] == "\r" else "\n"


def line_start(text: str, at: int) -> int:
    """Where the line that holds offset `at` begins."""
    return text.rfind("\n", 0, at) + 1


def line_end(text: str, at: int) -> int:
    """Where the line that holds offset `at` ends, behind its line ending."""
    return text.find("\n", at) + 1 or len(text)


def is_blank_at(text: str, at: int) -> bool:
    """Whether a line begins at `at` with nothing on it."""
    return at < len(text) and not text[at : line_end(text, at)].strip()


def permuted(text: str, spans: Sequence[Span], order: Sequence[int]) -> str:
    """The text with what stands in the spans, which must not overlap, put into a new order."""
    parts, at = [], 0
    for (start, end), source in zip(spans, order, strict=True):
        parts += [text[at:start], text[slice(*spans[source])]]
        at = end
    return "".join([*parts, text[at:]])


class Blocks:
    """The blocks of one layout."""

    def __init__(self, layout: Layout) -> None:
        self.text = layout.text
        self.places: list[Mark] = [mark for mark in layout.marks if mark.kind != "member"]
        self.headers = [i for i, mark in enumerate(self.places) if mark.is_header]

    def span(self, header: int) -> Span:
        """The lines of the block whose header is `places[header]`."""
        return self._start(header), self.end(self.next_header(header))

    def group(self, header: int) -> Span:
        """The same with the blocks of the tables inside it that follow directly."""
        path, last = self.places[header].path, self.next_header(header)
        while last < len(self.places) and starts_with(self.places[last].path, path):
            last = self.next_header(last)
        return self._start(header), self.end(last)

    def next_header(self, place: int) -> int:
        """The place of the header after `places[place]`, or the number of places."""
        return next((i for i in self.headers if i > place), len(self.places))

    def end(self, behind: int) -> int:
        """Where the block ends whose last place is the one before `places[behind]`."""
        if behind == 0:
            return 0
        end = tail = line_end(self.text, self.places[behind - 1].end)
        limit = self._line_of(behind)
        while tail < limit and self.text[tail : line_end(self.text, tail)].lstrip().startswith("#"):
            tail = line_end(self.text, tail)
        return end if tail == limit < len(self.text) else tail

    def _start(self, header: int) -> int:
        floor = line_end(self.text, self.places[header - 1].end) if header else 0
        start = self._line_of(header)
        while start > floor:
            above = line_start(self.text, start - 1)
            if not self.text[above:start].lstrip().startswith("#"):
                break
            start = above
        return start

    def _line_of(self, place: int) -> int:
        return line_start(self.text, self.places[place].start) if place < len(self.places) else len(self.text)


def starts_with(path: Path, beginning: Path) -> bool:
    """Whether `path` is `beginning` or something inside it."""
    return path[: len(beginning)] == beginning
