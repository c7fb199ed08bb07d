"""A line of the screen as spans, `(text, role)`: how wide it is, cut to a width, wrapped, laid side by side.

A role says what a text is ("dim", "typed", "danger"); `palette` says how that looks.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.cells import cell_len, set_cell_size

if TYPE_CHECKING:
    from collections.abc import Iterable

__all__ = [
    "Span",
    "Spans",
    "clean",
    "fit",
    "ground",
    "halves",
    "is_clean",
    "join",
    "pad",
    "split",
    "turn",
    "width",
    "wrap",
]

Span = tuple[str, str]
Spans = tuple[Span, ...]
_OWN_GROUND = {"tag", "field", "caret", "surface", "limit"}  # roles that bring their own ground along


_WIDENS = "\ufe0f"  # asks for a sign as a picture: one terminal gives it two cells then, another leaves it at one


def clean(text: str) -> str:
    """`text` without what would upset a terminal: controls, line ends and marks of direction become blanks.

    What is left takes as many cells as its signs do one by one, in every terminal.
    """
    return text if is_clean(text) else "".join(c if c.isprintable() else " " for c in text if c != _WIDENS)


def is_clean(text: str) -> bool:
    """Whether `clean` has nothing to do."""
    return text.isprintable() and _WIDENS not in text


def width(spans: Iterable[Span]) -> int:
    """Cells that the spans take."""
    return sum(cell_len(text) for text, _ in spans)


def fit(spans: Iterable[Span], cells: int, cut: str = "…") -> Spans:
    """The spans in at most `cells`; what does not fit ends in the sign `cut`."""
    spans = tuple(spans)
    if width(spans) <= cells:
        return spans
    left = max(0, cells - len(cut))
    kept: list[Span] = []
    for text, role in spans:
        size = cell_len(text)
        if size > left:
            return (*kept, ((set_cell_size(text, left).rstrip() + cut)[:cells], role))
        kept.append((text, role))
        left -= size
    return tuple(kept)


def split(spans: Iterable[Span], at: int) -> tuple[Spans, Spans]:
    """The spans before cell `at`, and the rest; a wide sign that lies across is of the rest."""
    before: list[Span] = []
    after: list[Span] = []
    for text, role in spans:
        cut = 0 if after else _fitting(text, at)
        at -= cell_len(text[:cut])
        before += [(text[:cut], role)] if cut else []
        after += [(text[cut:], role)] if cut < len(text) else []
    return tuple(before), tuple(after)


def _fitting(text: str, cells: int) -> int:
    """How many signs of the text, from its first on, have room."""
    for count, sign in enumerate(text):
        cells -= cell_len(sign)
        if cells < 0:
            return count
    return len(text)


def halves(spans: Iterable[Span], at: int) -> tuple[Spans, Spans]:
    """As `split`, for two places side by side, the first of `at` cells.

    A word whose wide sign would lie across both begins a blank later, which the first gap behind it gives.
    """
    before, after = split(spans, at)
    if not after or width(before) == at:
        return before, after
    return _replaced(before, " ", "  ", last=True), _replaced(after, "  ", " ")


def _replaced(spans: Spans, old: str, new: str, *, last: bool = False) -> Spans:
    """The spans with `new` for the first or the last `old` in them."""
    found = [i for i, (text, _) in enumerate(spans) if old in text]
    if not found:
        return spans
    at = found[-1] if last else found[0]
    text, role = spans[at]
    parts = text.rsplit(old, 1) if last else text.split(old, 1)
    return (*spans[:at], (new.join(parts), role), *spans[at + 1 :])


def pad(spans: Iterable[Span], cells: int, role: str = "text") -> Spans:
    """The spans with blanks behind them up to `cells`; longer ones are left as they are."""
    spans = tuple(spans)
    short = cells - width(spans)
    return (*spans, (" " * short, role)) if short > 0 else spans


def join(spans: Iterable[Span]) -> Spans:
    """Neighbours of one role made one, blanks given to a neighbour on the same ground: a span costs bytes."""
    flat: list[Span] = []
    for text, role in spans:
        before, last = flat[-1] if flat else ("", "")
        if flat and (role == last or (not text.strip() and ground(role) == ground(last))):
            flat[-1] = (before + text, last)
        elif flat and not before.strip() and ground(role) == ground(last):
            flat[-1] = (before + text, role)
        elif text:
            flat.append((text, role))
    return tuple(flat)


def ground(role: str) -> str:
    """What a role stands on: the name of its own ground, `@` the cursor's row, `_` a bar, or empty."""
    return role if role in _OWN_GROUND else role[-1] if role[-1] in "@_" else ""


def turn(spans: Iterable[Span], suffix: str) -> Spans:
    """The same spans in the roles of another ground: `@` the cursor's row, `_` a bar."""
    return tuple((text, role if role in _OWN_GROUND else role.rstrip("@_") + suffix) for text, role in spans)


def wrap(text: str, cells: int) -> list[str]:
    """`text` in lines of at most `cells`, broken between words; a longer word is cut."""
    lines: list[str] = []
    line = ""
    cells = max(1, cells)  # without room no word would ever get shorter
    for word in text.split():
        while cell_len(word) > cells:
            count = _fitting(word, cells - cell_len(line) - bool(line)) or not line  # one at least in an empty line
            lines, line, word = [*lines, f"{line} {word[:count]}".strip()], "", word[count:]  # noqa: PLW2901
        if line and cell_len(line) + 1 + cell_len(word) > cells:
            lines.append(line)
            line = word
        else:
            line = f"{line} {word}".strip()
    return [*lines, line] if line else lines
