"""The names that keys have in the settings, and which of them never reach a program everywhere."""

from __future__ import annotations

import unicodedata

from workbench.errors import WorkbenchError

__all__ = ["KeysRefused", "canonical", "pressed"]


class KeysRefused(WorkbenchError):
    """Keys of the config that cannot be used."""


_MOVING = {"up", "down", "left", "right", "home", "end", "pageup", "pagedown", "insert", "delete"}
_NAMES = {"enter", "space", "tab", "escape", "backspace", "shift+tab"} | _MOVING | {f"f{n}" for n in range(1, 13)}
_NAMES |= {f"{held}+{name}" for held in ("shift", "ctrl") for name in _MOVING}
_NAMES |= {f"ctrl+{letter}" for letter in "abcdefghijklmnopqrstuvwxyz"}
_SWALLOWED = {
    **dict.fromkeys(("ctrl+a", "ctrl+b"), "programs that share out a terminal keep it for themselves"),
    **dict.fromkeys(("ctrl+s", "ctrl+q"), "many terminals stop and resume their output with it"),
    **dict.fromkeys(("ctrl+h", "ctrl+i", "ctrl+j", "ctrl+m"), "to a terminal it is Backspace, Tab or Enter"),
    "ctrl+c": "it is how programs are interrupted",
    "ctrl+l": "shells and multiplexers draw anew with it",
}
# Punctuation has names too, those of Unicode, but for some.
_SIGNS = {
    "slash": "/", "backslash": "\\", "at": "@", "minus": "-", "plus": "+", "underscore": "_",
    **{unicodedata.name(c).lower().replace(" ", "_").replace("-", "_"): c for c in map(chr, range(0x21, 0x7F))},
}  # fmt: skip


def canonical(key: str) -> str:
    """The one name of a key: the sign itself, `R`, `+`, or in small letters what it is called, `ctrl+u`, `f5`.

    Raises KeysRefused for a name that no key has, and for a key that does not reach the program in every terminal.
    """
    key = key.strip()
    if len(key) == 1 and key.isprintable() and not key.isspace():
        return key
    name = key.lower()
    if name in _SWALLOWED:
        raise KeysRefused(f"{name} does not reach every program: {_SWALLOWED[name]}")
    if name.startswith("alt+"):
        raise KeysRefused(f"{name} does not reach every program: to a terminal it is Esc and another key")
    if name.startswith("shift+") and len(name) == 7:
        raise KeysRefused(f"{key!r} is written as the sign itself: {name[-1].upper()!r}")
    if name in _SIGNS:
        return _SIGNS[name]
    if name not in _NAMES:
        raise KeysRefused(f"no key is called {key!r}: write a sign, or a name as enter, pageup, f5, ctrl+u, shift+up")
    return name


def pressed(key: str, character: str | None) -> str:
    """The same name for a key as Textual tells it."""
    held = "+" in key[:-1]
    return character if character and character.isprintable() and not character.isspace() and not held else key
