"""Text of unknown origin made harmless: what would move a cursor, ring, or turn text around is shown, not obeyed."""

from __future__ import annotations

__all__ = ["harmless"]


def harmless(text: str) -> str:
    """`text` on one line of printable characters: blanks stay blanks, every other character gets a visible stand-in.

    What is printable is Python's rule, `str.isprintable`: no controls, surrogates, or marks that turn or hide text.
    """
    return text if text.isprintable() else "".join(map(_stand_in, text))


def _stand_in(character: str) -> str:
    if character.isprintable():
        return character
    if character.isspace():
        return " "
    code = ord(character)
    if code < 0x20:
        return chr(0x2400 + code)  # the control pictures: ␛ for escape
    return "\u2421" if code == 0x7F else "\ufffd"
