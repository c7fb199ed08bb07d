"""What can be changed in a session: each edit says what it does to the text, and to the data that the text means."""

from __future__ import annotations

from types import MappingProxyType
from typing import TYPE_CHECKING, Any, NamedTuple, Protocol

from workbench.errors import EditRefused
from workbench.session.document import with_moved, with_table, with_value, without
from workbench.session.fields import TABLES
from workbench.session.locate import dotted, path_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from workbench.session.literal import TomlValue
    from workbench.session.locate import Path

__all__ = ["AddTable", "Edit", "MoveTable", "RemoveTable", "SetValue", "Several", "Unset"]


class Edit(Protocol):
    """An edit. `in_data` comes first: it raises EditRefused where the edit cannot be made."""

    def in_data(self, data: dict[str, Any]) -> None:
        """Make the edit in plain data."""

    def in_text(self, text: str) -> str:
        """The text with the edit made, all else letter for letter."""


class SetValue(NamedTuple):
    """Set a dotted key, "beer.volume", to a value as TOML has it; the table is made where it is missing."""

    key: str
    value: TomlValue

    def in_data(self, data: dict[str, Any]) -> None:
        """Set the value."""
        *parents, last = path_of(self.key)
        table = _inside(data, tuple(parents), make=True)
        if isinstance(table.get(str(last)), dict | list):
            raise EditRefused(f"{self.key} is no single value")
        table[str(last)] = self.value

    def in_text(self, text: str) -> str:
        """The text with the value set."""
        return with_value(text, self.key, self.value)


class Unset(NamedTuple):
    """Take a key or a whole table out, "step.0.hours" or "keep"; nothing happens where it is not there."""

    key: str

    def in_data(self, data: dict[str, Any]) -> None:
        """Take it out."""
        *parents, last = path_of(self.key)
        _inside(data, tuple(parents), make=False).pop(str(last), None)

    def in_text(self, text: str) -> str:
        """The text without it."""
        return without(text, self.key)


class AddTable(NamedTuple):
    """Put in a new [[step]], [[yeast]], …, as number `at` from 0."""

    table: str
    at: int
    values: Mapping[str, TomlValue] = MappingProxyType({})

    def in_data(self, data: dict[str, Any]) -> None:
        """Put it in."""
        if self.table not in TABLES or not TABLES[self.table].array:
            raise EditRefused(f"there is but one {self.table}")
        elements = data.setdefault(self.table, [])
        if self.at != len(elements):
            _check(data, self.table, self.at)
        elements.insert(self.at, dict(self.values))

    def in_text(self, text: str) -> str:
        """The text with the new table."""
        return with_table(text, self.table, self.at, self.values)


class RemoveTable(NamedTuple):
    """Take out [[step]] number `at` from 0."""

    table: str
    at: int

    def in_data(self, data: dict[str, Any]) -> None:
        """Take it out."""
        _check(data, self.table, self.at)
        del data[self.table][self.at]

    def in_text(self, text: str) -> str:
        """The text without it."""
        return without(text, dotted((self.table, self.at)))


class MoveTable(NamedTuple):
    """Make [[step]] number `at` number `to`, both from 0."""

    table: str
    at: int
    to: int

    def in_data(self, data: dict[str, Any]) -> None:
        """Move it."""
        _check(data, self.table, self.at, self.to)
        data[self.table].insert(self.to, data[self.table].pop(self.at))

    def in_text(self, text: str) -> str:
        """The text with it moved, its comments with it."""
        return with_moved(text, self.table, self.at, self.to)


class Several(NamedTuple):
    """Some edits as one: all of them or none, and undone together."""

    edits: tuple[Edit, ...]

    def in_data(self, data: dict[str, Any]) -> None:
        """Make all of them, in order."""
        for edit in self.edits:
            edit.in_data(data)

    def in_text(self, text: str) -> str:
        """The text with all of them made, in order."""
        for edit in self.edits:
            text = edit.in_text(text)
        return text


def _inside(data: dict[str, Any], path: Path, *, make: bool) -> dict[str, Any]:
    """The table at this path; where it is missing an empty one, which is put there if `make`."""
    here: Any = data
    name = "the file"
    for part in path:
        if isinstance(part, int):
            _check({name: here}, name, part)
            here = here[part]
        elif isinstance(here, dict):
            here = here.setdefault(part, {}) if make else here.get(part, {})
        name = str(part)
    if not isinstance(here, dict):
        raise EditRefused(f"{name} is no table")
    return here


def _check(data: Mapping[str, Any], table: str, *indices: int) -> None:
    """Raise EditRefused unless `table` is an array of tables with all of these elements."""
    elements = data.get(table)
    count = len(elements) if isinstance(elements, list) else 0
    for index in indices:
        if not 0 <= index < count:
            raise EditRefused(f"there is no {table} number {index + 1}")
