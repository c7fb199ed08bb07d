"""A chance in plain words."""

from __future__ import annotations

__all__ = ["chance_text", "in_words", "odds"]

# from which chance on, in a word or two, and how a sentence goes on from there
_ODDS = (
    (0.95, "near sure", "to reach"),
    (0.8, "likely", "to reach"),
    (0.6, "good odds", "of"),
    (0.4, "even odds", "of"),
    (0.2, "poor odds", "of"),
    (0.05, "unlikely", "to reach"),
    (0.0, "hardly", "a chance of"),
)
_NO_DRAMA = 0.9  # a pitch of so much of the need makes good beer all the same (common practice, no source)


def chance_text(chance: float) -> str:
    """Two decimals; never a certainty, which 512 draws cannot give."""
    return ">0.99" if chance > 0.995 else "<0.01" if chance < 0.005 else f"{chance:.2f}"


def odds(chance: float | None) -> str:
    """A chance, 0 to 1, in a word or two; nothing where it is not known."""
    return "" if chance is None else next(words for least, words, _ in _ODDS if chance >= least)


def in_words(chance: float, of_need: float = 1.0, goal: str = "the full rate") -> str:
    """`even odds of the full rate; a tenth under is no drama`, kindly where the likely pitch is near the need.

    `of_need` is the likely pitch as a share of the need: below nine tenths the kind half is left out.
    """
    on = next(on for least, _, on in _ODDS if chance >= least)
    return f"{odds(chance)} {on} {goal}" + ("; a tenth under is no drama" if of_need >= _NO_DRAMA else "")
