"""A chance in plain words."""

from __future__ import annotations

__all__ = ["chance_text", "in_words", "odds"]

_ODDS = (
    (0.95, "near sure"),
    (0.8, "likely"),
    (0.6, "good odds"),
    (0.4, "even odds"),
    (0.2, "poor odds"),
    (0.05, "unlikely"),
    (0.0, "hardly"),
)


def chance_text(chance: float) -> str:
    """Two decimals; never a certainty, which 512 draws cannot give."""
    return ">0.99" if chance > 0.995 else "<0.01" if chance < 0.005 else f"{chance:.2f}"


def odds(chance: float | None) -> str:
    """A chance, 0 to 1, in a word or two; nothing where it is not known."""
    return "" if chance is None else next(words for least, words in _ODDS if chance >= least)


def in_words(chance: float, of_need: float = 1.0) -> str:
    """The odds that the full pitch rate is met, kindly where the likely pitch is at least nine tenths `of_need`."""
    return f"the full rate: {odds(chance)}" + ("; a tenth under is no drama" if of_need >= 0.9 else "")
