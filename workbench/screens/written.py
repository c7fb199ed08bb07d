"""What is typed, as the file writes it: held to the field of its key, a number alone in the unit that is shown."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from workbench.errors import QuantityError
from workbench.session.fields import field_of
from workbench.session.values import Quantity
from workbench.units.kinds import GRAVITY, VOLUME
from workbench.units.number import fold, quote, read_number
from workbench.units.parse import parse
from workbench.units.show import show

if TYPE_CHECKING:
    from workbench.screens.desk import Desk
    from workbench.session.field import Field
    from workbench.session.literal import TomlValue

__all__ = ["field_at", "written"]

_DOUBTED = {"mL": (1e-9, 10.0), "L": (200.0, math.inf)}  # numbers alone that more likely are in the other unit


def field_at(desk: Desk, key: str, shown: str = "", kind: str | None = None) -> Field:
    """The field of a key, its example in the unit that the row shows: a number typed alone is in that unit.

    `kind` is that of a reading not in the file yet.
    """
    field = field_of(key, kind or _kind(desk, key))
    value = field.value
    if not isinstance(value, Quantity) or value.kind is GRAVITY:
        return field
    example = shown or str(show(parse(value.example, value.kind), value.kind, desk.system))
    return field._replace(value=value._replace(example=example))


def written(desk: Desk, key: str, text: str, shown: str = "", kind: str | None = None) -> TomlValue:
    """The text as a value of the file. Raises QuantityError."""
    field = field_at(desk, key, shown, kind)
    _ask_back(field.value, text)
    return field.from_typed(text, desk.now, desk.tz)[1]


def _ask_back(value: object, text: str) -> None:
    """Raise QuantityError for 1.5 typed over 500 mL, or 500 over 1.50 L: the row's unit goes by how much there was."""
    if not isinstance(value, Quantity) or value.kind is not VOLUME or value.unit not in _DOUBTED:
        return
    try:
        number = read_number(text)
    except QuantityError:
        return
    least, most = _DOUBTED[value.unit]
    if least <= number < most:
        typed = fold(text)
        raise QuantityError(f"{quote(text)} could be L or mL", f'write "{typed} L" or "{typed} mL"')


def _kind(desk: Desk, key: str) -> str | None:
    """What a reading measured, where the key is of a reading: its value is held to that."""
    table, _, rest = key.partition(".")
    index = rest.partition(".")[0]
    readings = desk.plan.session.reading
    return readings[int(index)].kind if table == "reading" and int(index) < len(readings) else None
