"""The rows of a pane: what they say, which key each edits, which figure it can give the reason of.

The grid: cursor 1, label 9, mark 1, whole part 4, point and decimals 5, the unit behind the number, notes from
column 21. All numbers stand on their point; a typed value has a mark before it.
"""

from __future__ import annotations

from types import MappingProxyType
from typing import TYPE_CHECKING, NamedTuple

from workbench.panes.glyphs import plain
from workbench.panes.spans import clean, fit, join, pad, turn, width, wrap

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from datetime import tzinfo

    from workbench.panes.glyphs import Glyphs
    from workbench.panes.spans import Span, Spans
    from workbench.plan.clock import Live
    from workbench.plan.model import Caution, Figure, Level, Plan, Warning
    from workbench.plan.solver import Term
    from workbench.plan.ways import Way
    from workbench.session.merge import Change
    from workbench.units.show import System

__all__ = ["LABEL", "NOTE", "Row", "Rows", "Scene", "draw", "mark_of", "number", "scroll", "stops", "with_more"]

LABEL = 9
NOTE = 21
_WHOLE = 4
_LINES_OF_A_WARNING = 3  # beside or below a row; `w` shows all of it


class Scene(NamedTuple):
    """What panes draw: the plan, and how it is to be shown. `step` counts from 0, the one under consideration."""

    plan: Plan
    glyphs: Glyphs
    system: System
    tz: tzinfo | None = None  # None: this machine's
    step: int = 0
    comma: bool = False  # the decimal mark
    stands: tuple[Term, ...] = ()  # the terms of this feeding's wort that were typed last
    ways: tuple[Way, ...] = ()  # while planning
    moved: bool = False  # those ways are for another hour
    live: Live | None = None  # what runs, at this very instant
    asked: bool = False  # the clock asks whether a boil went on unseen
    clashes: tuple[Change, ...] = ()  # changed here and elsewhere, to be decided
    keys: Mapping[str, str] = MappingProxyType({})  # what to press, by action

    def key(self, *actions: str) -> str:
        """What the brewer presses for an action, or for each of several; its name where nothing is known."""
        pressed = " ".join(self.keys.get(action, action) for action in actions)
        return pressed.replace("⏎", self.glyphs.enter)


class Row(NamedTuple):
    """One row. The cursor stops on it if it has an `id`; Enter edits `key`, `w` shows why `figure` is what it is.

    `value` is the text an edit starts from, `choices` are the words it may be, `table` names what `x` removes
    and `<` `>` move, `step` the feeding that is considered once the cursor is here. A `term` of the wort is solved for.
    """

    label: str = ""
    spans: Spans = ()
    label_cells: int = LABEL
    id: str = ""
    key: str = ""
    value: str = ""
    choices: tuple[str, ...] = ()
    figure: Figure | None = None
    warnings: tuple[Warning, ...] = ()
    table: tuple[str, int] | None = None
    step: int | None = None
    term: Term | None = None
    way: int | None = None  # Enter takes it
    does: str = ""  # the action that Enter does
    picture: Spans = ()
    cautions: tuple[Caution, ...] = ()


def number(shown: str, unit: str, glyphs: Glyphs, *, typed: bool = False) -> Spans:
    """Mark, number and unit on the grid; `shown` as `1.60`, `-3`, `1,0335` or a sign for what cannot be said."""
    whole, point, decimals = shown.partition("," if "," in shown else ".")
    text = whole.rjust(_WHOLE) + point + decimals
    role = "typed" if typed else "text"
    mark = glyphs.typed if typed else "" if len(whole) > _WHOLE else " "  # one digit more where no mark stands
    return ((mark, role), (text, role), (f" {unit}" if unit else "", "dim"))


