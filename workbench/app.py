"""The Textual app: it takes the keys in their order, hands them to the desk, and has the bench show what changed."""

from __future__ import annotations

import locale
import os
from contextlib import ExitStack
from datetime import UTC, datetime
from typing import TYPE_CHECKING, ClassVar

from textual import events
from textual.app import App, SystemCommand
from textual.binding import Binding, BindingType
from textual.message import Message
from textual.theme import Theme

from workbench.errors import FileRefused
from workbench.panes import glyphs, palette
from workbench.screens import actions, typed
from workbench.screens.bench import Bench
from workbench.screens.desk import Desk
from workbench.screens.faulty import Faulty
from workbench.screens.keys import ACTIONS
from workbench.session.faults import FaultyFile
from workbench.session.store import Store

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping
    from datetime import tzinfo
    from pathlib import Path

    from textual.screen import Screen

    from workbench.panes.palette import Palette
    from workbench.units.show import System

__all__ = ["Workbench", "run"]


class Saved(Message):
    """The saver has tried to save, in its own thread: it worked or it did not."""


class Workbench(App[int]):
    """One batch on the screen. `now` gives the time with its offset; it is asked once a minute and at each change."""

    AUTO_FOCUS = ""
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(",".join(a.keys), f"desk('{a.id}')", a.help, id=a.id, priority=True, show=False) for a in ACTIONS
    ]

    def __init__(
        self,
        path: Path,
        *,
        now: Callable[[], datetime],
        theme: str = palette.DEFAULT,
        signs: str = "",
        system: System = "metric",
        tz: tzinfo | None = None,
    ) -> None:
        self._colour = not os.environ.get("NO_COLOR")
        self._palette = palette.load(theme)
        super().__init__(ansi_color=True if self._palette.ansi or not self._colour else None)
        self._path, self._now, self._system, self._tz = path, now, system, tz
        tinted = self._colour and not self._palette.ansi
        encoding = locale.getpreferredencoding(do_setlocale=False)
        self._glyphs = glyphs.choose(encoding, os.environ.get("TERM", ""), signs, tinted=tinted)
        self._desk: Desk | None = None
        self._warned = False  # that not all could be saved
        self._start = ExitStack()
        self._clothe()

    # ---- starting -------------------------------------------------------------------------------------------

    def get_default_screen(self) -> Screen[None]:
        """The bench, or what is wrong with the file."""
        return self._opened()

    def _opened(self) -> Screen[None]:
        try:
            store = Store.open(self._path, on_save=lambda: self.post_message(Saved()))
        except (FaultyFile, FileRefused) as wrong:
            return Faulty(self._path, wrong, self._styles())
        self._desk = Desk(store, self._now, self._glyphs, self._system, self._tz)
        return Bench(self._desk, self._styles(), self.size)

    def _styles(self) -> Mapping[str, object]:
        return palette.styles(self._palette, colour=self._colour)

    def _clothe(self) -> None:
        """Textual's own parts, the palette of commands above all, in the same colours."""
        for name in palette.names():
            if not palette.load(name).ansi:
                self.register_theme(_theme(palette.load(name)))
        self.theme = "ansi-dark" if self._palette.ansi or not self._colour else self._palette.name

    def on_load(self) -> None:
        """One paint at the start instead of three."""
        self._start.enter_context(self.batch_update())

    def on_ready(self) -> None:
        """The layout stands: paint it, and look at the clock from now on."""
        self._start.close()
        if isinstance(self.screen, Bench):
            self.screen.painted()
        self._wait()

    # ---- keys -----------------------------------------------------------------------------------------------

    async def on_event(self, event: events.Event) -> None:
        """While a value is typed all keys and pastes go to its line, from here, so that they act in their order."""
        if isinstance(event, events.Key) and self._typing:
            typed.press(self._at_work, event.key, event.character)
            self._show()
        elif isinstance(event, events.Paste) and self._typing:
            typed.paste(self._at_work, event.text)
            self._show()
        else:
            await super().on_event(event)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:  # noqa: ARG002
        """The table's keys act on the bench alone; the palette of commands has the keyboard to itself."""
        if action == "desk":
            return isinstance(self.screen, Bench | Faulty)
        return True

    def action_desk(self, action_id: str) -> None:
        """Do what an action of the table says."""
        if action_id == "quit":
            self._leave()
        elif self._desk is not None and self._typing is False:
            actions.run(self._desk, action_id)
            self._show()
        elif isinstance(self.screen, Faulty) and action_id == "redo":
            self.switch_screen(self._opened())

    def _leave(self) -> None:
        """Out, once all is on the disk; where that fails a second `q` leaves all the same."""
        store = self._desk.store if self._desk is not None else None
        if store is None or store.flush() or self._warned:
            self.exit(0)
            return
        self._warned = True
        self._at_work.said = f"not saved: {store.saver.problem}; q once more leaves without"
        self._show()

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """Every action of the table, then Textual's own."""
        for action in ACTIONS:
            yield SystemCommand(
                f"{action.id.replace('-', ' ')} ({action.key})", action.help, lambda i=action.id: self.action_desk(i)
            )
        yield from super().get_system_commands(screen)

    @property
    def _at_work(self) -> Desk:
        assert self._desk is not None
        return self._desk

    @property
    def _typing(self) -> bool:
        return self._desk is not None and self._desk.entry is not None and isinstance(self.screen, Bench)

    # ---- showing --------------------------------------------------------------------------------------------

    def _show(self) -> None:
        for screen in self.screen_stack:
            if isinstance(screen, Bench):
                screen.show()

    def _tick(self) -> None:
        """At every full minute: the plan as it is then. Between minutes nothing is written."""
        if self._desk is not None:
            self._desk.recompute()
            self._show()
        self._wait()

    def _wait(self) -> None:
        self.set_timer(60.5 - self._now().second, self._tick)

    def on_saved(self) -> None:
        """Say in the top line whether something is not on the disk."""
        self._show()

    def on_resize(self, event: events.Resize) -> None:
        """A new size; the app's own is still the old one here."""
        if isinstance(self.screen, Bench):
            self.screen.resized(event.size)

    def watch_theme(self, name: str) -> None:
        """The theme was chosen in the palette of commands: draw with its colours."""
        if name in palette.names() and name != self._palette.name:
            self._palette = palette.load(name)
            for screen in self.screen_stack:
                if isinstance(screen, Bench | Faulty):
                    screen.recolour(self._styles())


def _theme(colours: Palette) -> Theme:
    c = colours.colours
    return Theme(
        colours.name, primary=c["accent"], secondary=c["typed"], warning=c["warning"], error=c["danger"],
        success=c["fine"], accent=c["accent"], foreground=c["text"], background=c["ground"], surface=c["bar"],
        panel=c["cursor"], dark=colours.dark,
    )  # fmt: skip


def run(path: Path, *, demo: bool = False, config: Mapping[str, object] | None = None) -> int:
    """Show the batch in `path` until the brewer leaves; the exit code. `config` may name theme, signs and system."""
    said = config or {}
    app = Workbench(
        path,
        now=lambda: datetime.now(UTC),
        theme=str(said.get("theme") or palette.DEFAULT),
        signs=str(said.get("glyphs") or ""),
        system="us" if said.get("units") == "us" else "metric",
    )
    code = app.run(mouse=False)
    return code if code is not None else app.return_code or 0
