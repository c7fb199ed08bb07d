"""An app in step with time: the clock looked at when it changes what is shown, the file each second, what was saved."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING

from textual.message import Message

from workbench.starting import Starting

if TYPE_CHECKING:
    from textual.timer import Timer

__all__ = ["Pacing", "Saved"]

_LOOK_S = 1.0  # how often the file is looked at


class Saved(Message):
    """The saver has tried to save, in its own thread: it worked or it did not."""


class Pacing(Starting):
    """An app whose desk and home screen move on by themselves."""

    _timer: Timer | None = None
    _due_s = 0.0  # when the clock is to be looked at, on the monotonic clock
    _warned = False  # that not all could be saved

    def _tick(self) -> None:
        """Something that is shown has changed by itself."""
        if self._desk is not None:
            from workbench.screens import ticking

            ticked = ticking.tick(self._desk)
            if ticked.rang:
                self.bell()
            self._show(whole=ticked.whole)
        elif self._home is not None:
            self._home.tick()
        self._wait()

    def gone_on(self) -> None:
        """It goes on after a stop."""
        self._tick()

    def _wait(self) -> None:
        """Until that happens next; between, the file is looked at, and nothing is written."""
        pause_s = 60.5 if self._home is None else self._home.desk.pause_s()
        if self._desk is not None:
            from workbench.screens import ticking

            pause_s = ticking.pause_s(self._desk)
        self._due_s = time.monotonic() + pause_s
        self._sleep()

    def _sleep(self) -> None:
        """One timer for both: each time a processor is woken costs more than what is then done."""
        if self._timer is not None:
            self._timer.stop()
        left_s = max(0.0, self._due_s - time.monotonic())
        self._timer = self.set_timer(left_s if self._desk is None else min(left_s, _LOOK_S), self._wake)

    def _wake(self) -> None:
        """Look at the file, and once it is time at the clock."""
        self._follow()
        if time.monotonic() < self._due_s:
            self._sleep()
        else:
            self._tick()

    def _follow(self) -> None:
        """Look at the file; where nothing is new nothing is written."""
        if self._desk is not None:
            from workbench.screens import following

            if following.look(self._desk):
                self._show()
                self._wait()

    def on_saved(self) -> None:
        """Say in the top line whether something is not on the disk."""
        store = self.open_store
        if store is not None and self._desk is not None:
            if store.saver.problem is not None:
                self._follow()  # another program may have written there
            elif self._warned and not store.sharing.kept:
                self._warned, self._desk.said = False, "saved"
        self._show()
