"""The app's colours and signs: the theme of the settings, another one while it runs, or none."""

from __future__ import annotations

import os
from io import StringIO
from typing import TYPE_CHECKING

from rich.console import Console
from textual.theme import Theme as TextualTheme

from workbench import themes
from workbench.panes import glyphs, palette
from workbench.screens.board import Board
from workbench.screens.faulty import Faulty
from workbench.screens.outside import Outside

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from rich.style import Style

    from workbench.themes import Theme

__all__ = ["Dressed"]


class Dressed(Outside):
    """An app in a theme of those that come along and those in `own`; `signs` names the set wanted, or "auto".

    `theme_trouble` is what there is to say of the themes at the start; empty if nothing.
    """

    def __init__(self, theme: str, own: Path | None, signs: str) -> None:
        self._own, self._wanted = own, signs
        if os.environ.get("NO_COLOR") == "":  # an empty one asks for nothing; Textual goes by its being there
            del os.environ["NO_COLOR"]
        self._colour = not os.environ.get("NO_COLOR")
        self._depth = Console(file=StringIO(), force_terminal=True).color_system  # Textual's own comes too late
        self._worn, self.theme_trouble = self._chosen(theme)
        super().__init__(ansi_color=self._own_colours)
        self._clothe()

    def _chosen(self, name: str) -> tuple[Theme, str]:
        """The theme of the settings; the usual one instead of one that cannot be used. What there is to say of it."""
        twice = themes.shadowed(self._own)
        try:
            theme = themes.load(name, self._own)
        except themes.ThemeRefused as refused:
            return themes.load(themes.DEFAULT), f"{refused}; {themes.DEFAULT} is used"
        hidden = f"themes/{twice[0]}.toml of your own is not used: it has the name of one here" if twice else ""
        return theme, themes.faint(theme) or hidden

    @property
    def _seen(self) -> Theme:
        """The theme as this terminal can show it: sixteen colours are its own, whatever they are."""
        if self._depth == "standard":
            return themes.load("ansi")
        return themes.rounded(self._worn) if self._depth == "256" else self._worn

    @property
    def _own_colours(self) -> bool | None:
        """Whether colours are the terminal's own, or none; Textual's word for "no" is None."""
        return True if self._seen.ansi or not self._colour else None

    def signs(self) -> glyphs.Glyphs:
        """The signs that this terminal has, in these colours."""
        tinted = self._colour and not self._seen.ansi
        return glyphs.choose(glyphs.terminal_encoding(), os.environ.get("TERM", ""), self._wanted, tinted=tinted)

    def styles_now(self) -> Mapping[str, Style]:
        """The style of every role."""
        return palette.styles(self._seen, colour=self._colour)

    def _clothe(self) -> None:
        """Textual's own parts in the same colours, under a name that it has not."""
        if self._own_colours:
            self.theme = "ansi-dark"
            return
        name, c = f"our {self._worn.name}", self._seen.colours
        theme = TextualTheme(
            name, primary=c["accent"], secondary=c["typed"], warning=c["warning"], error=c["danger"],
            success=c["fine"], accent=c["accent"], foreground=c["text"], background=c["ground"], surface=c["bar"],
            panel=c["cursor"], dark=self._worn.dark,
        )  # fmt: skip
        self.register_theme(theme)
        self.theme = name

    def wear_next(self) -> None:
        """The next theme that can be used, from now on."""
        there = themes.names(self._own)
        at = there.index(self._worn.name) + 1 if self._worn.name in there else 0
        trouble = ""
        for name in (*there[at:], *there[:at]):
            try:
                themes.load(name, self._own)
            except themes.ThemeRefused as refused:
                trouble = str(refused)
            else:
                self.wear(name)
                break
        if trouble:
            self.tell(trouble)

    def wear(self, name: str) -> None:
        """The theme of that name from now on, until the program ends."""
        if not self._colour:
            self.tell("NO_COLOR is set: there are no colours to choose")
            return
        if self._depth == "standard":
            self.tell("this terminal has sixteen colours, its own: they are used as they are")
            return
        try:
            self._worn = themes.load(name, self._own)
        except themes.ThemeRefused as refused:
            self.tell(str(refused))
            return
        self.ansi_color = self._own_colours
        self._clothe()
        table = self.styles_now()
        for screen in self.screen_stack:
            if isinstance(screen, Board | Faulty):
                screen.recolour(table)
        self.tell(themes.faint(self._worn) or f'theme {name}, for now; theme = "{name}" in the settings keeps it')

    def tell(self, text: str) -> None:
        """Say something in the bottom line."""

    def theme_names(self) -> tuple[str, ...]:
        """Those that can be chosen while it runs."""
        return tuple(themes.names(self._own)) if self._colour and self._depth != "standard" else ()
