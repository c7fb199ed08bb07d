"""The one widget: it shows lines of spans and repaints only the cells that changed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.cells import cell_len
from rich.segment import Segment
from textual.geometry import Region
from textual.strip import Strip
from textual.widget import Widget

from workbench.panes.spans import clean, ground, is_clean, width

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from rich.style import Style

    from workbench.panes.spans import Spans

__all__ = ["Canvas"]

_MOST_STRIPS = 400


class Canvas(Widget):
    """A rectangle of lines. It takes no focus and no keys: the app knows where the cursor is."""

    can_focus = False

    def __init__(self, table: Mapping[str, Style], *, ground: str = "text", id: str) -> None:  # noqa: A002 - Textual's
        super().__init__(id=id)
        self._table = table
        self._ground = ground
        self._lines: Sequence[Spans] = ()
        self._strips: dict[tuple[Spans, int], Strip] = {}
        self.awake = False

    @property
    def text(self) -> str:
        """What stands on it, without colours."""
        return "\n".join("".join(text for text, _ in line).rstrip() for line in self._lines)

    def show(self, lines: Sequence[Spans]) -> None:
        """Show these lines: of each that differs from the one drawn, the differing stretch is repainted."""
        before, self._lines = self._lines, tuple(map(_harmless, lines))
        rows = max(len(before), len(lines))
        regions = [
            Region(left, y, right - left, 1)
            for y in range(min(rows, self.size.height))
            for left, right in (_changed(_line(before, y), _line(self._lines, y), self._ground),)
            if right > left
        ]
        if regions:
            self.refresh(*regions)

    def refresh(self, *regions: Region, repaint: bool = True, layout: bool = False, recompose: bool = False) -> Canvas:
        """As Textual's, but until it is awake it does not ask to be painted as a whole: the first layout does that."""
        repaint = repaint and (self.awake or bool(regions))
        return super().refresh(*regions, repaint=repaint, layout=layout, recompose=recompose)

    def recolour(self, table: Mapping[str, Style]) -> None:
        """Draw with another table of styles from now on."""
        self._table = table
        self._strips.clear()
        self.refresh()

    def render_line(self, y: int) -> Strip:
        """One line, with the ground filled up to the right edge."""
        key = (_line(self._lines, y), self.size.width)
        strip = self._strips.get(key)
        if strip is None:
            if len(self._strips) > _MOST_STRIPS:
                self._strips.clear()
            strip = self._strips[key] = self._strip(*key)
        return strip

    def _strip(self, line: Spans, cells: int) -> Strip:
        base = self._table[self._ground]
        segments = [Segment(text, self._table[role]) for text, role in line]
        # blanks go with a last span on the same ground: one colour code less
        last = line[-1][1] if line and ground(line[-1][1]) == ground(self._ground) else self._ground
        segments.append(Segment(" " * max(0, cells - width(line)), self._table[last]))
        return Strip(segments).simplify().adjust_cell_length(cells, base)


def _harmless(line: Spans) -> Spans:
    """The last guard before the terminal: nothing in a line can steer it, whoever forgot to see to that."""
    return line if all(is_clean(text) for text, _ in line) else tuple((clean(text), role) for text, role in line)


def _line(lines: Sequence[Spans], y: int) -> Spans:
    return lines[y] if y < len(lines) else ()


def _changed(before: Spans, after: Spans, ground: str) -> tuple[int, int]:
    """The first differing cell and the one behind the last; equal lines give an empty stretch."""
    if before == after:
        return 0, 0
    old, new = _cells(before), _cells(after)
    blank = (" ", ground)
    size = max(len(old), len(new))
    if len(old) != width(before) or len(new) != width(after):  # signs that join: what stands where is not told by sums
        return 0, size
    old += [blank] * (size - len(old))
    new += [blank] * (size - len(new))
    differing = [x for x in range(size) if not _same(old[x], new[x])]
    return (differing[0], differing[-1] + 1) if differing else (0, 0)


def _same(old: tuple[str, str], new: tuple[str, str]) -> bool:
    """Blanks on one ground look the same whatever their letters' colour would be."""
    if old == new:
        return True
    return old[0] == new[0] == " " and ground(old[1]) == ground(new[1])


def _cells(line: Spans) -> list[tuple[str, str]]:
    """One entry a cell; a wide sign takes two."""
    cells: list[tuple[str, str]] = []
    for text, role in line:
        for sign in text:
            cells += [(sign, role)] + [("", role)] * (cell_len(sign) - 1)
    return cells