class Rows:
    """Collects the rows of one pane. `cells` is the width they are made for."""

    def __init__(self, scene: Scene, cells: int) -> None:
        self.scene = scene
        self.cells = cells
        self.rows: list[Row] = []

    def add(
        self, row: Row, *, note: Iterable[Span] = (), keys: Iterable[str] = (), column: int = NOTE - LABEL - 1
    ) -> None:
        """A row with a note behind its value and the warnings of `keys` beside it, or below where they do not fit."""
        glyphs = self.scene.glyphs
        note = tuple((plain(clean(text), glyphs), role) for text, role in note if text)
        spans = (*pad(row.spans, column - 1, "dim"), (" ", "dim"), *note) if note else tuple(row.spans)
        fits = 1 + row.label_cells + width(spans) <= self.cells
        warnings = tuple(w for key in dict.fromkeys((row.key, *keys)) if key for w in self.scene.plan.warnings_at(key))
        self.rows.append(row._replace(spans=spans if fits else tuple(row.spans), warnings=row.warnings + warnings))
        if note and not fits:
            self.below(note)
        for warning in warnings:
            self._warn(warning)

    def below(self, spans: Spans) -> None:
        """Something that belongs to the row above and has no room beside it: to the right, in a row of its own.

        Where that is too narrow for it, it is wrapped.
        """
        if width(spans) > self.cells - 1:
            for text, role in spans:
                self.say(text, role)
            return
        left = max(0, min(NOTE, self.cells - 1 - width(spans)))
        self.rows.append(Row(spans=((" " * left, "dim"), *spans), label_cells=0))

    def _warn(self, warning: Warning) -> None:
        """Beside the row if there is room for all of it, else on lines of its own."""
        last = self.rows[-1]
        says = sign(warning, self.scene.glyphs)
        if warning.code.startswith("needs-"):  # the row says what it is; the top line says all of it
            wanted = f"{self.scene.key('edit')} set it" if last.key else warning.text
            says = plain(wanted, self.scene.glyphs), "accent"
        if last.id and 1 + last.label_cells + width(last.spans) + 2 + width([says]) <= self.cells:
            self.rows[-1] = last._replace(spans=(*last.spans, ("  ", "text"), says))
            return
        lines = wrap(says[0], self.cells - 3)
        cut = self.scene.glyphs.cut if len(lines) > _LINES_OF_A_WARNING else ""
        for i, line in enumerate(lines[:_LINES_OF_A_WARNING]):
            end = cut if i == _LINES_OF_A_WARNING - 1 else ""
            self.rows.append(Row(spans=((line + end, says[1]),), label_cells=0))

    def blank(self) -> None:
        """An empty row, unless the pane is empty so far or just had one."""
        if self.rows and self.rows[-1] != Row():
            self.rows.append(Row())

    def say(self, text: str, role: str = "dim") -> None:
        """A sentence over the pane's width, wrapped."""
        for line in wrap(plain(clean(text), self.scene.glyphs), self.cells - 2):
            self.rows.append(Row(spans=((line, role),), label_cells=0))


def mark_of(level: Level, glyphs: Glyphs) -> Span:
    """The sign of a warning, and its role."""
    marks: dict[Level, Span] = {
        "note": (glyphs.note, "dim"),
        "caution": (glyphs.caution, "warning"),
        "danger": (glyphs.danger, "danger"),
    }
    return marks[level]


def sign(warning: Warning, glyphs: Glyphs) -> Span:
    """A warning as sign and words, in its role."""
    mark, role = mark_of(warning.level, glyphs)
    return f"{mark} {plain(clean(warning.text), glyphs)}", role


def stops(rows: Iterable[Row]) -> list[int]:
    """The indices of the rows that the cursor stops on."""
    return [i for i, row in enumerate(rows) if row.id]


def draw(row: Row, cells: int, glyphs: Glyphs, *, lit: bool = False) -> Spans:
    """The row as spans in at most `cells`; `lit` is the row under the cursor."""
    label = plain(clean(row.label), glyphs).ljust(row.label_cells)
    body: Spans = (((glyphs.cursor if lit else " ") + label, "text" if lit else "dim"), *row.spans)
    body = fit(join(body), cells - width(row.picture), glyphs.cut)
    body = tuple((text.rstrip() if i == len(body) - 1 else text, role) for i, (text, role) in enumerate(body))
    return join((*row.picture, *turn(body, "@"))) if lit else join((*row.picture, *body))


def with_more(lines: list[Spans], above: int, below: int, glyphs: Glyphs) -> list[Spans]:
    """The outermost lines say how many rows are hidden."""
    if above > 0 and lines:
        lines[0] = ((f" {glyphs.above} {above + 1} more", "dim"),)
    if below > 0 and lines:
        lines[-1] = ((f" {glyphs.more} {below + 1} more", "dim"),)
    return lines


def scroll(count: int, height: int, top: int, bottom: int, first: int = 0) -> int:
    """The first of `count` rows to show so that `top` to `bottom` can be seen in `height`, moving `first` least.

    Where rows are hidden above or below, the outermost line says so and shows no row.
    """
    if count <= height:
        return 0
    bottom = min(bottom, top + height - 3)
    first = min(first, count - height)
    if top < first + (first > 0):
        first = max(0, top - 1)
    if bottom > first + height - 1 - (first + height < count):
        first = min(bottom - height + 2, count - height)
    return first
