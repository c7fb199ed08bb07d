"""What reaches the app from outside the program: told to end, to stop for a while, to go on."""

from __future__ import annotations

import asyncio
import sys
from contextlib import suppress
from typing import TYPE_CHECKING

from textual.app import App
from textual.message import Message

from workbench.screens import stopping

if TYPE_CHECKING:
    from textual.driver import Driver

    from workbench.session.store import Store

__all__ = ["Outside"]

# Asks a terminal to tell of buttons and the wheel, xterm's control sequences; not of moves, which would be many.
_MOUSE_ON, _MOUSE_OFF = "\x1b[?1000h\x1b[?1006h", "\x1b[?1006l\x1b[?1000l"


class Told(Message):
    """To leave, with this exit code."""

    def __init__(self, code: int) -> None:
        super().__init__()
        self.code = code


class Outside(App[int]):
    """An app that leaves nothing unsaved in `open_store`. What is public here may be called in any thread."""

    open_store: Store | None = None
    pointing = False  # whether the terminal tells of the mouse; where it does, it may select no text

    def get_driver_class(self) -> type[Driver]:
        """Textual's for this system, but for how keys are read and how few bytes are written."""
        from workbench.screens.terminal import Terminal  # not where there is none

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

    def point(self, *, on: bool) -> None:
        """Ask the terminal to tell of the mouse, or to have it back. Textual's own driver knows only all or nothing."""
        if on != self.pointing:
            self.pointing = on
            self._ask_for_mouse(on=on)

    def _ask_for_mouse(self, *, on: bool) -> None:
        if not self.is_headless and sys.__stderr__ is not None:  # what the screen is drawn on
            sys.__stderr__.write(_MOUSE_ON if on else _MOUSE_OFF)
            sys.__stderr__.flush()

    def listen(self) -> None:
        """From now on stop and go on when the system says so."""
        if not self.is_headless:
            stopping.listen(asyncio.get_running_loop(), self.action_suspend_process, self._continued)

    def action_suspend_process(self) -> None:
        """To the shell: all saved, the terminal as it was, until the shell says to go on."""
        if self.is_headless:
            return
        self.save()
        pointing = self.pointing
        self.point(on=False)
        with self.suspend():
            stopping.stop()
        self.point(on=pointing)
        self._draw_anew()

    def _continued(self) -> None:
        """It was stopped as no program can hinder: who knows how the terminal is now."""
        with self.suspend():
            pass
        self._ask_for_mouse(on=self.pointing)
        self._draw_anew()

    def _draw_anew(self) -> None:
        self.gone_on()
        self.screen.refresh()  # all of it: a changed layout alone would paint nothing

    def gone_on(self) -> None:
        """It goes on after a stop: time has passed."""
        raise NotImplementedError
