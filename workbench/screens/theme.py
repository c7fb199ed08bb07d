"""A palette as a theme of Textual's own, for what lies under our canvases."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.theme import Theme

if TYPE_CHECKING:
    from workbench.panes.palette import Palette

__all__ = ["textual_theme"]


def textual_theme(colours: Palette) -> Theme:
    """The same colours under Textual's names. Not for a palette of the terminal's own colours."""
    c = colours.colours
    return Theme(
        colours.name, primary=c["accent"], secondary=c["typed"], warning=c["warning"], error=c["danger"],
        success=c["fine"], accent=c["accent"], foreground=c["text"], background=c["ground"], surface=c["bar"],
        panel=c["cursor"], dark=colours.dark,
    )  # fmt: skip
