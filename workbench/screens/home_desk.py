"""The state of the home screen: which batches are shown, where the cursor is, what is being typed. No terminal.

`home_actions` changes it, `home_drawing` shows it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from workbench.errors import FileRefused
from workbench.panes.batches import Listed, View
from workbench.plan.summary import order, state
from workbench.screens.keys import ACTIONS, HOME_ACTIONS, by_id

if TYPE_CHECKING:
    from collections.abc import Callable
    from datetime import datetime
    from pathlib import Path

    from workbench.panes.glyphs import Glyphs
    from workbench.plan.habits import Habits
    from workbench.plan.model import Plan
    from workbench.plan.summary import Summary
    from workbench.screens.editor import Line
    from workbench.screens.finder import Finder
    from workbench.screens.keys import Action
    from workbench.session.index import Index

__all__ = ["HomeDesk", "PutAway", "Question"]


@dataclass(slots=True)
class Question:
    """What is being typed: the words of a filter, or (`about` an action) the name of a batch."""

    about: str
    line: Line
    error: str = ""


class PutAway(NamedTuple):
    """A batch in the archive, and where it came from."""

    archived: Path
    path: Path


@dataclass(slots=True)
class HomeDesk:
    """Everything that the home screen shows, and nothing else that changes. `fresh` is the text of a new batch."""

    index: Index[Summary]
    clock: Callable[[], datetime]
    glyphs: Glyphs
    fresh: Callable[[str], str]
    habits: Habits
    actions: tuple[Action, ...] = HOME_ACTIONS
    of_batch: tuple[Action, ...] = ACTIONS  # those of a batch, which the tour tells of
    at: Path | None = None  # the batch under the cursor
    held: bool = False  # the cursor stays on its batch; else, untouched so far, on the first row
    first: int = 0  # the first row shown
    height: int = 10  # rows that there is room for
    words: str = ""  # of the filter
    question: Question | None = None
    finder: Finder | None = None  # the list of what can be done, instead of the batches
    themes: Callable[[], tuple[str, ...]] = tuple  # those to choose from
    in_form: Callable[[str, Plan, str], tuple[str, str]] = lambda *_: ("", "")  # as `Desk`'s, of a plan and its file
    exported: dict[Path, bytes] = field(default_factory=dict)  # files written in this run
    touring: bool = False
    said: str = ""
    trouble: str = ""  # with the folder itself
    put_away: list[PutAway] = field(default_factory=list)
    opening: Path | None = None  # a batch to be shown instead
    rows: list[Listed] = field(default_factory=list)  # those shown, in order
    everything: list[Listed] = field(default_factory=list)  # also those that the filter hides
    now: datetime = field(init=False)
    _place: int = 0  # of the cursor, for when its batch goes

    def __post_init__(self) -> None:
        self.now = self.clock()

    @property
    def view(self) -> View:
        """When and how the batches are shown."""
        return View(self.now, self.glyphs, self.habits.tz)

    def key(self, action: str) -> str:
        """What the brewer presses for an action."""
        return by_id(self.actions, action).key

    def look(self) -> None:
        """Look into the folder again."""
        self.trouble = ""
        try:
            self.index.look()
        except FileRefused as wrong:
            self.trouble = str(wrong)
        self.recount()
        if self.trouble and self.rows:  # they are as they were
            self.said = f"the folder {self.trouble.removeprefix(f'{self.index.folder}: ')}"

    def due(self, since: datetime) -> str:
        """What was to ring after `since` up to now, each with its batch; nothing where nothing was."""
        found = ((a, it.name) for it in self.everything for a in it.told.rings if since < a.at <= self.now)
        return "; ".join(f"{name}: {alarm.what}" for alarm, name in sorted(found))

    def pause_s(self) -> float:
        """Seconds until the next minute, or until something rings."""
        ahead = [(a.at - self.now).total_seconds() for it in self.everything for a in it.told.rings if a.at > self.now]
        return min([60.5 - self.now.second, *(seconds + 0.1 for seconds in ahead)])

    def recount(self) -> None:
        """Put the batches in order anew: the hour, the filter or some of them have changed."""
        self.now = self.clock()
        listed = [Listed(path, told) for path, told in self.index.known.items()]
        self.everything = sorted(listed, key=lambda item: (order(item.told, self.now), item.path.name))
        self.sift()

    def sift(self) -> None:
        """Show those batches that have every word of the filter."""
        words = self.words.casefold().split()
        self.rows = [item for item in self.everything if all(word in self._text(item) for word in words)]
        if self.held:
            self.put(self.at)
        else:
            self.step_to(0)

    def _text(self, item: Listed) -> str:
        word, _ = state(item.told, self.now, self.habits.tz)
        return f"{item.name} {item.path.stem} {word}".casefold()

    def put(self, path: Path | None) -> None:
        """The cursor on this batch; where it is not shown, near where the cursor was."""
        places = [place for place, item in enumerate(self.rows) if item.path == path]
        self.step_to(places[0] if places else self._place)

    def step_to(self, place: int) -> None:
        """The cursor on row `place`, held at the ends."""
        self._place = max(0, min(place, len(self.rows) - 1))
        self.at = self.rows[self._place].path if self.rows else None

    @property
    def place(self) -> int:
        """The row under the cursor."""
        return self._place

    @property
    def item(self) -> Listed | None:
        """The batch under the cursor."""
        return self.rows[self._place] if self.rows else None
