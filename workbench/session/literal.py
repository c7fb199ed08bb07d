"""Plain values as TOML text."""

from __future__ import annotations

import json
import math
import re
from datetime import UTC, date, datetime
from typing import TYPE_CHECKING, TypeAlias

from workbench.errors import EditRefused

if TYPE_CHECKING:
    from collections.abc import Mapping

__all__ = ["TomlValue", "inline_table", "key_text", "literal"]

TomlValue: TypeAlias = str | bool | int | float | date | datetime

_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")


def literal(value: TomlValue) -> str:
    """The value as TOML 1.0 writes it. Date-times need an offset; UTC is written Z.

    Raises EditRefused for what TOML or UTF-8 cannot hold: not finite, no offset, half a character.
    """
    match value:
        case bool():
            return "true" if value else "false"
        case int():
            return str(value)
        case float():
            return _number(value)
        case str():
            return _string(value)
        case datetime():
            return _moment(value)
        case date():
            return value.isoformat()
    raise TypeError(f"no TOML value: {type(value).__name__}")


def key_text(key: str) -> str:
    """The key as TOML writes it: bare where that is allowed, else in quotes."""
    return key if _BARE_KEY.fullmatch(key) else _string(key)


def inline_table(values: Mapping[str, TomlValue]) -> str:
    """A table on one line."""
    inner = ", ".join(f"{key_text(key)} = {literal(value)}" for key, value in values.items())
    return f"{{ {inner} }}" if inner else "{}"


def _string(text: str) -> str:
    """A basic string. JSON escapes what TOML wants escaped, but for DEL."""
    try:
        text.encode()
    except UnicodeEncodeError:
        raise EditRefused("the text holds bytes that are no characters: type it again in UTF-8") from None
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def _number(value: float) -> str:
    if not math.isfinite(value):
        raise EditRefused("the number is not finite: write a plain number")
    return repr(value)


def _moment(value: datetime) -> str:
    offset = value.utcoffset()
    if offset is None:
        raise EditRefused("the time has no offset: give one, or Z for UTC")
    if offset.total_seconds() % 60:  # TOML knows hours and minutes only
        value = value.astimezone(UTC)
    return value.isoformat().replace("+00:00", "Z")
