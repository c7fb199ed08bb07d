"""The state of the screen: pane, row, feeding considered, what is being typed. It knows no terminal.

`actions` changes it, `drawing` shows it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, NamedTuple

from workbench.errors import EditRefused
from workbench.panes import clashes, clock, day, doses, steps, ways, wort, yeast
from workbench.panes.rows import Scene, stops
from workbench.plan import clock as clock_plan
from workbench.plan.derive import derive
from workbench.plan.habits import Habits
from workbench.screens.keys import ACTIONS
from workbench.units.retold import retold

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from datetime import datetime, tzinfo
    from pathlib import Path

    from workbench.panes.glyphs import Glyphs
    from workbench.panes.rows import Row
    from workbench.panes.spans import Spans
    from workbench.plan.clock import Live
    from workbench.plan.model import Moment, Plan
    from workbench.plan.solver import Term
    from workbench.plan.ways import Way
    from workbench.screens.editor import Line
    from workbench.screens.finder import Finder
    from workbench.screens.keys import Action
    from workbench.session.edits import Edit
    from workbench.session.store import Store
    from workbench.units.mark import Mark
    from workbench.units.show import System

__all__ = ["CLOCK", "DAY", "DAY_PANES", "STEPS", "Ask", "Desk", "Entry", "Page", "Spot"]

STEPS = 2  # the pane of the feedings
CLOCK, DAY = 4, 5
DAY_PANES = (CLOCK, DAY)  # those in which time runs
_PANES = (yeast.rows, wort.rows, steps.rows, doses.rows, clock.rows, day.rows)


class Ask(NamedTuple):
    """What a line asks for that has no row of its own: its label, what it means, and what keeping it does.

    `keep` gets the text and the instant of the first key, makes the change and says what it did, "" for nothing. It
    raises a WorkbenchError where it cannot.
    """

    label: str
    means: str
    keep: Callable[[str, Mark], str]
    may_be_empty: bool = False


@dataclass(slots=True, eq=False, repr=False)
class Entry:
    """What is being typed: for which key, what it began with, and what is wrong with it so far.

    What an `ask` wants has no key; it is stamped with `at`.
    """

    key: str
    line: Line
    began: str
    means: str
    units: str = ""
    choices: tuple[str, ...] = ()
    shown: str = ""  # the value as the row shows it: a number alone is in its unit
    error: str = ""
    ask: Ask | None = None
    at: Mark | None = None
    term: Term | None = None  # of the wort's balance, which is solved
    fresh: Edit | None = None  # what put this row in just now: leaving takes it out, keeping makes one change of both


@dataclass(slots=True, eq=False, repr=False)
class Page:
    """A page that a pane shows instead of its rows: its lines for a width, and the first one shown.

    `alone`: over the whole screen, so that no other pane stands beside what is copied.
    """

    lines: Callable[[int], list[Spans]]
    first: int = 0
    alone: bool = False


@dataclass(slots=True, eq=False, repr=False)
class Spot:
    """Where the cursor of a pane is: on the row of that id; `index` finds a neighbour once that row is gone."""

    id: str = ""
    index: int = 0
    first: int = 0  # the first row shown


@dataclass(slots=True, eq=False, repr=False)
class Desk:
    """Everything that the screen shows, and nothing else that changes."""

    store: Store
    clock: Callable[[], Mark]
    glyphs: Glyphs
    system: System = "metric"
    tz: tzinfo | None = None
    comma: bool = False
    demo: bool = False  # a scratch copy: the top line says so
    habits: Habits | None = None
    flasks: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)  # the brewer's own, by name
    fresh: Callable[[str], str] = str  # the text of a new batch of a name
    in_form: Callable[[str, Desk], tuple[str, str]] = lambda *_: ("", "")  # the plan in a form: a suffix, the text
    themes: Callable[[], tuple[str, ...]] = tuple  # those to choose from
    actions: tuple[Action, ...] = ACTIONS
    pane: int = 0
    step: int = 0
    zoomed: bool = False
    planning: bool = False  # pane 3 shows ways to meet the need
    left: Spot = field(default_factory=Spot)  # where its cursor was before
    moved: tuple[int, datetime] | None = None  # of a feeding (0: pitching) at another hour
    deciding: bool = False  # pane 6 shows what was changed here and elsewhere
    typed_terms: dict[int, tuple[Term, Term]] = field(default_factory=dict)  # of each feeding, the last of them last
    entry: Entry | None = None
    page: Page | None = None
    finder: Finder | None = None  # the list of what can be done, instead of the rows
    exported: dict[Path, bytes] = field(default_factory=dict)  # files written in this run
    said: str = ""
    unseen: Mark | None = None  # since when a boil runs of which is asked whether it boiled all the time
    rung: set[str] = field(default_factory=set)  # alarms given in this run
    ring: bool = False  # the bell is to be rung
    alarm: str = ""  # what it rang for, in the top line until the next action
    looked: Mark | None = None  # when the clock was read last
    armed: str = ""  # the action that wants its key once more
    spots: list[Spot] = field(default_factory=lambda: [Spot() for _ in _PANES])
    widths: list[int] = field(default_factory=lambda: [35] * len(_PANES))
    plan: Plan = field(init=False)
    live: Live | None = field(init=False)
    _rows: dict[int, list[Row]] = field(default_factory=dict)
    _ways: tuple[Way, ...] | None = None

    def __post_init__(self) -> None:
        self.recompute()

    def recompute(self) -> None:
        """Derive the plan anew: the session or the minute has changed."""
        plan = derive(self.store.session, self.now, (self.habits or Habits())._replace(tz=self.tz))
        self.plan = plan._replace(warnings=tuple(w._replace(text=self.told(w.text)) for w in plan.warnings))
        self._ways = None
        self.look()
        self.step = max(0, min(self.step, len(self.plan.steps) - 1))
        self.redraw()

    def told(self, text: str) -> str:
        """A sentence in the brewer's units."""
        return retold(text, self.system, comma=self.comma)

    @property
    def now(self) -> datetime:
        """What the clock on the wall says."""
        return self.clock().at

    def look(self) -> None:
        """Read the running clock: a second has passed, no more."""
        self.live = None if self.plan.clock is None else clock_plan.live(self.plan.clock, self.clock())
        self._rows.pop(CLOCK, None)

    @property
    def asked(self) -> bool:
        """Whether a boil that ran on unseen is asked about: until it is answered, and again if that is undone."""
        boil = None if self.plan.clock is None else self.plan.clock.boil
        return self.unseen is not None and boil is not None and boil.since == self.unseen

    def applied(self, edit: Edit) -> bool:
        """Whether the store made the change; refused, the bottom line says why and nothing is changed."""
        try:
            self.store.apply(edit)
        except EditRefused as refused:
            self.said = str(refused)
            return False
        return True

    def forget_ways(self) -> None:
        """They are to be worked out anew."""
        self._ways = None
        self.redraw()

    @property
    def filling(self) -> bool:
        """Whether the chosen pane has the whole screen."""
        return self.zoomed or (self.page is not None and self.page.alone)

    def drawn(self, pane: int) -> Callable[[Scene, int], list[Row]]:
        """What makes the rows of a pane: its own, or those of a choice in its place."""
        instead = {STEPS: ways.rows} if self.planning else {}
        instead |= {DAY: clashes.rows} if self.deciding else {}
        return instead.get(pane, _PANES[pane])

    def redraw(self) -> None:
        """Make all rows anew: how they are shown has changed."""
        self._rows.clear()

    @property
    def keys(self) -> dict[str, str]:
        """What to press, by action."""
        return {action.id: action.key for action in self.actions}

    def key(self, action: str) -> str:
        """What the brewer presses for an action."""
        return self.keys[action]

    @property
    def at_rest(self) -> bool:
        """Whether there is nothing to go back from: no line, page, list or choice, no pane over the whole screen."""
        open_ = (self.entry, self.page, self.finder)
        return not any(open_) and not (self.zoomed or self.planning or self.deciding)

    @property
    def scene(self) -> Scene:
        """What the panes draw."""
        stands = self.typed_terms.get(self.step, ())
        return Scene(
            self.plan,
            self.glyphs,
            self.system,
            self.tz,
            self.step,
            self.comma,
            stands,
            self.ways,
            self.moved is not None,
            self.live,
            self.asked,
            self.store.sharing.clashes,
            self.keys,
        )

    @property
    def ways(self) -> tuple[Way, ...]:
        """While planning the ways to meet the need, worked out once for each change."""
        if not self.planning:
            return ()
        if self._ways is None:
            self._ways = self._worked_out()
        return self._ways

    def _worked_out(self) -> tuple[Way, ...]:
        """The ways to meet the need, or those at another hour; only who plans needs them."""
        from workbench.plan import moved
        from workbench.plan.ways import ways as all_ways

        session, now, habits = self.store.session, self.now, (self.habits or Habits())._replace(tz=self.tz)
        if self.moved is None:
            return all_ways(session, now, habits)
        step, at = self.moved
        if step:
            return moved.feeding_moved(session, now, habits, step, at)
        return moved.pitch_moved(session, now, habits, at)

    def rows(self, pane: int) -> list[Row]:
        """The rows of a pane, made once until something changes."""
        if pane not in self._rows:
            self._rows[pane] = self.drawn(pane)(self.scene, self.widths[pane])
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

    @property
    def task(self) -> Moment | None:
        """The task under the cursor in the pane of the day, while that is the chosen one."""
        row = self.row() if self.pane == DAY else None
        return next((task for task in self.plan.moments if row is not None and day.moment_id(task) == row.id), None)

    def once_more(self, action: str) -> bool:
        """Whether the key of an action is pressed once more; if not, the next time it is."""
        again = self.armed == action
        self.armed = "" if again else action
        return again

    def follow(self) -> None:
        """In the pane of the day the cursor goes to what is next."""
        if self.plan.next is not None:
            self.spots[DAY].id = day.moment_id(self.plan.next)

    def put(self, row_id: str) -> None:
        """Put the cursor of the chosen pane on the row of that id; it stays near if there is none."""
        self.spots[self.pane].id = row_id
