"""The questions of the first start: what is asked, what is typed, and how that looks. It knows no terminal."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from rich.cells import cell_len

from workbench.errors import QuantityError
from workbench.panes.glyphs import plain
from workbench.panes.spans import fit, wrap
from workbench.screens import editor

if TYPE_CHECKING:
    from collections.abc import Callable

    from workbench.panes.glyphs import Glyphs
    from workbench.panes.spans import Spans
    from workbench.screens.editor import Line

__all__ = ["FirstDesk", "Question"]

_FIELD = 12
_LABEL = 14


class Question(NamedTuple):
    """One question: `preset` is what Enter takes, `read` makes of a text what the settings say.

    `read` raises QuantityError. `choices` are turned by the arrows.
    """

    key: str
    label: str
    preset: str
    says: str
    read: Callable[[str], str]
    choices: tuple[str, ...] = ()


@dataclass(slots=True)
class FirstDesk:
    """The questions, one after another; `answers` by key."""

    questions: tuple[Question, ...]
    glyphs: Glyphs
    answers: dict[str, str] = field(default_factory=dict)
    line: Line = field(init=False)
    error: str = ""
    over: bool = False

    def __post_init__(self) -> None:
        self._open()

    @property
    def question(self) -> Question:
        """The one that is asked; the last one once all are answered."""
        return self.questions[min(len(self.answers), len(self.questions) - 1)]

    def _open(self) -> None:
        self.line = editor.start(self.question.preset, fresh=True)

    def press(self, key: str, character: str | None) -> None:
        """A key: Enter takes the answer, Esc leaves out the rest of the questions."""
        if key == "escape":
            self.over = True
        elif key == "enter":
            self._take()
        elif key in {"up", "down"} and self.question.choices:
            word = editor.turned(self.question.choices, self.line.text, 1 if key == "down" else -1)
            self._set(editor.start(word, fresh=True))
        elif (line := editor.press(self.line, key, character)) is not None:
            self._set(line)

    def paste(self, text: str) -> None:
        """Text pasted into the line."""
        self._set(self.line.insert(text))

    def _set(self, line: Line) -> None:
        self.line, self.error = line, ""

    def _take(self) -> None:
        """Keep the answer and go on; what is wrong is said and the line stays. An empty one is the usual answer."""
        try:
            self.answers[self.question.key] = self.question.read(self.line.text.strip() or self.question.preset)
        except QuantityError as wrong:
            self.error = str(wrong)
            return
        self.over = len(self.answers) == len(self.questions)
        self._open()

    def lines(self, cells: int) -> list[Spans]:
        """The page: what this is, the questions answered, the one that is asked, those to come."""
        intro = "Asked once; the answers go into your settings, where they can be changed."
        shown: list[Spans] = [(), ((" A first start", "key"),), (), ((f" {intro}", "text"),), ()]
        for number, question in enumerate(self.questions):
            shown.append(self._row(number, question))
        shown += [(), *(((f" {line}", "dim"),) for line in wrap(self._plain(self.question.says), cells - 2))]
        if self.error:
            says = self._plain(f"{self.glyphs.danger} {self.error}")
            shown += [((f" {line}", "danger"),) for line in wrap(says, cells - 2)]
        return [fit(line, cells, self.glyphs.cut) for line in shown]

    def _row(self, number: int, question: Question) -> Spans:
        label = f"{question.label:<{_LABEL}}"
        asked = len(self.answers)
        if number < asked:
            answer = self._plain(self.answers[question.key])
            return ((f"  {label}", "dim"), (f"{self.glyphs.typed} {answer}", "typed"))
        if number > asked:
            return ((f"  {label}", "dim"), (f"  {question.preset}", "dim"))
        text, at = self._window()
        head = ((f" {self.glyphs.cursor}{label}  ", "text"),)
        return (*head, (text[:at], "field"), (text[at], "caret"), (text[at + 1 :], "field"))

    def bottom(self, cells: int) -> Spans:
        """What can be pressed."""
        last = len(self.answers) + 1 >= len(self.questions)
        turning = (("↑↓" if self.glyphs.name == "full" else "Up/Down", "key_"), (" turn   ", "dim_"))
        keys: Spans = (
            (f" {self.glyphs.enter}", "key_"), (f" take it, {'begin' if last else 'on to the next'}   ", "dim_"),
            *(turning if self.question.choices else ()), ("Esc", "key_"), (" skip the rest", "dim_"),
        )  # fmt: skip
        return fit(keys, cells, self.glyphs.cut)

    def caret(self) -> tuple[int, int]:
        """Column and line of the terminal's own cursor."""
        text, at = self._window()
        return _LABEL + 4 + min(at, len(text)), 5 + min(len(self.answers), len(self.questions) - 1)

    def _window(self) -> tuple[str, int]:
        """What is seen of the line, and where its cursor is in that."""
        return editor.window(self.line, max(_FIELD, min(40, cell_len(self.line.text) + 1)))

    def _plain(self, text: str) -> str:
        return plain(text, self.glyphs)
