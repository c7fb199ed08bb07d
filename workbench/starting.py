"""An app's first start: its questions come before everything else, and their answers are used at once."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from textual import events

from workbench.screens.inputs import Inputs

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from rich.style import Style
    from textual.screen import Screen

    from workbench.config import Config
    from workbench.panes.glyphs import Glyphs
    from workbench.screens.desk import Desk
    from workbench.screens.first_start import FirstStart
    from workbench.screens.home import Home

__all__ = ["Starting"]


class Starting(Inputs):
    """An app that shows `begun()`, but asks first for settings where `first` says where they are to be written."""

    first: Path | None = None
    _questions: FirstStart | None = None  # while they are asked
    _config: Config
    _path: Path
    _folder: Path | None
    _desk: Desk | None
    _home: Home | None

    def signs(self) -> Glyphs:
        """The signs to draw with."""
        raise NotImplementedError

    def styles_now(self) -> Mapping[str, Style]:
        """The style of every role."""
        raise NotImplementedError

    def begun(self) -> Screen[None]:
        """The screen that was wanted in the first place."""
        raise NotImplementedError

    def _greet(self) -> None:
        """What a screen just put there says by itself."""
        raise NotImplementedError

    def _wait(self) -> None:
        """Until the clock changes what is shown."""
        raise NotImplementedError

    def get_default_screen(self) -> Screen[None]:
        """The questions of a first start, else what was wanted."""
        return self.begun() if self.first is None else self._asked(self.first)

    def _asked(self, settings: Path) -> Screen[None]:
        from workbench.first import asking  # only once

        self._questions = asking(self.size, self.signs(), self.styles_now(), partial(self._use, settings))
        return self._questions

    def _use(self, settings: Path, answers: Mapping[str, str]) -> None:
        """Use the answers, write them, and go on."""
        from workbench import first

        self._questions, self._config = None, first.config_of(answers)
        said = first.keep(settings, answers, self._path if self._folder is None else None)
        self.push_screen(self.begun())  # the first screen of all cannot be put away; it lies below
        self._greet()
        if shown := self._desk or (self._home and self._home.desk):
            shown.said = shown.said or said
        self._wait()

    async def on_event(self, event: events.Event) -> None:
        """While a question is asked all keys and pastes go to its line, from here, so that they act in their order."""
        questions = self._questions
        if questions is not None and questions.fits and isinstance(event, events.Key | events.Paste):
            if isinstance(event, events.Key) and event.key == "ctrl+q":
                self.exit(0)  # asked again next time
            else:
                questions.take(event)
        else:
            await super().on_event(event)
