"""The kind of value that is a count under the microscope: how many cells each square held, "42 38 51 47 40"."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from workbench.errors import QuantityError
from workbench.session.faults import named
from workbench.units.number import quote

if TYPE_CHECKING:
    from datetime import datetime, tzinfo

__all__ = ["Squares"]

# More of either is a slip: there are 400 of the smallest squares in a square millimetre.
_MOST_SQUARES, _MOST_CELLS = 400, 100_000


class Squares(NamedTuple):
    """Whole numbers in one text, with blanks or commas between."""

    example: str

    @property
    def allowed(self) -> str:
        """How many."""
        return f"up to {_MOST_SQUARES} whole numbers, {_MOST_CELLS} cells in all"

    def from_toml(self, raw: object) -> tuple[int, ...]:
        """The count of each square."""
        if not isinstance(raw, str):
            raise QuantityError(
                f"{named(raw)} is no text", f'write all counts in one text, for example "{self.example}"'
            )
        return self._read(raw)

    def from_typed(self, text: str, now: datetime, tz: tzinfo | None) -> tuple[tuple[int, ...], str]:  # noqa: ARG002
        """The count of each square, and the text as it was typed."""
        return self._read(text), text.strip()

    def _read(self, text: str) -> tuple[int, ...]:
        words = text.replace(",", " ").split()
        right = f"write whole numbers, one a square, for example {self.example}"
        if not words:
            raise QuantityError("no square is counted", right)
        for word in words:
            if not (word.isascii() and word.isdigit()):
                raise QuantityError(f"{quote(word)} is no count of cells", right)
        few = len(words) <= _MOST_SQUARES and max(map(len, words)) <= len(str(_MOST_CELLS))
        counts = tuple(map(int, words)) if few else ()
        if not few or sum(counts) > _MOST_CELLS:
            raise QuantityError(
                f"{quote(text)} is too much", f"count {_MOST_SQUARES} squares and 100 000 cells at most"
            )
        return counts
