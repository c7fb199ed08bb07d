"""The list of what can be done: typing narrows it, the arrows move in it, Enter does what is under the cursor."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple, Protocol

from workbench.panes.glyphs import plain
from workbench.panes.rows import scroll, with_more
from workbench.panes.spans import clean, fit, join, turn, width
from workbench.screens import editor
from workbench.screens.editor import Line

if TYPE_CHECKING:
    from workbench.panes.glyphs import Glyphs
    from workbench.panes.spans import Spans

__all__ = ["Choice", "Finder", "Holds", "about", "caret", "choice_at", "lines", "move", "paste", "press"]

_KEY, _NAME = 7, 19  # cells, at least
_PAGE = 10
_FIELD = 7


class Choice(NamedTuple):
    """One line of the list: what is written there, and the action that it does, with what that is told."""

    key: str
    name: str
    help: str
    action: str
    told: str = ""
    group: str = ""  # under which heading it stands; neighbours share one


@dataclass(slots=True)
class Finder:
    """An open list: all it holds, the words typed so far, where the cursor is and which line is the first shown."""

    choices: tuple[Choice, ...]
    line: Line = field(default_factory=Line)
    place: int = 0
    first: int = 0

    @property
    def found(self) -> tuple[Choice, ...]:
        """What has every word that was typed; by how well the name fits, else in order."""
        words = self.line.text.casefold().split()
        if not words:
            return self.choices
        ranked = [(_rank(choice, words), choice) for choice in self.choices]
        return tuple(choice for rank, choice in sorted(ranked, key=lambda pair: pair[0]) if rank < _NOT)

    @property
    def chosen(self) -> Choice | None:
        """What is under the cursor."""
        found = self.found
        return found[min(self.place, len(found) - 1)] if found else None


_NOT = 4


def _rank(choice: Choice, words: list[str]) -> int:
    """0: its key; 1: its name begins so; 2: words of its name do; 3: it is somewhere; else not at all."""
    name, typed = choice.name.casefold(), " ".join(words)
    if typed == choice.key.casefold():
        return 0
    if name.startswith(typed):
        return 1
    if all(any(part.startswith(word) for part in name.split()) for word in words):
        return 2
    text = f"{choice.key} {name} {choice.help} {choice.action} {choice.group}".casefold()
    return 3 if all(word in text for word in words) else _NOT


class Holds(Protocol):
    """What may have a list open."""

    finder: Finder | None


def press(holder: Holds, key: str, character: str | None) -> Choice | None:
    """A key while the list is open; what it chose, which closes it as Esc does."""
    finder = holder.finder
    if finder is None:
        return None
    steps = {"up": -1, "down": 1, "shift+tab": -1, "tab": 1, "pageup": -_PAGE, "pagedown": _PAGE}
    if key in {"escape", "enter"}:
        chosen = finder.chosen if key == "enter" else None
        holder.finder = None if chosen is not None or key == "escape" else finder
        return chosen
    if key in steps:
        move(finder, steps[key])
    elif (line := editor.press(finder.line, key, character)) is not None:
        finder.place = finder.place if line.text == finder.line.text else 0
        finder.line = line
    return None


def paste(holder: Holds, text: str) -> None:
    """Text pasted while the list is open."""
    if holder.finder is not None:
        holder.finder.line, holder.finder.place = holder.finder.line.insert(text), 0


def move(finder: Finder, by: int) -> None:
    """The cursor so many lines down, held at the ends."""
    finder.place = max(0, min(finder.place + by, len(finder.found) - 1))


def about(finder: Finder, glyphs: Glyphs) -> str:
    """The line of help on what is under the cursor."""
    chosen = finder.chosen
    return "nothing has all of these words" if chosen is None else plain(f"{chosen.name}: {chosen.help}", glyphs)


def lines(finder: Finder, glyphs: Glyphs, cells: int, height: int) -> list[Spans]:
    """The field with how it ends, below it what was found, under headings as long as nothing is typed."""
    rows = _rows(finder)
    at = next((n for n, row in enumerate(rows) if row is finder.chosen), 0)
    room = height - 1
    size = max([_KEY, *(len(plain(choice.key, glyphs)) for choice in finder.choices)])
    top = at - 1 if at and isinstance(rows[at - 1], str) else at
    first = finder.first = scroll(len(rows), room, top, at, finder.first)
    body = [
        ((f" {plain(row, glyphs)}", "dim"),) if isinstance(row, str) else _row(row, size, glyphs, cells, lit=n == at)
        for n, row in enumerate(rows[first : first + room], first)
    ]
    return [_field(finder, glyphs, cells), *with_more(body, first, len(rows) - first - room, glyphs)]


def _rows(finder: Finder) -> list[str | Choice]:
    """Choices and headings."""
    rows: list[str | Choice] = []
    group = ""
    for choice in finder.found:
        if not finder.line.text and choice.group != group:
            group = choice.group
            rows.append(group)
        rows.append(choice)
    return rows


def _row(choice: Choice, size: int, glyphs: Glyphs, cells: int, *, lit: bool) -> Spans:
    """Key, name and, where there is room, the line of help."""
    mark, name = glyphs.cursor if lit else " ", clean(choice.name)
    body: Spans = ((f"{mark}{plain(choice.key, glyphs):<{size}}", "accent"), (f" {name}", "text"))
    if cells > size + 2 * _NAME:
        body = (body[0], (f" {name:<{_NAME}}", "text"), (f" {plain(choice.help, glyphs)}", "dim"))
    *before, (text, role) = fit(join(body), cells, glyphs.cut)
    body = (*before, (text.rstrip(), role))
    return join(turn(body, "@")) if lit else body


def _field(finder: Finder, glyphs: Glyphs, cells: int) -> Spans:
    """What was typed, and how to go on."""
    ends: Spans = ((f" {glyphs.enter}", "accent"), (" does it ", "dim"), ("Esc", "accent"), (" leaves", "dim"))
    size = max(_FIELD, min(24, cells - 6 - width(ends)))
    text, at = editor.window(finder.line, size)
    field: Spans = ((" find ", "dim"), (text[:at], "field"), (text[at], "caret"), (text[at + 1 :], "field"))
    return fit((*join(field), *ends), cells, glyphs.cut)


def choice_at(finder: Finder, line: int) -> int | None:
    """Which of those found stands in a line as `lines` drew them; None where none does."""
    rows = _rows(finder)
    index = finder.first + line - 1
    if line < 1 or index >= len(rows) or isinstance(rows[index], str):
        return None
    return sum(not isinstance(row, str) for row in rows[:index])


def caret(finder: Finder) -> tuple[int, int]:
    """Column and line of the terminal's own cursor: on the line that Enter would do."""
    rows = _rows(finder)
    at = next((n for n, row in enumerate(rows) if row is finder.chosen), 0)
    return 0, 1 + at - finder.first
