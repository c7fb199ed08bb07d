"""A chance in plain words."""

from __future__ import annotations

__all__ = ["in_words"]

_STEPS = (
    (0.95, "all but sure"),
    (0.8, "likely"),
    (0.6, "better than even odds"),
    (0.4, "about even odds"),
    (0.2, "less than even odds"),
    (0.05, "unlikely"),
    (0.0, "hardly a chance"),
)


def in_words(chance: float) -> str:
    """The odds that the full rate is met, 0 to 1."""
    words = next(text for least, text in _STEPS if chance >= least)
    return f"{words} of the full rate; a tenth under is no drama"
