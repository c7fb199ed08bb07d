"""The kinds of value a key may have: read from a file, read from the keyboard, held to a range.

Each has `from_toml(raw)`, the value in base units, and `from_typed(text, now, tz)`, that value and what to write into
the file for it. Both raise QuantityError, which says what is wrong and what would be right. At the keyboard a number
alone is in the unit of the example.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple, Protocol

from workbench.errors import QuantityError
from workbench.session.faults import named
from workbench.units.kinds import GRAVITY
from workbench.units.number import quote, read_number
from workbench.units.parse import canonical, parse, parse_typed_gravity

if TYPE_CHECKING:
    from datetime import datetime, tzinfo

    from workbench.session.literal import TomlValue
    from workbench.units.kinds import Kind

__all__ = ["Flag", "Number", "Quantity", "Range", "Text", "Value", "Whole", "Words"]

_MOST = 1e9  # what has no upper end of its own: larger is a slip, and not to be reckoned with


class Value(Protocol):
    """What every kind of value can do."""

    @property
    def example(self) -> str:
        """A right text, as typed."""

    @property
    def allowed(self) -> str:
        """What it may be, in words."""

    def from_toml(self, raw: object) -> object:
        """The value in base units."""

    def from_typed(self, text: str, now: datetime, tz: tzinfo | None) -> tuple[object, TomlValue]:
        """The value in base units, and the value to write into the file."""


class Range(NamedTuple):
    """`low` to `high` in base units; `above` leaves `low` itself out. `says` is the range in words."""

    says: str
    low: float = 0.0
    high: float | None = None
    above: bool = False

    def check(self, value: float, written: str, example: str) -> None:
        """Raise QuantityError where `value` is not finite or outside."""
        fits = value > self.low + 1e-12 if self.above else value >= self.low - 1e-9
        if not math.isfinite(value):
            raise QuantityError(f"{written} is not finite", f"{self.says}, for example {example}")
        if not fits or (self.high is not None and value > self.high + 1e-9):
            raise QuantityError(f"{written} is out of range", f"{self.says}, for example {example}")
        if value > _MOST:
            raise QuantityError(f"{written} is too large", f"{self.says}, for example {example}")


class Quantity(NamedTuple):
    """Text with a unit, held to a range of base units.

    `bare` allows a number alone in a file too, where the key itself tells the unit. `factor` is for the model's few
    values in thousandths of the base unit, mL and mg.
    """

    kind: Kind
    example: str
    range: Range
    bare: bool = False
    factor: float = 1.0

    @property
    def unit(self) -> str | None:
        """The unit of a number alone, typed; None for gravities, which need none."""
        return None if self.kind is GRAVITY else self.example.split(maxsplit=1)[1]

    @property
    def allowed(self) -> str:
        """Its range."""
        return self.range.says

    def from_toml(self, raw: object) -> float:
        """The quantity in base units."""
        if not isinstance(raw, str):
            number = isinstance(raw, int | float) and not isinstance(raw, bool)
            right = f"as text with a unit, for example {self._quoted}"
            raise QuantityError(
                f"{named(raw)} is {'a number without unit' if number else 'no text'}", f"write it {right}"
            )
        try:
            value = self._parsed(raw, self.unit if self.bare else None)
        except QuantityError as wrong:
            raise self._with_unit(raw) or wrong from None
        return self._checked(value, raw)

    def _parsed(self, text: str, bare: str | None) -> float:
        """As `parse`, which knows only what is usual of its kind, with an example of this key."""
        try:
            return parse(text, self.kind, bare=bare)
        except QuantityError as wrong:
            raise QuantityError(wrong.what, wrong.right.replace(f'"{self.kind.example}"', self._quoted)) from None

    def _with_unit(self, raw: str) -> QuantityError | None:
        """Where only the unit is missing: the key's own unit, not just any of its kind."""
        try:
            read_number(raw)
        except QuantityError:
            return None
        right = f'write for example "{raw.strip()} {self.unit}"'
        return None if self.unit is None else QuantityError(f"{quote(raw)} has no unit", right)

    def from_typed(self, text: str, now: datetime, tz: tzinfo | None) -> tuple[float, str]:  # noqa: ARG002
        """The quantity, and its text with the brewer's own spelling."""
        typed = parse_typed_gravity(text) if self.kind is GRAVITY else self._parsed(text, self.unit)
        return self._checked(typed, text), canonical(text, self.kind, self.unit)

    def _checked(self, value: float, text: str) -> float:
        self.range.check(value, quote(text), self._quoted)
        return value if self.factor == 1.0 else float(f"{value * self.factor:.15g}")

    @property
    def _quoted(self) -> str:
        return f'"{self.example}"'


