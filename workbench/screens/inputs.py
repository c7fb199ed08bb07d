"""Keys, pastes and the mouse: all act from the app's one queue, in their order, on what is open or by the tables."""

from __future__ import annotations

import asyncio
from typing import TYPE_CHECKING, ClassVar

from textual import events

from workbench.screens import keys
from workbench.screens.board import Board
from workbench.screens.keynames import pressed
from workbench.screens.outside import Outside

if TYPE_CHECKING:
    from workbench.screens.desk import Desk, Entry
    from workbench.screens.home import Home
    from workbench.screens.home_desk import HomeDesk
    from workbench.screens.keys import Action

__all__ = ["Inputs"]


class Inputs(Outside):
    """An app over a desk, a home screen, or both; `do` does what an action of the tables says."""

    AUTO_FOCUS = ""
    ENABLE_COMMAND_PALETTE: ClassVar[bool] = False  # ours is the list of `finder`, whose keys act in their order
    ALLOW_SELECT: ClassVar[bool] = False  # the terminal's own way of selecting text is better

    _desk: Desk | None = None
    _home: Home | None = None
    _ahead: asyncio.Task[None] | None = None
    _actions: tuple[Action, ...] = keys.ACTIONS
    _home_actions: tuple[Action, ...] = keys.HOME_ACTIONS

    def do(self, action_id: str, told: str = "") -> None:
        """Do what an action says; `told` is what one chosen from a list is told."""
        raise NotImplementedError

    def _show(self, *, whole: bool = True) -> None:
        raise NotImplementedError

    def _wait(self) -> None:
        raise NotImplementedError

    # ---- keys -----------------------------------------------------------------------------------------------

    async def on_event(self, event: events.Event) -> None:
        """While something is typed its line has all keys, else they do what the tables say; Textual has the rest."""
        if not isinstance(event, events.Key | events.Paste) or event.is_forwarded:
            await super().on_event(event)  # one that nobody wanted comes back, by now perhaps to an open line
        elif isinstance(event, events.Key) and self._is_to_shell(event):
            self.action_suspend_process()
        elif isinstance(event, events.Key) and event.key.startswith("alt+") and self._typing:
            sign = event.character if event.is_printable else None
            await self.on_event(events.Key("escape", None))  # Esc and a key that came in one piece
            await self.on_event(events.Key(sign or event.key.removeprefix("alt+"), sign))
        elif self._typing:
            self._type(event)
        elif isinstance(event, events.Key) and (action_id := self._action_of(pressed(event.key, event.character))):
            self.do(action_id)
        else:
            await super().on_event(event)

    def _is_to_shell(self, event: events.Key) -> bool:
        """Whether the key leads to the shell; while something is typed a letter does not."""
        to_shell = keys.by_id(self._actions, "shell").keys
        return pressed(event.key, event.character) in to_shell and not (event.is_printable and self._typing)

    def _action_of(self, key: str) -> str:
        """The id of the action of a key here, if any."""
        if self._in_front is not None and self._in_front is not self._desk:
            return keys.by_key(self._home_actions, key)
        return keys.by_key(self._actions, key, 0 if self._desk is None else self._desk.pane)

    def _type(self, event: events.Key | events.Paste) -> None:
        """A key or a paste for the list or the line that is open."""
        desk = self._in_front
        if desk is not None and desk.finder is not None:
            self._find(desk, event)
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
            self._think(self._desk)
        elif self._home is not None:
            self._home.take(event)

    def _think(self, desk: Desk) -> None:
        """Until the next key have the planner at what is typed."""
        if self._ahead is not None:
            self._ahead.cancel()
            self._ahead = None
        if desk.entry is not None:
            from workbench.screens import ahead

            self._ahead = asyncio.create_task(ahead.think(desk))

    def _find(self, desk: Desk | HomeDesk, event: events.Key | events.Paste) -> None:
        from workbench.screens import finder

        chosen = None
        if isinstance(event, events.Key):
            chosen = finder.press(desk, event.key, event.character)
        else:
            finder.paste(desk, event.text)
        if chosen is not None:
            self.do(chosen.action, chosen.told)
        self._show()

    # ---- the mouse ------------------------------------------------------------------------------------------

    def on_click(self, event: events.Click) -> None:
        """A click, wherever it went."""
        if isinstance(self.screen, Board) and self._in_front is not None:
            click = self.screen.clicked(event.screen_x, event.screen_y)
            if click.action:
                self.do(click.action, click.told)
            self._show()

    def on_mouse_scroll_down(self) -> None:
        """The wheel moves the cursor."""
        self._roll("down")

    def on_mouse_scroll_up(self) -> None:
        """Likewise."""
        self._roll("up")

    def _roll(self, to: str) -> None:
        desk = self._in_front
        if desk is not None and desk.finder is not None:
            self._type(events.Key(to, None))
        elif desk is not None and not self._typing:
            self.do(to)

    # ---- what is in front -----------------------------------------------------------------------------------

    @property
    def _in_front(self) -> Desk | HomeDesk | None:
        """What the screen in sight shows."""
        if self._home is not None and self.screen is self._home:
            return self._home.desk
        return self._desk if isinstance(self.screen, Board) else None

    @property
    def _entry(self) -> Entry | None:
        """What is being typed on the bench, if anything is."""
        return self._desk.entry if self._desk is not None and self._in_front is self._desk else None

    @property
    def _typing(self) -> bool:
        """Whether a line or, where there is room for it, a list is open."""
        desk, screen = self._in_front, self.screen
        if desk is not None and desk.finder is not None:
            return isinstance(screen, Board) and screen.fits
        asked = self._home is not None and desk is self._home.desk and self._home.desk.question is not None
        return asked or self._entry is not None
