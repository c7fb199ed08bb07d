"""What a hydrometer sees of fermenting wort: apparent and real extract, and how far a starter has come by them.

All are mass fractions. OE - RE = q·(OE - AE) with q = 0.814 + 0.0862·OE, fitted to 532 brews, standard error 0.005
(Cutaia, Reid & Speers 2009).
"""

from __future__ import annotations

from workbench.brewing.carbonation import FERMENTED

__all__ = ["FERMENTED", "apparent_extract", "fermented_share", "real_extract"]


def _q(original_w: float) -> float:
    return 0.814 + 0.0862 * original_w


def real_extract(original_w: float, apparent_w: float) -> float:
    """Real extract, from the original one and what a hydrometer, corrected for temperature, shows; to 0.36."""
    return original_w - _q(original_w) * (original_w - apparent_w)


def apparent_extract(original_w: float, real_w: float) -> float:
    """What a hydrometer shows of it: the inverse of `real_extract`."""
    return original_w - (original_w - real_w) / _q(original_w)


def fermented_share(original_w: float, real_w: float, fresh: float = 1.0) -> float:
    """How much of the last feeding is fermented, 0 before it has begun and 1 when 62 % of it are (recommended).

    `fresh` is the part of all original extract in the flask that was still to be fermented when it was fed, 0 to 1; all
    else was fermented out by then.
    """
    if original_w <= 0.0 or fresh <= 0.0:
        return 0.0
    return 1.0 - (real_w / original_w - (1.0 - FERMENTED)) / (FERMENTED * fresh)
