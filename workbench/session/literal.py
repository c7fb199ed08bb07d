"""Plain values as TOML text, written by tomlkit once what TOML or UTF-8 cannot hold is refused."""

from __future__ import annotations

import math
from datetime import UTC, date, datetime
from typing import TYPE_CHECKING, Any, TypeAlias

from workbench.errors import EditRefused

if TYPE_CHECKING:
    from collections.abc import Mapping

__all__ = ["TomlValue", "inline_table", "key_text", "literal"]

TomlValue: TypeAlias = str | bool | int | float | date | datetime


def literal(value: TomlValue | list[Any] | dict[str, Any]) -> str:
    """The value as TOML 1.0 writes it, on one line. Date-times need an offset; UTC is written Z.

    Raises EditRefused for what TOML or UTF-8 cannot hold: not finite, no offset, half a character.
    """
    if isinstance(value, list):
        return f"[{', '.join(map(literal, value))}]"
    if isinstance(value, dict):
        return inline_table(value)
    from tomlkit import item  # some 10 ms, paid by the first edit

    return item(_fit(value)).as_string()


def key_text(key: str) -> str:
    """The key as TOML writes it: bare where that is allowed, else in quotes."""
    from tomlkit.items import SingleKey

    _fit(key)
    return SingleKey(key).as_string()


def inline_table(values: Mapping[str, TomlValue]) -> str:
    """A table on one line."""
    inner = ", ".join(f"{key_text(key)} = {literal(value)}" for key, value in values.items())
    return f"{{ {inner} }}" if inner else "{}"


def _fit(value: TomlValue) -> TomlValue:
    """The value, if TOML can hold it."""
    if isinstance(value, float) and not math.isfinite(value):
        raise EditRefused("the number is not finite: write a plain number")
    if isinstance(value, str) and any("\ud800" <= c <= "\udfff" for c in value):
        raise EditRefused("the text holds bytes that are no characters: type it again in UTF-8")
    if isinstance(value, datetime):
        offset = value.utcoffset()
        if offset is None:
            raise EditRefused("the time has no offset: give one, or Z for UTC")
        if offset.total_seconds() % 60:  # TOML knows hours and minutes only
            return value.astimezone(UTC)
    return value
