"""A key of the session file, and a table of keys."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

if TYPE_CHECKING:
    from datetime import datetime, tzinfo

    from workbench.session.literal import TomlValue
    from workbench.session.values import Value

__all__ = ["Field", "Table"]


class Field(NamedTuple):
    """One key. `attr` is its name in the model, `means` a line for whoever fills it in."""

    key: str
    attr: str
    value: Value
    means: str

    def from_toml(self, raw: object) -> object:
        """The model's value for the file's. Raises QuantityError."""
        return self.value.from_toml(raw)

    def from_typed(self, text: str, now: datetime, tz: tzinfo | None) -> tuple[object, TomlValue]:
        """The model's value and the file's for what was typed. Raises QuantityError."""
        return self.value.from_typed(text, now, tz)


class Table(NamedTuple):
    """One table, or with `array` each element of an array of tables."""

    name: str
    cls: type[Any]
    fields: tuple[Field, ...]
    array: bool = False

    def field(self, key: str) -> Field | None:
        """The field of that key."""
        return next((field for field in self.fields if field.key == key), None)
