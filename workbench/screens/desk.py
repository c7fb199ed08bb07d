"""The state of the screen: pane, row, feeding considered, what is being typed. It knows no terminal.

`actions` changes it, `drawing` shows it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from workbench.errors import EditRefused
from workbench.panes import clock, day, doses, steps, ways, wort, yeast
from workbench.panes.rows import Scene, stops
from workbench.plan.derive import derive
from workbench.plan.habits import Habits
from workbench.screens.keys import ACTIONS

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from datetime import datetime, tzinfo

    from workbench.panes.glyphs import Glyphs
    from workbench.panes.rows import Row
    from workbench.panes.spans import Spans
    from workbench.plan.model import Plan
    from workbench.plan.solver import Term
    from workbench.plan.ways import Way
    from workbench.screens.editor import Line
    from workbench.screens.keys import Action
    from workbench.session.edits import Edit
    from workbench.session.store import Store
    from workbench.units.show import System

__all__ = ["STEPS", "Desk", "Entry", "Page", "Spot"]

STEPS = 2  # the pane of the feedings
_PANES = (yeast.rows, wort.rows, steps.rows, doses.rows, clock.rows, day.rows)


@dataclass(slots=True)
class Entry:
    """What is being typed: for which key, what it began with, and what is wrong with it so far.

    A `measure` is a reading to be noted and has no key yet; `names` is the name of a file to be made.
    """

    key: str
    line: Line
    began: str
    means: str
    units: str = ""
    choices: tuple[str, ...] = ()
    shown: str = ""  # the value as the row shows it: a number alone is in its unit
    error: str = ""
    measure: bool = False
    names: bool = False
    term: Term | None = None  # of the wort's balance, which is solved
    fresh: Edit | None = None  # what put this row in just now: leaving takes it out, keeping makes one change of both


@dataclass(slots=True)
class Page:
    """A page that a pane shows instead of its rows: its lines for a width, and the first one shown."""

    lines: Callable[[int], list[Spans]]
    first: int = 0


@dataclass(slots=True)
class Spot:
    """Where the cursor of a pane is: on the row of that id; `index` finds a neighbour once that row is gone."""

    id: str = ""
    index: int = 0
    first: int = 0  # the first row shown


@dataclass(slots=True)
class Desk:
    """Everything that the screen shows, and nothing else that changes."""

    store: Store
    clock: Callable[[], datetime]
    glyphs: Glyphs
    system: System = "metric"
    tz: tzinfo | None = None
    comma: bool = False
    demo: bool = False  # a scratch copy: the top line says so
    habits: Habits | None = None
    flasks: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)  # the brewer's own, by name
    actions: tuple[Action, ...] = ACTIONS
    pane: int = 0
    step: int = 0
    zoomed: bool = False
    planning: bool = False  # pane 3 shows ways to meet the need
    typed_terms: dict[int, tuple[Term, Term]] = field(default_factory=dict)  # of each feeding, the last of them last
    entry: Entry | None = None
    page: Page | None = None
    said: str = ""
    spots: list[Spot] = field(default_factory=lambda: [Spot() for _ in _PANES])
    widths: list[int] = field(default_factory=lambda: [35] * len(_PANES))
    plan: Plan = field(init=False)
    _rows: dict[int, list[Row]] = field(default_factory=dict)
    _ways: tuple[Way, ...] | None = None

    def __post_init__(self) -> None:
        self.recompute()

    def recompute(self) -> None:
        """Derive the plan anew: the session or the minute has changed."""
        self.plan = derive(self.store.session, self.clock(), (self.habits or Habits())._replace(tz=self.tz))
        self._ways = None
        self.step = max(0, min(self.step, len(self.plan.steps) - 1))
        self.redraw()

    def applied(self, edit: Edit) -> bool:
        """Whether the store made the change; refused, the bottom line says why and nothing is changed."""
        try:
            self.store.apply(edit)
        except EditRefused as refused:
            self.said = str(refused)
            return False
        return True

    def redraw(self) -> None:
        """Make all rows anew: how they are shown has changed."""
        self._rows.clear()

    @property
    def at_rest(self) -> bool:
        """Whether there is nothing to go back from: no line, no page, no ways, no pane over the whole screen."""
        return self.entry is None and self.page is None and not self.zoomed and not self.planning

    @property
    def scene(self) -> Scene:
        """What the panes draw."""
        stands = self.typed_terms.get(self.step, ())
        return Scene(self.plan, self.glyphs, self.system, self.tz, self.step, self.comma, stands, self.ways)

    @property
    def ways(self) -> tuple[Way, ...]:
        """While planning the ways to meet the need, worked out once for each change."""
        if not self.planning:
            return ()
        if self._ways is None:
            from workbench.plan.ways import ways as all_ways  # only who plans needs them

            self._ways = all_ways(self.store.session, self.clock(), (self.habits or Habits())._replace(tz=self.tz))
        return self._ways

    def rows(self, pane: int) -> list[Row]:
        """The rows of a pane, made once until something changes."""
        if pane not in self._rows:
            drawn = ways.rows if pane == STEPS and self.planning else _PANES[pane]
            self._rows[pane] = drawn(self.scene, self.widths[pane])
        return self._rows[pane]

    def cursor(self, pane: int) -> int:
        """The index of the row under the cursor, -1 if the pane has none to stop on."""
        rows, spot = self.rows(pane), self.spots[pane]
        where = stops(rows)
        for index in where:
            if rows[index].id == spot.id:
                spot.index = index
                return index
        if not where:
            return -1
        return min(where, key=lambda index: abs(index - spot.index))

    def row(self) -> Row | None:
        """The row under the cursor of the chosen pane."""
        index = self.cursor(self.pane)
        return self.rows(self.pane)[index] if index >= 0 else None

    def put(self, row_id: str) -> None:
        """Put the cursor of the chosen pane on the row of that id; it stays near if there is none."""
        self.spots[self.pane].id = row_id
