"""Text of unknown origin made harmless: what would move a cursor, ring, or turn text around is shown, not obeyed."""

from __future__ import annotations

__all__ = ["harmless"]

# Marks that reorder or hide the text around them.
_TURNING = {*range(0x202A, 0x202F), *range(0x2066, 0x206A), 0x200E, 0x200F, 0x061C, 0x2028, 0x2029, 0xFEFF}


def harmless(text: str) -> str:
    """Replace control characters, escape sequences' first bytes, surrogates and turning marks by visible stand-ins."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(_stand_in(character) for character in text)


def _stand_in(character: str) -> str:
    code = ord(character)
    if code < 0x20:
        return " " if character in "\t\n\r" else chr(0x2400 + code)  # the control pictures: ␛ for escape
    if code == 0x7F:
        return "\u2421"
    if 0x80 <= code < 0xA0 or 0xD800 <= code < 0xE000 or code in _TURNING:
        return "\ufffd"
    return character
