"""The Textual app: it takes the keys in their order, hands them to the desk, and has the bench show what changed.

Without a file it begins with the home screen, and comes back to that from each batch.
"""

from __future__ import annotations

import gc
import os
from functools import partial
from typing import TYPE_CHECKING, Any, ClassVar

from textual import events
from textual.app import SystemCommand
from textual.binding import Binding, BindingType
from textual.message import Message

from workbench import clock
from workbench.config import Config
from workbench.ending import Ending
from workbench.errors import FileRefused
from workbench.panes import glyphs, palette
from workbench.screens import keys
from workbench.screens.board import Board
from workbench.screens.faulty import Faulty
from workbench.screens.keys import ACTIONS
from workbench.screens.outside import Outside
from workbench.screens.theme import textual_theme
from workbench.session.faults import FaultyFile

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping
    from datetime import datetime, tzinfo
    from pathlib import Path

    from rich.style import Style
    from textual.screen import Screen
    from textual.timer import Timer

    from workbench.screens.desk import Desk, Entry
    from workbench.screens.home import Home
    from workbench.session.store import Store
    from workbench.units.mark import Mark

__all__ = ["Workbench", "run", "show"]


_LOOK_S = 1.0  # how often the file is looked at


class Saved(Message):
    """The saver has tried to save, in its own thread: it worked or it did not."""


