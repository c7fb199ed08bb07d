"""An amount of the plan as number and unit for a person to read, whatever its base unit is."""

from __future__ import annotations

from workbench.plan.chance import chance_text
from workbench.units.kinds import (
    CELLS,
    DENSITY,
    DURATION,
    GRAVITY,
    LENGTH,
    MASS,
    SMALL_LENGTH,
    SMALL_VOLUME,
    TEMPERATURE,
    VOLUME,
    Kind,
)
from workbench.units.show import Shown, System, show

__all__ = ["amount"]

_KINDS: dict[str, tuple[Kind, float]] = {
    "L": (VOLUME, 1.0),
    "mL": (VOLUME, 1e-3),
    "µL": (SMALL_VOLUME, 1.0),
    "g": (MASS, 1.0),
    "kg": (MASS, 1000.0),
    "m": (LENGTH, 1.0),
    "mm": (SMALL_LENGTH, 1.0),
    "B": (CELLS, 1.0),
    "B/mL": (DENSITY, 1.0),
    "w": (GRAVITY, 1.0),
    "°C": (TEMPERATURE, 1.0),
    "s": (DURATION, 1.0),
}

_PLAIN = {
    "%": lambda value: Shown(f"{100 * value:.0f}", "%"),
    "1": lambda value: Shown(f"{value:.2f}" if value % 1 else f"{value:.0f}", ""),
    "min": lambda value: Shown(f"{value:.0f}", "min"),
    "/min": lambda value: Shown(f"{value:.3f}", "/min"),
    "mg/L": lambda value: Shown(f"{value:.2f}", "mg/L"),
    "kJ": lambda value: Shown(f"{value:.0f}", "kJ"),
    "money": lambda value: Shown(f"{value:.2f}", ""),
    "h": lambda value: Shown(f"{value:.1f}".removesuffix(".0"), "h"),
    "chance": lambda value: Shown(chance_text(value), ""),
}
_WHOLE_CELLS = 20.0  # billions: from here on a decimal says nothing


def amount(value: float | None, unit: str, system: System = "metric") -> Shown:
    """`value` in a base unit of the plan's figures ("L", "g", "w", "s", …), `%` a share; a dash where it is None.

    A unit that is not known is kept as it is.
    """
    if value is None:
        return Shown(show(None, CELLS).number, "")
    if unit in _PLAIN:
        return _PLAIN[unit](value)
    if unit == "g/L":
        per = VOLUME.unit("L" if system == "metric" else "qt")
        said = show(value * per.factor, MASS, system)
        return Shown(said.number, f"{said.unit}/{per.name}")
    if unit not in _KINDS:
        return Shown(f"{value:.3g}", unit)
    kind, factor = _KINDS[unit]
    if kind is CELLS and value >= _WHOLE_CELLS:
        return show(value, CELLS, system, decimals=0)
    said = show(value * factor, kind, system)
    if value == 0 and unit == "mL":  # a nothing has no magnitude but that of its unit
        said = said._replace(unit="mL" if system == "metric" else "fl oz")
    whole = said.number.removesuffix(".00")
    return Shown(whole, said.unit) if len(whole) > 1 else said  # 23 L, but 3.00 L
