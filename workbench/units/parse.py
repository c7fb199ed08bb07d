"""From what was typed to base units: "1 1/2 gal" to litres, "68 °F" to °C, "1.034" to the extract fraction."""

from __future__ import annotations

import re
from itertools import pairwise
from math import isfinite

from workbench.errors import QuantityError
from workbench.units.gravity import filed_sg, readings, sg_text, typed_sg
from workbench.units.kinds import GRAVITY, KINDS, VOLUME, Kind, Unit
from workbench.units.number import VULGAR, fold, quote, read_number, tidy

__all__ = ["canonical", "parse", "parse_typed_gravity"]

_DIGITS = "0-9" + "".join(VULGAR)
# A number, with its exponent if it has one, and all up to the next digit.
_PIECE = re.compile(rf"([-+.,/ {_DIGITS}]*(?:(?<=[0-9.,])[eE][-+]?[0-9]+)?)([^{_DIGITS}]*)")
_SG_FIRST = r"(?i)sg ?([0-9.,].*)"
_IMPERIAL = r"(?i)\b(?:imp|imperial|uk|british)\b"

# What helps, where the unit is known but of another kind.
_RATHER = {
    ("volume", "oz"): 'write "fl oz" for fluid ounces, for example "16 fl oz"',
    ("mass", "fl oz"): 'write "oz" for ounces by weight, for example "3.5 oz"',
    ("gravity", "°Bx"): 'write SG or °P, for example "1.034" or "8.5 °P"; Brix belongs into a reading of kind brix',
}


def parse(text: str, kind: Kind, *, bare: str | None = None) -> float:
    """Read the quantity that `text` writes, in base units of `kind`; QuantityError says what would be right.

    `bare` is the unit that a number without one is taken in; with None only a gravity may go without (SG 0.9 to 1.2),
    and `bare="SG"` reads a gravity as `parse_typed_gravity` does. Units that add up may follow each other, the larger
    first: "1 h 30 min", "2 lb 3 oz". US customary measures are the US ones.
    """
    pieces = _pieces(text, kind)
    if len(pieces) > 1:
        value = _sum(text, pieces, kind)
    elif pieces[0][1]:
        value = _convert(text, read_number(pieces[0][0]), _unit(text, pieces[0][1], kind))
    else:
        value = _without_unit(text, kind, bare)
    if not isfinite(value):
        raise QuantityError(f"{quote(text)} is too large", f'write for example "{kind.example}"')
    return value


def parse_typed_gravity(text: str) -> float:
    """Read the extract fraction meant at the keyboard: 1041, 41 and 1.041 are the same, `typed_sg` has the table.

    With a unit ("1.041 SG", "10.2 °P") as in a file. QuantityError where it means nothing, or may mean two things.
    """
    return parse(text, GRAVITY, bare="SG")


def canonical(text: str, kind: Kind, bare: str | None = None) -> str:
    """Give the text to file for `text` typed: itself, with the unit `bare` if it has none; "41" as "1.041".

    QuantityError as from `parse`, which then reads the result without `bare` as the same quantity.
    """
    bare = "SG" if kind is GRAVITY and bare is None else bare
    value = parse(text, kind, bare=bare)
    if bare is None or _pieces(text, kind)[-1][1]:
        return text.strip()
    unit = kind.unit(bare)
    written = sg_text(unit.from_base(value)) if unit.name == "SG" else f"{text.strip()} {unit.name}"
    parse(written, kind)  # a text may have grown too long
    return written


def _pieces(text: str, kind: Kind) -> list[tuple[str, str]]:
    """Take `text` apart into numbers, each with the unit that follows it, "" for none; at least one."""
    folded = fold(text)
    if kind is GRAVITY and (match := re.fullmatch(_SG_FIRST, folded)):
        folded = f"{match[1]} SG"
    pieces = [(m[1], m[2]) for m in _PIECE.finditer(folded) if m[0]]
    if not pieces:
        raise QuantityError(f"there is no {kind.name}", f'write for example "{kind.example}"')
    if not all(re.search(f"[{_DIGITS}]", number) for number, _ in pieces):
        raise _wrong_kind(text, kind)
    return pieces


def _without_unit(text: str, kind: Kind, bare: str | None) -> float:
    """Read a number alone, in `bare` units; a gravity as SG."""
    if kind is GRAVITY and bare in {None, "SG"}:
        return _convert(text, typed_sg(text) if bare else filed_sg(text), GRAVITY.unit("SG"))
    number = read_number(text)
    if bare is None:
        raise QuantityError(f"{quote(text)} has no unit", f"write {quote(f'{fold(text)} {kind.metric}')}")
    return _convert(text, number, kind.unit(bare))


def _convert(text: str, number: float, unit: Unit) -> float:
    """Turn `number` into base units; only a gravity can be out of bounds here."""
    try:
        return unit.to_base(number)
    except ValueError:
        meant = readings(f"{number:g}", number) if unit.name == "SG" and number > 2 else ""
        right = f"write {meant}" if meant else "write one from 0.989 to 1.160, or from -3 to 36 °P"
        raise QuantityError(f"{quote(text)} is no gravity of wort", right) from None


def _sum(text: str, pieces: list[tuple[str, str]], kind: Kind) -> float:
    """Add up "1 h 30 min": each unit smaller than the one before, no signs, clear gaps."""
    units = [_unit(text, word, kind) if word else None for _, word in pieces]
    known = [unit for unit in units if unit is not None and unit.offset == 0]
    falling = len(known) == len(pieces) and all(a.factor > b.factor for a, b in pairwise(known))
    signed = any("-" in number or "+" in number for number, _ in pieces)
    if not falling or signed or not all(word[-1] == " " or word[-1].isalpha() for _, word in pieces[:-1]):
        raise _wrong_kind(text, kind)
    return tidy(sum(unit.to_base(read_number(number)) for (number, _), unit in zip(pieces, known, strict=True)))


def _unit(text: str, word: str, kind: Kind) -> Unit:
    """Find the unit of `kind` spelled `word`, or raise the error that helps best."""
    word = word.strip(" ,")
    if found := kind.find(word):
        return found
    if kind is VOLUME and re.search(_IMPERIAL, word):
        raise QuantityError(f"{quote(text)} is in imperial measure", f'give litres, for example "{kind.example}"')
    others = [unit for other in KINDS if (unit := other.find(word))]
    if others:
        raise _wrong_kind(text, kind, others[0].name)
    names = [unit.name for unit in kind.units]
    choice = " or ".join(filter(None, [", ".join(names[:-1]), names[-1]]))
    raise QuantityError(f"{quote(word)} is no unit of {kind.name}", f'use {choice}, for example "{kind.example}"')


def _wrong_kind(text: str, kind: Kind, unit: str = "") -> QuantityError:
    """Refuse what may be a quantity, but none of `kind`."""
    right = _RATHER.get((kind.name, unit), f'write for example "{kind.example}"')
    return QuantityError(f"{quote(text)} is no {kind.name}", right)
