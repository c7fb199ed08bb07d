"""The Textual app: it takes the keys in their order, hands them to the desk, and has the bench show what changed.

Without a file it begins with the home screen, and comes back to that from each batch.
"""

from __future__ import annotations

import gc
from typing import TYPE_CHECKING, Any

from workbench import clock
from workbench.config import own_themes
from workbench.ending import Ending
from workbench.errors import FileRefused
from workbench.pacing import Pacing, Saved
from workbench.screens import keys
from workbench.screens.board import Board
from workbench.screens.dressed import Dressed
from workbench.screens.faulty import Faulty
from workbench.session.faults import FaultyFile

if TYPE_CHECKING:
    from collections.abc import Callable
    from datetime import datetime, tzinfo
    from pathlib import Path

    from textual import events
    from textual.screen import Screen

    from workbench.config import Config
    from workbench.plan.model import Plan
    from workbench.screens.desk import Desk
    from workbench.screens.home import Home
    from workbench.session.store import Store
    from workbench.units.mark import Mark

__all__ = ["Workbench", "run", "show"]


class Workbench(Dressed, Pacing):
    """One batch on the screen; `home`: `path` is a folder, and all of its batches are.

    `clock` gives the time; it is asked as often as what is shown changes with it.
    """

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
        super().__init__(config.theme, own_themes(), config.glyphs)
        self._path, self._clock, self._config, self._tz, self._demo = path, clock, config, tz, demo
        self._actions = keys.remapped(config.keys)
        self._home_actions = keys.remapped(config.keys, keys.HOME_ACTIONS)
        self.animation_level = "none"
        self._desk: Desk | None = None
        self._folder = path if home else None
        self._home: Home | None = None
        self._looked_at: set[Path] = set()  # batches opened in this run

    # ---- starting -------------------------------------------------------------------------------------------

    def begun(self) -> Screen[None]:
        """The bench, or what is wrong with the file; the home screen for a folder."""
        return self._opened() if self._folder is None else self._at_home(self._folder)

    def _at_home(self, folder: Path) -> Screen[None]:
        from workbench.listing import index_of  # all of these only for a folder
        from workbench.screens.home import Home
        from workbench.screens.home_desk import HomeDesk

        habits = self._config.habits._replace(tz=self._tz)
        desk = HomeDesk(index_of(folder, habits), self._wall, self.signs(), self._fresh, habits, self._home_actions)
        desk.themes, desk.of_batch, desk.in_form = self.theme_names, self._actions, self._in_form_of
        desk.look()
        self._home = Home(desk, self.styles_now(), self.size, self._show_batch)
        return self._home

    def _fresh(self, name: str) -> str:
        """The text of a new batch, with the usual flask and wort."""
        from workbench.session.fresh import fresh_text

        return fresh_text(name, flask=self._config.flask, wort=self._config.wort)

    def _in_form_of(self, form: str, plan: Plan, file: str) -> tuple[str, str]:
        """The plan of a listed file in a form: the end of the new file's name, and the text."""
        from workbench.forms import SUFFIXES, Wanted, written

        config = self._config
        wanted = Wanted(plan, file, config.units, config.comma, config.habits._replace(tz=self._tz))
        return SUFFIXES[form], written(form, wanted)

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
        from workbench.screens import guide
        from workbench.screens.bench import Bench  # most of the program, which the home screen has no need of
        from workbench.screens.desk import Desk
        from workbench.session.store import Store

        def tell() -> None:
            self.post_message(Saved())

        try:
            store = Store.open(self._path, on_save=tell)
        except (FaultyFile, FileRefused) as wrong:
            return Faulty(self._path, wrong, self.styles_now())
        self._desk = Desk(
            store,
            self._clock,
            self.signs(),
            system=self._config.units,
            tz=self._tz,
            comma=self._config.comma,
            demo=self._demo,
            habits=self._config.habits,
            flasks=self._config.flasks,
            actions=self._actions,
            fresh=self._fresh,
            in_form=_in_form,
            themes=self.theme_names,
        )
        guide.stand(self._desk)
        store.begin()
        if store.read_only or store.notes or store.sharing.news:
            self._desk.said = store.read_only or (f"noted: {store.notes[0]}" if store.notes else store.sharing.news)
        if store.unfinished.there:
            from workbench.screens import unfinished  # after a crash only

            unfinished.resume(self._desk)
        return Bench(self._desk, self.styles_now(), self.size)

    def on_ready(self) -> None:
        """It stands: look at the clock from now on."""
        self.listen()
        self.point(on=self._config.mouse)
        self._greet()
        if trouble := self.theme_trouble:
            self.tell(trouble)
        if self._desk is not None:
            self._show()
        self._wait()
        gc.freeze()  # the start is over
        gc.enable()

    def tell(self, text: str) -> None:
        """Say something in the bottom line of the screen in sight, and draw all with the signs there are now."""
        signs = self.signs()
        if self._home is not None:
            self._home.desk.glyphs, self._home.desk.said = signs, text
            self._home.show()
        if self._desk is not None:
            self._desk.glyphs, self._desk.said = signs, text
            self._desk.redraw()
            self._show()

    def _greet(self) -> None:
        """Tell of a batch just opened what was due meanwhile, and ask what only the brewer knows."""
        if self._desk is None:
            return
        from workbench.screens import ticking

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

    # ---- actions --------------------------------------------------------------------------------------------

    def do(self, action_id: str, told: str = "") -> None:
        """Do what an action of the tables says; `told` is what one chosen from a list is told."""
        if action_id == "shell":
            self.action_suspend_process()
        elif action_id == "mouse":
            self._say("the mouse is the terminal's: it selects text" if self.pointing else "the mouse works here")
            self.point(on=not self.pointing)
        elif action_id == "theme":
            self.wear(told) if told else self.wear_next()
        elif self._home is not None and self.screen is self._home:
            self._home.action_home(action_id, told)
        else:
            self._do_here(action_id, told)

    def _say(self, text: str) -> None:
        """In the bottom line of the screen in sight."""
        if (desk := self._in_front) is not None:
            desk.said = text
            self._show()

    def _do_here(self, action_id: str, told: str) -> None:
        """The same for a batch, or a file that can't be shown."""
        if action_id == "quit":
            self._leave()
        elif isinstance(self.screen, Board) and not self.screen.fits:
            return  # nothing can be seen of what a key would do
        elif action_id == "back" and self._home is not None and (self._desk is None or self._desk.at_rest):
            self._leave()
        elif self._desk is not None and self._entry is None:
            self._warned = False
            from workbench.screens import actions  # with the first key, not before the screen stands

            actions.run(self._desk, action_id, told)
            if self._desk.ring:
                self.bell()
                self._desk.ring = False
            self._show()
            self._wait()
        elif isinstance(self.screen, Faulty) and action_id == "redo":
            self.push_screen(self._opened())

    def action_help_quit(self) -> None:
        """Textual's own answer to ctrl+c, as ours."""
        self._say(f"{keys.by_id(self._actions, 'quit').key} leaves")

    def _leave(self) -> None:
        """Out, once all is on the disk and decided; where it is not a second `q` leaves all the same."""
        if self._desk is None:  # a file that cannot be shown
            self._out(1)
            return
        from workbench.screens import following

        saved, saver = self._desk.store.settle(), self._desk.store.saver
        leaves = f"{self._desk.key('quit')} again leaves WITHOUT saving: {saver.problem}"
        wait = following.left_undecided(self._desk) if saved else leaves
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

    def _on_bench(self, screen: Screen[Any]) -> bool:
        """Whether this is the screen of a batch."""
        return isinstance(screen, Board) and screen is not self._home

    # ---- showing --------------------------------------------------------------------------------------------

    def _show(self, *, whole: bool = True) -> None:
        for screen in self.screen_stack:
            if isinstance(screen, Board) and (self._on_bench(screen) or screen is self.screen):
                screen.show(whole=whole)

    async def action_quit(self) -> None:
        """Textual's own way out, as ours."""
        self._leave()

    def on_resize(self, event: events.Resize) -> None:
        """A new size; the app's own is still the old one here."""
        for screen in self.screen_stack:  # a batch lies over the home screen
            if isinstance(screen, Board):
                screen.resized(event.size)


def _in_form(form: str, desk: Desk) -> tuple[str, str]:
    """The plan of a desk in a form: the end of the file's name, and the text."""
    from workbench.forms import SUFFIXES, Wanted, written
    from workbench.plan.habits import Habits

    habits = (desk.habits or Habits())._replace(tz=desk.tz)
    wanted = Wanted(desk.plan, desk.store.path.name, desk.system, desk.comma, habits)
    return SUFFIXES[form], written(form, wanted)


def show(app: Workbench) -> int:
    """Show the app until the brewer leaves, or something outside ends it; the exit code."""
    with Ending(app.save, app.leave, app.save_last):
        code = app.run(mouse=False)  # `point` asks for it
        app.point(on=False)
        if code is None:  # it broke down
            app.save_last()
    return code if code is not None else app.return_code or 0


def run(path: Path, config: Config, *, demo: bool = False, home: bool = False, first: Path | None = None) -> int:
    """Show the batch `path`, or the folder with `home`, asking for the settings `first`. The exit code; KeysRefused."""
    app = Workbench(path, clock=clock.read, config=config, demo=demo, home=home)
    app.first = first
    return show(app)
