"""From base units to text: `show` for a person, rounded to what can be trusted; `write` for the file, in full."""

from __future__ import annotations

from functools import partial
from math import inf, isfinite
from typing import TYPE_CHECKING, Literal, NamedTuple

from workbench.units.gravity import sg_text
from workbench.units.kinds import GRAVITY

if TYPE_CHECKING:
    from collections.abc import Callable

    from workbench.units.kinds import Kind

__all__ = ["Shown", "System", "show", "show_gravity", "write"]

System = Literal["metric", "us"]


class Shown(NamedTuple):
    """A quantity as it is shown: the number and the unit apart, so that columns can align; `str` joins them."""

    number: str
    unit: str

    def __str__(self) -> str:
        return f"{self.number} {self.unit}".rstrip()


NOTHING = Shown("–", "")


def _fixed(decimals: int, value: float) -> str:
    return f"{value:.{decimals}f}"


def _trimmed(decimals: int, value: float) -> str:
    """At most so many decimals: 21 and 21.5."""
    text = f"{value:.{decimals}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _three_digits(value: float) -> str:
    """Three significant digits and no more than six decimals: 1430, 214, 7.4, 0.052."""
    return _trimmed(6, float(f"{value:.3g}"))


def _sg(value: float) -> str:
    """Three decimals, or four where the fourth says something: 1.034, 1.0335."""
    return f"{value:.4f}".removesuffix("0")


class _Scale(NamedTuple):
    """Numbers under `below` are shown in `unit` by `form`."""

    unit: str
    form: Callable[[float], str]
    below: float = inf


_0, _1, _2 = (partial(_fixed, n) for n in range(3))
_TO_1, _TO_2 = partial(_trimmed, 1), partial(_trimmed, 2)

# By kind the scales of both systems, from small to large. A US brewer measures a starter in fluid ounces and quarts.
_SCALES: dict[str, dict[System, tuple[_Scale, ...]]] = {
    "volume": {
        "metric": (_Scale("mL", _0, 1000), _Scale("L", _2)),
        "us": (_Scale("fl oz", _1, 32), _Scale("qt", _2, 4), _Scale("gal", _2)),
    },
    "small volume": {"metric": (_Scale("µL", _three_digits),)},
    "mass": {
        "metric": (
            _Scale("mg", _0, 1000),
            _Scale("g", _1, 10),
            _Scale("g", _TO_1, 20),  # a sachet of dry yeast holds 11.5 g
            _Scale("g", _0, 1000),
            _Scale("kg", _2),
        ),
        "us": (_Scale("mg", _0, 1000), _Scale("oz", _2, 1), _Scale("oz", _1, 32), _Scale("lb", _2)),
    },
    "temperature": {"metric": (_Scale("°C", _TO_1),), "us": (_Scale("°F", _TO_1),)},
    "duration": {
        "metric": (
            _Scale("s", _0, 60),
            _Scale("min", _TO_1, 90),
            _Scale("h", _TO_2, 10),
            _Scale("h", _TO_1, 100),
            _Scale("d", _TO_1),
        ),
    },
    "cell count": {"metric": (_Scale("B", _three_digits),)},
    "cell density": {"metric": (_Scale("M/mL", _three_digits, 100), _Scale("B/mL", _three_digits))},
    "length": {
        "metric": (_Scale("m", _TO_1, 10), _Scale("m", _0)),
        "us": (_Scale("ft", _TO_1, 10), _Scale("ft", _0)),
    },
    "short length": {
        "metric": (_Scale("mm", _TO_1, 10), _Scale("mm", _0)),
        "us": (_Scale("in", _TO_2, 1), _Scale("in", _TO_1)),
    },
    "Brix reading": {"metric": (_Scale("°Bx", _1),)},
    "gravity": {"metric": (_Scale("SG", _sg),)},
}
_NOTHING_US = {"volume": "qt"}  # 0 L; a gallon is a beer's measure, and a number typed for the 0 is in its unit


def show(
    value: float | None, kind: Kind, system: System = "metric", *, decimals: int | None = None, comma: bool = False
) -> Shown:
    """Show `value`, in base units, for a person to read; a dash where it is None or not finite.

    The unit follows the magnitude, so 0.08 L is "80 mL"; `decimals` replaces the usual precision, `comma` the point.
    """
    if value is None or not isfinite(value):
        return NOTHING
    if kind is GRAVITY:
        return show_gravity(value, decimals=decimals, comma=comma)
    unit = kind.unit(kind.metric if system == "metric" else _NOTHING_US.get(kind.name, kind.us))
    if value == 0 and unit.offset == 0:  # nothing has no magnitude to go by
        return Shown(_finish(_fixed(decimals or 0, 0.0), comma=comma), unit.name)
    scales = _SCALES[kind.name]
    for scale in scales.get(system, scales["metric"]):
        amount = kind.unit(scale.unit).from_base(value)
        number = _formed(amount, scale.form, decimals)
        if abs(float(number)) < scale.below:
            return Shown(_finish(number, comma=comma), scale.unit)
    return NOTHING


def show_gravity(
    w: float | None, prefer: Literal["sg", "plato"] = "sg", *, decimals: int | None = None, comma: bool = False
) -> Shown:
    """Show the extract fraction `w` as SG, "1.034" or "1.0335", which goes without a unit, or as "8.5 °P"."""
    if w is None or not isfinite(w):
        return NOTHING
    usual, unit = (_sg, GRAVITY.unit("SG")) if prefer == "sg" else (_1, GRAVITY.unit("°P"))
    number = _formed(unit.from_base(w), usual, decimals)
    return Shown(_finish(number, comma=comma), "" if prefer == "sg" else unit.name)


def write(value: float, kind: Kind, unit: str | None = None) -> str:
    """Write `value`, in base units, as text that `parse` reads back: exactly in the base unit, else to about 1e-14.

    `unit` None is the base unit, and SG for a gravity, which must lie within -3…36.5 °P. ValueError where `value` in
    that unit is not finite, or `unit` is none of `kind`.
    """
    chosen = kind.units[0] if unit is None else kind.unit(unit)
    number = chosen.from_base(value) + 0.0  # never "-0"
    if not isfinite(number):
        raise ValueError(f"{value!r} {kind.base} cannot be written in {chosen.name}")
    if chosen.name == "SG":
        return sg_text(number)
    return f"{repr(number).removesuffix('.0')} {chosen.name}"


def _formed(amount: float, usual: Callable[[float], str], decimals: int | None) -> str:
    """Round to `decimals` if given, else as usual; "inf" for what overflowed in too small a unit."""
    return usual(amount) if decimals is None and isfinite(amount) else _fixed(decimals or 0, amount)


def _finish(number: str, *, comma: bool) -> str:
    """Take the sign off a zero and set the decimal mark that was asked for."""
    if number.startswith("-") and float(number) == 0:
        number = number[1:]
    return number.replace(".", ",") if comma else number
