"""The screen of a file that cannot be shown: every fault of it, with its line, key, and what would be right."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.screen import Screen

from workbench.panes.canvas import Canvas
from workbench.panes.spans import clean, wrap
from workbench.session.faults import FaultyFile

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from rich.style import Style
    from textual.app import ComposeResult

    from workbench.errors import WorkbenchError
    from workbench.panes.spans import Spans

__all__ = ["Faulty", "fault_lines"]


class Faulty(Screen[None]):
    """Lists the faults; `r` reads the file again once they are mended elsewhere, `q` leaves."""

    AUTO_FOCUS = ""
    CSS = "Faulty Canvas { width: 1fr; height: 1fr; }"

    def __init__(self, path: Path, wrong: WorkbenchError, table: Mapping[str, Style]) -> None:
        super().__init__()
        self._path, self._wrong = path, wrong
        self.canvas = Canvas(table, id="faults")

    def compose(self) -> ComposeResult:
        """The one canvas."""
        yield self.canvas

    def on_resize(self) -> None:
        """Wrapped anew for the width there is."""
        self.canvas.show(fault_lines(self._path, self._wrong, self.size.width, self.size.height))

    def recolour(self, table: Mapping[str, Style]) -> None:
        """Draw with another table of styles."""
        self.canvas.recolour(table)


def fault_lines(path: Path, wrong: WorkbenchError, cells: int, height: int) -> list[Spans]:
    """The faults as lines; those that do not fit are counted."""
    lines: list[Spans] = [((f" {clean(path.name)} can't be shown as it is.", "danger"),), ()]
    if isinstance(wrong, FaultyFile):
        for fault in wrong.faults:
            lines.append(((f" line {fault.line}", "dim"), (f"  {clean(fault.key)}", "key")))
            lines += [((f"   {line}", "text"),) for line in wrap(clean(f"{fault.what}: {fault.right}"), cells - 4)]
    else:
        lines += [((f" {line}", "text"),) for line in wrap(clean(str(wrong)), cells - 2)]
    again: Spans = ((" Mend it in any editor; ", "dim"), ("r", "key"), (" reads it again, ", "dim"))
    foot: list[Spans] = [(), (*again, ("q", "key"), (" leaves", "dim"))]
    room = height - len(foot)
    if len(lines) > room:
        lines = [*lines[: room - 1], ((f" and {len(lines) - room + 1} lines more", "dim"),)]
    return lines + foot
