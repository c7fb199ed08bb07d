"""Yeast counted under the microscope: cells per mL, how sure that is, and how many of them are alive.

Cells that lie apart fall into squares as chance has it, so a count is a Poisson number and its limits are exact
(F. Garwood, Biometrika, 1936). The share that a stain leaves clear has Wilson's limits (E. B. Wilson, 1927). Both from
memory, checked against scipy. All limits here leave 2.5 % outside on either side.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from workbench.brewing import chi_square
from workbench.brewing.spread import Range

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = ["STAIN_DOUBTFUL_BELOW", "Dispersion", "cells_per_ml", "counted", "dispersion", "poisson_limits", "wilson"]

STAIN_DOUBTFUL_BELOW = 0.9  # live share, methylene blue: a web protocol on counting yeast, read
_Z95 = 1.959963984540054  # normal quantile at 0.975


class Dispersion(NamedTuple):
    """How `squares` squares differ: `ratio`, the dispersion index, is about 1 by chance, 1 time in 20 over `limit`."""

    ratio: float
    limit: float
    squares: int

    @property
    def uneven(self) -> bool:
        """Whether the squares differ more than chance allows."""
        return self.ratio > self.limit


def cells_per_ml(cells: float, squares: int, square_ul: float, dilution: float = 1.0) -> float:
    """Cells per mL of the undiluted sample for `cells` found in all squares together.

    `square_ul` is the volume over one square, µL above 0; `dilution` the times it was diluted, 1 or more; at least one
    square. cells/squares/volume × dilution, as for the improved Neubauer ruling (web protocol, read).
    """
    return 1000.0 * cells / squares / square_ul * dilution


def poisson_limits(cells: int) -> tuple[float, float]:
    """The least and the most cells to be expected where `cells` were counted: exact limits of 95 % (Garwood 1936).

    Valid from 0 to 100 000 cells; ValueError below 0.
    """
    if cells < 0:
        raise ValueError(f"no count is {cells}")
    low = 0.5 * chi_square.quantile(0.025, 2 * cells) if cells else 0.0
    return low, 0.5 * chi_square.quantile(0.975, 2 * cells + 2)


def dispersion(counts: Sequence[int]) -> Dispersion | None:
    """Variance by mean of the counts per square, beside its chi-square limit of 95 %; no units.

    None for less than two squares or no cell at all. The limit is an approximation, fair from about one cell a square.
    """
    squares, cells = len(counts), sum(counts)
    if squares < 2 or cells == 0:
        return None
    mean = cells / squares
    ratio = sum((count - mean) ** 2 for count in counts) / (squares - 1) / mean
    return Dispersion(ratio, chi_square.quantile(0.95, squares - 1) / (squares - 1), squares)


def counted(counts: Sequence[int]) -> Range:
    """All cells found in the squares, with their Poisson limits; wider where the squares differ more than chance.

    They then move away from the count by the root of the dispersion index, in proportion, so that they stay above 0
    (recommended). Valid for up to 100 000 cells.
    """
    cells = sum(counts)
    low, high = poisson_limits(cells)
    spread = dispersion(counts)
    if spread is None or not spread.uneven:
        return Range(low, cells, high)
    wider = math.sqrt(spread.ratio)
    return Range(cells * (low / cells) ** wider, cells, cells * (high / cells) ** wider)


def wilson(part: int, whole: int) -> tuple[float, float]:
    """The least and the greatest share to be expected where `part` of `whole` were counted: limits of 95 % (Wilson).

    Shares, 0 to 1. ValueError unless 0 ≤ part ≤ whole and there is at least one.
    """
    if not 0 <= part <= whole or whole < 1:
        raise ValueError(f"no share is {part} of {whole}")
    share, inverse = part / whole, _Z95 * _Z95 / whole
    middle = share + 0.5 * inverse
    reach = math.sqrt(inverse * (share * (1.0 - share) + 0.25 * inverse))
    low, high = ((middle + side * reach) / (1.0 + inverse) for side in (-1.0, 1.0))
    return (low if part else 0.0), (high if part < whole else 1.0)
