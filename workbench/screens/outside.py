"""What reaches the app from outside the program: told to end, to stop for a while, to go on."""

from __future__ import annotations

import asyncio
from contextlib import suppress
from typing import TYPE_CHECKING

from textual.app import App
from textual.message import Message

from workbench.screens import stopping
from workbench.screens.terminal import Terminal

if TYPE_CHECKING:
    from textual.driver import Driver

    from workbench.session.store import Store

__all__ = ["Outside"]


class Told(Message):
    """To leave, with this exit code."""

    def __init__(self, code: int) -> None:
        super().__init__()
        self.code = code


class Outside(App[int]):
    """An app that leaves nothing unsaved in `open_store`. What is public here may be called in any thread."""

    open_store: Store | None = None

    def get_driver_class(self) -> type[Driver]:
        """Ours."""
        return Terminal

    def save(self) -> bool:
        """Have everything written now. False where that failed."""
        store = self.open_store
        return store is None or store.flush()

    def save_last(self) -> str | None:
        """The same where there will be no other time: if need be beside the file. What there is to tell."""
        store = self.open_store
        return None if store is None else store.flush_or_set_aside()

    def leave(self, code: int) -> None:
        """Leave with this exit code, after the keys that came before."""
        with suppress(RuntimeError):  # it is leaving just now
            self.post_message(Told(code))

    def on_told(self, told: Told) -> None:
        """Leave, wherever it is."""
        self.exit(told.code)

    def listen(self) -> None:
        """From now on stop and go on when the system says so."""
        if not self.is_headless:
            stopping.listen(asyncio.get_running_loop(), self.action_suspend_process, self._continued)

    def action_suspend_process(self) -> None:
        """To the shell: all saved, the terminal as it was, until the shell says to go on."""
        if self.is_headless:
            return
        self.save()
        with self.suspend():
            stopping.stop()
        self._draw_anew()

    def _continued(self) -> None:
        """It was stopped as no program can hinder: who knows how the terminal is now."""
        with self.suspend():
            pass
        self._draw_anew()

    def _draw_anew(self) -> None:
        self.gone_on()
        self.screen.refresh()  # all of it: a changed layout alone would paint nothing

    def gone_on(self) -> None:
        """It goes on after a stop: time has passed."""
        raise NotImplementedError
