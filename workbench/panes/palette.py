"""Colours by role: a theme made into the styles that canvases draw with.

A role is a plain word ("dim", "typed"). `role + "@"` is the same on the row under the cursor, `role + "_"` on a bar.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.style import Style

from workbench.themes import COLOURS

if TYPE_CHECKING:
    from collections.abc import Mapping

    from workbench.themes import Theme

__all__ = ["styles"]

_BOLD = {"typed", "danger", "warning", "key", "tag"}
_INKS = {**{role: role for role in COLOURS[3:]}, "key": "accent", "glass": "cursor"}  # role -> colour of its letters


def styles(theme: Theme, *, colour: bool) -> dict[str, Style]:
    """The style of every role; without `colour` only bold, dim and reverse are used."""
    if not colour:
        return _plain({**dict.fromkeys(_INKS, ""), "dim": "dim", "rule": "dim", "glass": "dim"})
    if theme.ansi:
        return _plain({role: theme.colours[ink] for role, ink in _INKS.items()} | {"glass": "default dim"})
    return _tinted(theme.colours)


def _plain(inks: Mapping[str, str]) -> dict[str, Style]:
    """Sixteen colours or none: grounds are left alone, the cursor's row is reversed and drops its colours."""
    table: dict[str, Style] = {}
    for role, ink in inks.items():
        table[role] = table[role + "_"] = Style.parse(ink.replace("default dim", "dim")) + Style(bold=role in _BOLD)
        table[role + "@"] = Style(reverse=True, bold=role in _BOLD)
    table |= dict.fromkeys(("tag", "field"), Style(reverse=True, bold=True))
    table["caret"] = Style(underline=True, bold=True)
    table |= {"surface": table["wort"], "limit": table["danger"]}
    return table


def _tinted(colours: Mapping[str, str]) -> dict[str, Style]:
    table: dict[str, Style] = {}
    for suffix, ground in (("", "ground"), ("@", "cursor"), ("_", "bar")):
        for role, ink in _INKS.items():
            # empty glass is drawn in the cursor's ground and would vanish on it
            seen = "rule" if role == "glass" and suffix == "@" else ink
            table[role + suffix] = Style(color=colours[seen], bgcolor=colours[ground], bold=role in _BOLD)
    table["tag"] = Style(color=colours["ground"], bgcolor=colours["accent"], bold=True)
    table["field"] = Style(color=colours["ground"], bgcolor=colours["typed"])
    table["caret"] = Style(color=colours["text"], bgcolor=colours["ground"], bold=True)
    table["surface"] = Style(color=colours["wort"], bgcolor=colours["cursor"])  # half a row of wort, glass above
    table["limit"] = Style(color=colours["danger"], bgcolor=colours["cursor"])
    return table
