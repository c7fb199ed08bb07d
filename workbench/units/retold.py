"""A sentence with quantities in it, told in the units and with the decimal mark of whoever reads it."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from workbench.units.kinds import MASS, SMALL_LENGTH, TEMPERATURE, VOLUME
from workbench.units.show import show

if TYPE_CHECKING:
    from workbench.units.kinds import Kind
    from workbench.units.show import System

__all__ = ["retold"]

_KINDS: dict[str, Kind] = {
    "L": VOLUME,
    "mL": VOLUME,
    "g": MASS,
    "kg": MASS,
    "°C": TEMPERATURE,
    "mm": SMALL_LENGTH,
}
# "1.6 L", "0 to 4 °C", "20–24 °C"; not "± 1 °C", which is a difference, and not "93 g/L".
_QUANTITY = re.compile(r"(?<![\w.,±-])(?<!± )(?:([\d.]+)( to |–))?([\d.]*\d) (L|mL|g|kg|°C|mm)(?![\w/²³])")


def retold(text: str, system: System, *, comma: bool = False) -> str:
    """`text`, whose quantities are metric and have a decimal point. Gravities, counts and times are alike in both."""
    if system != "metric":
        text = _QUANTITY.sub(lambda found: _converted(found, system), text)
    return re.sub(r"(?<=\d)\.(?=\d)", ",", text) if comma else text


def _converted(found: re.Match[str], system: System) -> str:
    low, between, high, name = found.groups()
    kind = _KINDS[name]
    unit = kind.unit(name)
    shown = show(unit.to_base(float(high)), kind, system)
    if low is None:
        return str(shown)
    decimals = len(shown.number.partition(".")[2])
    return f"{kind.unit(shown.unit).from_base(unit.to_base(float(low))):.{decimals}f}{between}{shown}"
