"""What a unit and a kind of quantity are: how to reach the base unit, and which spellings are understood."""

from __future__ import annotations

import re
from typing import NamedTuple

from workbench.brewing.density import W_HIGH, W_LOW, extract_from_plato, extract_from_sg, plato, sg
from workbench.units.number import tidy

__all__ = ["Kind", "Plato", "SpecificGravity", "Unit"]

_LOOKALIKES = str.maketrans({"º": "°", "˚": "°", "℃": "°C", "℉": "°F", "ℓ": "l", "’": "'"})


def _spelling(text: str) -> str:
    """`text` as the spellings are listed: casefolded, "fl. oz." as "fl oz", "° C" as "°c", "B / mL" as "b/ml"."""
    plain = " ".join(text.translate(_LOOKALIKES).casefold().split())
    plain = re.sub(r"(?<=[a-z])\.(?=[ a-z]|$)", "", plain)
    return re.sub(r" ?([/°]) ?", r"\1", plain)


class Unit(NamedTuple):
    """One unit: base = value × `factor` + `offset`; `name` is how it is shown, `spellings` how it may be typed."""

    name: str
    factor: float
    offset: float = 0.0
    spellings: tuple[str, ...] = ()

    def to_base(self, value: float) -> float:
        """`value` of this unit in the kind's base unit. A gravity outside -3…36.5 °P raises ValueError."""
        return value if self._is_base else tidy(value * self.factor + self.offset)

    def from_base(self, base: float) -> float:
        """How many of this unit `base` base units are; the inverse of `to_base`, to about 1e-14."""
        return base if self._is_base else tidy((base - self.offset) / self.factor)

    @property
    def _is_base(self) -> bool:
        return self.factor == 1.0 and self.offset == 0.0


class SpecificGravity(Unit):
    """SG 20/20 °C, which no factor turns into extract."""

    __slots__ = ()

    def to_base(self, value: float) -> float:
        """Extract fraction of SG `value`, 0.989 to 1.160; ValueError outside."""
        return extract_from_sg(value)

    def from_base(self, base: float) -> float:
        """SG of the extract fraction `base`."""
        return tidy(sg(base))


class Plato(Unit):
    """Degrees Plato, within the same bounds as SG."""

    __slots__ = ()

    def to_base(self, value: float) -> float:
        """Extract fraction of `value` °P, -3 to 36.5; ValueError outside."""
        w = tidy(extract_from_plato(value))
        if not W_LOW <= w <= W_HIGH:
            raise ValueError(f"{value:g} °P is no wort between -3 and 36.5 °P")
        return w

    def from_base(self, base: float) -> float:
        """Degrees Plato of the extract fraction `base`."""
        return tidy(plato(base))


class Kind(NamedTuple):
    """One kind of quantity. The first unit is the base unit, but for gravity, whose base is the extract fraction.

    `name` fits into "is no …"; `example` is a right text; `metric` and `us` name the usual unit in either system.
    """

    name: str
    base: str
    units: tuple[Unit, ...]
    example: str
    metric: str
    us: str

    def find(self, text: str) -> Unit | None:
        """Find the unit that `text` spells, in whatever case, or None."""
        spelling = _spelling(text)
        return next((unit for unit in self.units if spelling in unit.spellings), None)

    def unit(self, name: str) -> Unit:
        """Return the unit called `name`; ValueError for one that this kind has not."""
        found = self.find(name)
        if found is None:
            raise ValueError(f"{name!r} is no unit of {self.name}")
        return found
