"""Which specific gravity a bare number means, in a file and at the keyboard."""

from __future__ import annotations

import re

from workbench.brewing.density import W_HIGH, W_LOW, sg
from workbench.errors import QuantityError
from workbench.units.number import fold, quote, read_number, tidy

__all__ = ["filed_sg", "readings", "sg_text", "typed_sg"]

_MOST_PLATO = 100 * W_HIGH  # a larger number cannot be °P
_MOST_POINTS = 160  # SG 1.160, about 36 °P


def filed_sg(text: str) -> float:
    """Read a number without a unit as a file means it: SG 0.9 to 1.2, else QuantityError."""
    number = read_number(text)
    if 0.9 <= number <= 1.2:
        return number
    raise QuantityError(f"{quote(text)} is no specific gravity", f"write {readings(text, number)}")


def typed_sg(text: str) -> float:
    """Read a number without a unit as SG, as the keyboard means it; QuantityError where that is unclear.

    | typed              | means                                                            |
    |--------------------|------------------------------------------------------------------|
    | 0.9 … 1.2          | that SG: 1.041, 1,041, 0.998                                     |
    | 900 … 1200         | a thousandth of it: 1041, 1041.5, 998                            |
    | whole, 0 … 160     | points above 1: 41 is 1.041, 8 is 1.008, 120 is 1.120, 0 is 1.000 |
    | 36.6 … 160         | points too, as no wort has so many °P: 41.5 is 1.0415            |
    | 1                  | asked back: 1.000 or 1.001                                       |
    | 8.5, 33.5          | asked back: °P or points                                         |
    | all else           | refused                                                          |
    """
    number = read_number(text)
    is_whole = re.fullmatch(r"\+? ?[0-9]+", fold(text)) is not None
    if is_whole and number == 1:
        raise QuantityError(f"{quote(text)} could be 1.000 or 1.001", 'write "1.000" or "1.001"')
    if 0.9 <= number <= 1.2:
        return number
    if 900 <= number <= 1200:
        return tidy(number / 1000)
    if (is_whole or number > _MOST_PLATO) and 0 <= number <= _MOST_POINTS:
        return tidy(1 + number / 1000)
    if 0 <= number <= _MOST_PLATO:
        raise QuantityError(f"{quote(text)} could be °P or SG", f"write {readings(text, number)}")
    raise QuantityError(f"{quote(text)} is no gravity", f"write {readings(text, number)}")


def sg_text(gravity: float) -> str:
    """`gravity` in full, with at least the three decimals that brewers read: "1.050"."""
    whole, _, decimals = repr(gravity).partition(".")
    return f"{whole}.{decimals:0<3}"


def readings(text: str, number: float) -> str:
    """Texts that would say clearly what `number` may have meant."""
    texts = []
    if 100 * W_LOW <= number <= _MOST_PLATO:
        texts.append(f'"{fold(text)} °P" (which is {sg(number / 100):.3f})')
    if -10 <= number <= _MOST_POINTS:
        texts.append(f'"{sg_text(tidy(1 + number / 1000))}"')
    if 900 <= number <= 1200:
        texts.append(f'"{sg_text(tidy(number / 1000))}"')
    return " or ".join(texts) or 'for example "1.034" or "8.5 °P"'