class Workbench(Outside):
    """One batch on the screen; `home`: `path` is a folder, and all of its batches are.

    `clock` gives the time; it is asked as often as what is shown changes with it.
    """

    AUTO_FOCUS = ""
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(",".join(a.keys), f"desk('{a.id}')", a.help, id=a.id, priority=True, show=False) for a in ACTIONS
    ]

    def __init__(
        self,
        path: Path,
        *,
        clock: Callable[[], Mark],
        config: Config,
        tz: tzinfo | None = None,
        demo: bool = False,
        home: bool = False,
    ) -> None:
        self._colour = not os.environ.get("NO_COLOR")
        self._palette = palette.load(config.theme if config.theme in palette.names() else palette.DEFAULT)
        super().__init__(ansi_color=True if self._palette.ansi or not self._colour else None)
        self._path, self._clock, self._config, self._tz, self._demo = path, clock, config, tz, demo
        self._actions = keys.remapped(config.keys)
        self._to_shell = next(action.keys for action in self._actions if action.id == "shell")
        own = (*self._actions, *keys.remapped(config.keys, keys.HOME_ACTIONS))
        self.set_keymap({action.id: ",".join(action.keys) for action in own if action.id in config.keys})
        self._desk: Desk | None = None
        self._folder = path if home else None
        self._home: Home | None = None
        self._warned = False  # that not all could be saved
        self._timer: Timer | None = None
        self._looked_at: set[Path] = set()  # batches opened in this run
        self._clothe()

    # ---- starting -------------------------------------------------------------------------------------------

    def get_default_screen(self) -> Screen[None]:
        """The bench, or what is wrong with the file; the home screen for a folder."""
        return self._opened() if self._folder is None else self._at_home(self._folder)

    def _at_home(self, folder: Path) -> Screen[None]:
        from workbench.listing import index_of  # all of these only for a folder
        from workbench.screens.home import Home
        from workbench.screens.home_desk import HomeDesk
        from workbench.session.fresh import fresh_text

        config, habits = self._config, self._config.habits._replace(tz=self._tz)
        fresh = partial(fresh_text, flask=config.flask, wort=config.wort)
        actions = keys.remapped(config.keys, keys.HOME_ACTIONS)
        desk = HomeDesk(index_of(folder, habits), self._wall, self._signs(), fresh, habits, actions)
        desk.look()
        self._home = Home(desk, self._styles(), self.size, self._show_batch)
        return self._home

    def _wall(self) -> datetime:
        return self._clock().at

    def _show_batch(self, path: Path) -> None:
        """Open a batch over the home screen."""
        self._path = path
        screen = self._opened()
        self._greet()
        self.push_screen(screen)
        self._wait()

    def _opened(self) -> Screen[None]:
        from workbench.screens.bench import Bench  # most of the program, which the home screen has no need of
        from workbench.screens.desk import Desk
        from workbench.session.store import Store

        def tell() -> None:
            self.post_message(Saved())

        try:
            store = Store.open(self._path, on_save=tell)
        except (FaultyFile, FileRefused) as wrong:
            return Faulty(self._path, wrong, self._styles())
        self._desk = Desk(
            store,
            self._clock,
            self._signs(),
            system=self._config.units,
            tz=self._tz,
            comma=self._config.comma,
            demo=self._demo,
            habits=self._config.habits,
            flasks=self._config.flasks,
            actions=self._actions,
        )
        store.begin()
        if store.read_only or store.notes or store.sharing.news:
            self._desk.said = store.read_only or (f"noted: {store.notes[0]}" if store.notes else store.sharing.news)
        return Bench(self._desk, self._styles(), self.size)

    def _signs(self) -> glyphs.Glyphs:
        tinted = self._colour and not self._palette.ansi
        return glyphs.choose(glyphs.terminal_encoding(), os.environ.get("TERM", ""), self._config.glyphs, tinted=tinted)

    def _styles(self) -> Mapping[str, Style]:
        return palette.styles(self._palette, colour=self._colour)

    def _clothe(self) -> None:
        """Textual's own parts, the palette of commands above all, in the same colours."""
        if self._palette.ansi or not self._colour:
            self.theme = "ansi-dark"
            return
        self.register_theme(textual_theme(self._palette))
        self.theme = self._palette.name

    def search_themes(self) -> None:
        """Textual's list of themes. Ours join it only now: reading them all would hold up the start."""
        for colours in map(palette.load, palette.names()):
            if not colours.ansi:
                self.register_theme(textual_theme(colours))
        super().search_themes()

    def on_ready(self) -> None:
        """It stands: look at the clock from now on."""
        self.listen()
        self._greet()
        self._show()
        self._wait()
        self.set_interval(_LOOK_S, self._follow)
        gc.freeze()  # the start is over
        gc.enable()

    def _follow(self) -> None:
        """Look at the file; where nothing is new nothing is written."""
        if self._desk is not None:
            from workbench.screens import following

            if following.look(self._desk):
                self._show()
                self._wait()

    def _greet(self) -> None:
        """Tell of a batch just opened what was due meanwhile, and ask what only the brewer knows."""
        if self._desk is None:
            return
        from workbench.screens import ticking, unfinished

        unfinished.resume(self._desk)
        if ticking.opened(self._desk, unseen=self._path not in self._looked_at):
            self.bell()
        self._looked_at.add(self._path)

    def on_unmount(self) -> None:
        """Write what is not written yet."""
        if self._desk is not None:
            self._desk.store.close()

    @property
    def open_store(self) -> Store | None:  # type: ignore[override]
        """That of the batch which is open."""
        return None if self._desk is None else self._desk.store

    # ---- keys -----------------------------------------------------------------------------------------------

    async def on_event(self, event: events.Event) -> None:
        """While a value is typed all keys and pastes go to its line, from here, so that they act in their order."""
        if isinstance(event, events.Key) and event.key in self._to_shell:
            self.action_suspend_process()
        elif isinstance(event, events.Key) and event.key.startswith("alt+") and self._typing:
            for key in ("escape", event.key.removeprefix("alt+")):  # Esc and a key that came in one piece
                await self.on_event(events.Key(key, key if len(key) == 1 else None))
        elif not isinstance(event, events.Key | events.Paste) or not self._typing:
            await super().on_event(event)
        elif self._desk is not None and (entry := self._entry) is not None:
            from workbench.screens import typed, unfinished

            if isinstance(event, events.Key):
                typed.press(self._desk, entry, event.key, event.character)
                if self._entry is None:
                    self._wait()
            else:
                typed.paste(entry, event.text)
            unfinished.keep(self._desk)
            self._show()
        elif self._home is not None:
            self._home.take(event)

    @property
    def _typing(self) -> bool:
        """Whether a line is open, on the bench or on the home screen."""
        home = self._home
        asked = home is not None and self.screen is home and home.desk.question is not None
        return asked or self._entry is not None

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """The table's keys act in their panes alone; the palette of commands has the keyboard to itself."""
        if action != "desk" or isinstance(self.screen, Faulty):
            return True
        here = self._desk is not None and any(a.id == parameters[0] and self._desk.pane in a.panes for a in ACTIONS)
        return here and self._on_bench(self.screen)

    def action_desk(self, action_id: str) -> None:
        """Do what an action of the table says."""
        if action_id == "quit":
            self._leave()
        elif action_id == "shell":
            self.action_suspend_process()
        elif isinstance(self.screen, Board) and not self.screen.fits:
            return  # nothing can be seen of what a key would do
        elif action_id == "back" and self._home is not None and (self._desk is None or self._desk.at_rest):
            self._leave()
        elif self._desk is not None and self._entry is None:
            self._warned = False
            from workbench.screens import actions  # with the first key, not before the screen stands

            actions.run(self._desk, action_id)
            if self._desk.ring:
                self.bell()
                self._desk.ring = False
            self._show()
            self._wait()
        elif isinstance(self.screen, Faulty) and action_id == "redo":
            self.push_screen(self._opened())

    def _leave(self) -> None:
        """Out, once all is on the disk and decided; where it is not a second `q` leaves all the same."""
        if self._desk is None:  # a file that cannot be shown
            self._out(1)
            return
        from workbench.screens import following

        saved, saver = self._desk.store.settle(), self._desk.store.saver
        wait = following.left_undecided(self._desk) if saved else f"q again leaves WITHOUT saving: {saver.problem}"
        if wait and not self._warned:
            self._warned, self._desk.said = True, wait
            self._show()
        else:
            self._out(0 if saved else 1, None if saved else f"not saved: {saver.problem}")

    def _out(self, code: int, message: str | None = None) -> None:
        """To the home screen, if the batch was opened from there; else the end."""
        if self._home is None:
            self.exit(code, message=message)
            return
        if self._desk is not None:
            self._desk.store.close()
        self._desk, self._warned = None, False
        while self.screen is not self._home:
            self.pop_screen()
        self._home.come_back(message)
        self._wait()

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """Every action of the table, and what of Textual's own goes with them."""
        pane = self._desk.pane if self._desk is not None else -1
        for action in (action for action in self._actions if pane in action.panes):
            yield SystemCommand(f"{action.help} ({action.key})", action.id, partial(self.action_desk, action.id))
        if self._home is not None and screen is self._home:
            yield from self._home.commands()
        yield from (c for c in super().get_system_commands(screen) if c.title in {"Theme", "Screenshot"})

    @property
    def _entry(self) -> Entry | None:
        """What is being typed on the bench, if anything is."""
        return self._desk.entry if self._desk is not None and self._on_bench(self.screen) else None

    def _on_bench(self, screen: Screen[Any]) -> bool:
        """Whether this is the screen of a batch."""
        return isinstance(screen, Board) and screen is not self._home

    # ---- showing --------------------------------------------------------------------------------------------

    def _show(self, *, whole: bool = True) -> None:
        for screen in self.screen_stack:
            if isinstance(screen, Board) and self._on_bench(screen):
                screen.show(whole=whole)

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
        """Until that happens next; between, nothing is done and nothing written."""
        if self._timer is not None:
            self._timer.stop()
        pause_s = 60.5 if self._home is None else self._home.desk.pause_s()
        if self._desk is not None:
            from workbench.screens import ticking

            pause_s = ticking.pause_s(self._desk)
        self._timer = self.set_timer(pause_s, self._tick)

    async def action_quit(self) -> None:
        """Textual's own way out, as ours."""
        self._leave()

    def on_saved(self) -> None:
        """Say in the top line whether something is not on the disk."""
        store = self.open_store
        if store is not None and self._desk is not None:
            if store.saver.problem is not None:
                self._follow()  # another program may have written there
            elif self._warned and not store.sharing.kept:
                self._warned, self._desk.said = False, "saved"
        self._show()

    def on_resize(self, event: events.Resize) -> None:
        """A new size; the app's own is still the old one here."""
        for screen in self.screen_stack:  # the bench may lie under the palette of commands
            if isinstance(screen, Board):
                screen.resized(event.size)

    def watch_theme(self, name: str) -> None:
        """The theme was chosen in the palette of commands: draw with its colours."""
        if name in palette.names() and name != self._palette.name:
            self._palette = palette.load(name)
            for screen in self.screen_stack:
                if isinstance(screen, Board | Faulty):
                    screen.recolour(self._styles())


def show(app: Workbench) -> int:
    """Show the app until the brewer leaves, or something outside ends it; the exit code."""
    with Ending(app.save, app.leave, app.save_last):
        code = app.run(mouse=False)
        if code is None:  # it broke down
            app.save_last()
    return code if code is not None else app.return_code or 0


def run(path: Path, *, demo: bool = False, home: bool = False, config: Config | None = None) -> int:
    """Show the batch in `path`, or with `home` the folder `path`; the exit code.

    Raises KeysRefused where the config's keys cannot be used.
    """
    return show(Workbench(path, clock=clock.read, config=config or Config(), demo=demo, home=home))