class Number(NamedTuple):
    """A number without unit. A `share` may be typed as "92 %"."""

    example: str
    range: Range
    share: bool = False

    @property
    def allowed(self) -> str:
        """Its range."""
        return self.range.says

    def from_toml(self, raw: object) -> float:
        """The number."""
        if isinstance(raw, bool) or not isinstance(raw, int | float):
            raise QuantityError(f"{named(raw)} is no number", f"write it without quotes, for example {self.example}")
        self.range.check(min(raw, 10**18) if isinstance(raw, int) else raw, named(raw), self.example)
        return float(raw)

    def from_typed(self, text: str, now: datetime, tz: tzinfo | None) -> tuple[float, float]:  # noqa: ARG002
        """The number, twice: for the file without decimals where it has none."""
        percent = self.share and text.rstrip().endswith("%")
        number = read_number(text.rstrip()[:-1] if percent else text, self.example)
        value = number / 100 if percent else number
        self.range.check(value, quote(text), self.example)
        return value, int(value) if value.is_integer() else value


class Whole(NamedTuple):
    """A whole number."""

    example: str
    range: Range

    @property
    def allowed(self) -> str:
        """Its range."""
        return f"whole numbers, {self.range.says}"

    def from_toml(self, raw: object) -> int:
        """The number."""
        if isinstance(raw, bool) or not isinstance(raw, int):
            raise QuantityError(f"{named(raw)} is no whole number", f"write for example {self.example}")
        self.range.check(max(min(raw, 10**18), -(10**18)), named(raw), self.example)
        return raw

    def from_typed(self, text: str, now: datetime, tz: tzinfo | None) -> tuple[int, int]:  # noqa: ARG002
        """The number, twice."""
        value = read_number(text, self.example)
        if not value.is_integer():
            raise QuantityError(f"{quote(text)} is no whole number", f"write for example {self.example}")
        self.range.check(value, quote(text), self.example)
        return int(value), int(value)


class Words(NamedTuple):
    """One of a few words; at the keyboard any beginning that only one of them has."""

    words: tuple[str, ...]

    @property
    def example(self) -> str:
        """The first of them."""
        return self.words[0]

    @property
    def allowed(self) -> str:
        """All of them."""
        return f"{', '.join(self.words[:-1])} or {self.words[-1]}"

    @property
    def _right(self) -> str:
        return f"write {self.allowed}"

    def from_toml(self, raw: object) -> str:
        """The word."""
        if not isinstance(raw, str):
            raise QuantityError(f"{named(raw)} is no text", f"{self._right}, in quotes")
        if raw not in self.words:
            raise QuantityError(f"{quote(raw)} is no word for this", self._right)
        return raw

    def from_typed(self, text: str, now: datetime, tz: tzinfo | None) -> tuple[str, str]:  # noqa: ARG002
        """The word, twice."""
        typed = text.strip().casefold()
        meant = [word for word in self.words if typed and word.startswith(typed)]
        if typed in self.words:
            meant = [typed]
        if len(meant) != 1:
            raise QuantityError(f"{quote(text)} {'could be several' if meant else 'is no word for this'}", self._right)
        return meant[0], meant[0]


class Text(NamedTuple):
    """Any text."""

    example: str

    @property
    def allowed(self) -> str:
        """Anything."""
        return "any text"

    def from_toml(self, raw: object) -> str:
        """The text, as it is."""
        if not isinstance(raw, str):
            raise QuantityError(f"{named(raw)} is no text", f'write it in quotes, for example "{self.example}"')
        return raw

    def from_typed(self, text: str, now: datetime, tz: tzinfo | None) -> tuple[str, str]:  # noqa: ARG002
        """The text without the blanks around it, twice."""
        return text.strip(), text.strip()


class Flag(NamedTuple):
    """Yes or no."""

    example: str = "yes"

    @property
    def allowed(self) -> str:
        """Both."""
        return "yes or no"

    def from_toml(self, raw: object) -> bool:
        """True or false."""
        if not isinstance(raw, bool):
            raise QuantityError(f"{named(raw)} is neither true nor false", "write true or false, without quotes")
        return raw

    def from_typed(self, text: str, now: datetime, tz: tzinfo | None) -> tuple[bool, bool]:
        """True for yes, true, on; false for no, false, off; or any clear beginning of these."""
        words = Words(("yes", "no", "true", "false", "on", "off"))
        try:
            word = "no" if text.strip().casefold() == "n" else words.from_typed(text, now, tz)[0]
        except QuantityError:
            raise QuantityError(f"{quote(text)} is neither yes nor no", "write yes or no") from None
        value = word in ("yes", "true", "on")
        return value, value
