"""A chance in plain words."""

from __future__ import annotations

__all__ = ["in_words"]

_STEPS = (
    (0.95, "the full rate is all but sure"),
    (0.8, "the full rate is likely"),
    (0.6, "better than even odds of the full rate"),
    (0.4, "even odds of the full rate"),
    (0.2, "less than even odds of the full rate"),
    (0.05, "the full rate is unlikely"),
    (0.0, "hardly a chance of the full rate"),
)


def in_words(chance: float) -> str:
    """The odds, 0 to 1, that the full pitch rate is met."""
    return next(text for least, text in _STEPS if chance >= least) + "; a tenth under is no drama"
