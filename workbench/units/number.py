"""Numbers as people type them: 1.6, 1,6, 1 600, 1 1/2, ½, −4. The decimal mark is a point or a comma."""

from __future__ import annotations

import re
from math import isfinite

from workbench.errors import QuantityError
from workbench.units.plainly import harmless

__all__ = ["LONGEST", "VULGAR", "fold", "quote", "read_number", "tidy"]

LONGEST = 100  # characters; no quantity needs as many, and what follows need not fear any
VULGAR = dict(
    zip("½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞", (1/2, 1/3, 2/3, 1/4, 3/4, 1/5, 2/5, 3/5, 4/5, 1/6, 5/6, 1/8, 3/8, 5/8, 7/8), strict=True)
)  # fmt: skip

# [0-9] and not \d: a digit of another script is refused rather than half understood.
_GROUPED = r"[1-9][0-9]{0,2}(?: [0-9]{3})+"
_DECIMAL = re.compile(rf"(?:(?:{_GROUPED}|[0-9]+)(?:[.,][0-9]*)?|[.,][0-9]+)(?:[eE][-+]?[0-9]+)?")
_FRACTION = r"(?:([0-9]+) )?([0-9]+) ?/ ?([0-9]+)"
_VULGAR = rf"([0-9]*) ?([{''.join(VULGAR)}])"
_TWO_WAYS = r"[0-9]{1,3}(?:([.,])[0-9]{3})(?:\1[0-9]{3})*((?!\1)[.,][0-9]+)?"
_SEVERAL = r"[-+]?[0-9.,/]+(?: [-+]?[0-9.,/]+)+"
_FOLDED = str.maketrans({"−": "-", "⁄": "/"})


def fold(text: str) -> str:
    """`text` with every run of spaces, of whatever width, as one blank; a true minus as "-". At most 100 characters."""
    if len(text) > LONGEST:
        raise QuantityError(f"{quote(text)} is too long", f"write at most {LONGEST} characters")
    return " ".join(text.translate(_FOLDED).split())


def quote(text: str) -> str:
    """`text` in quotation marks, fit for any terminal: on one line, cut short, without control characters."""
    plain = harmless(" ".join(text[:LONGEST].split()))
    return f'"{plain}"' if len(plain) <= 40 else f'"{plain[:39]}…"'


def read_number(text: str, example: str = "1.6") -> float:
    """Read the finite number that `text` writes; QuantityError for anything else, with an `example` of what is right.

    Point and comma both mark decimals and never thousands; a blank may part thousands ("1 600") and whole from
    fraction ("1 1/2"). Both marks in one number are refused: nobody can tell which is which.
    """
    folded = fold(text)
    sign, digits = (folded[0], folded[1:].lstrip()) if folded.startswith(("-", "+")) else ("", folded)
    value = _unsigned(digits)
    if value is None:
        raise _no_number(text, sign, digits, example)
    if not isfinite(value):
        raise QuantityError(f"{quote(text)} is too large", "write a number below 1e300")
    return (-value if sign == "-" else value) + 0.0  # + 0.0 makes -0 plain 0


def tidy(value: float) -> float:
    """Round `value` to 15 digits, so that 2300 mL is 2.3 L to the last bit, and 68 °F is 20 °C."""
    return float(f"{value:.15g}")


def _unsigned(digits: str) -> float | None:
    """Read a number without sign, by whichever of the three ways it is written."""
    if _DECIMAL.fullmatch(digits):
        return float(digits.replace(" ", "").replace(",", "."))
    if match := re.fullmatch(_FRACTION, digits):
        return _fraction(*match.groups())
    if match := re.fullmatch(_VULGAR, digits):
        return float(match[1] or 0) + VULGAR[match[2]]
    return None


def _fraction(whole: str | None, top: str, bottom: str) -> float | None:
    """1 1/2 or 3/2; not 1 3/2, which may be a slip for 13/2, and not 1/0."""
    if int(bottom) == 0 or (whole is not None and int(top) >= int(bottom)):
        return None
    return int(whole or 0) + int(top) / int(bottom)


def _no_number(text: str, sign: str, digits: str, example: str) -> QuantityError:
    """Say what is wrong with `digits`, and how to write what was probably meant."""
    if not digits:
        return QuantityError("there is no number", f"write for example {example}")
    if match := re.fullmatch(_TWO_WAYS, digits):
        tail = match[2] or ""
        whole = re.sub(r"[.,]", "", digits.removesuffix(tail))
        return QuantityError(f"{quote(text)} can be read in two ways", f"write {sign}{whole}{tail.replace(',', '.')}")
    if re.fullmatch(_SEVERAL, digits):
        return QuantityError(f"{quote(text)} is more than one number", f"write one number, for example {example}")
    return QuantityError(f"{quote(text)} is no number", f"write for example {example}")
