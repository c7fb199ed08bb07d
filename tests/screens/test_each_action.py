"""Each action of the tables by its first key: what it is there for comes about, and had not before."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

import pytest

from tests.panes.scenes import ONE, TWO
from tests.screens.apps import app_on
from tests.screens.homes import batches, home_on, settled
from workbench.screens.bench import Bench
from workbench.screens.home import Home
from workbench.screens.keys import ACTIONS, HOME_ACTIONS, Action, by_key

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from workbench.app import Workbench
    from workbench.screens.desk import Desk
    from workbench.screens.home_desk import HomeDesk


class Case(NamedTuple):
    """Keys that lead to where the action means something, and what is so once it was done; `then` types on."""

    keys: tuple[str, ...]
    done: Callable[[Desk], object]
    then: tuple[str, ...] = ()
    text: str = ONE


def happened(what: str) -> Callable[[Desk], object]:
    return lambda desk: any(event.what == what for event in desk.store.session.event)


def volumes(*litres: float) -> Callable[[Desk], object]:
    return lambda desk: [step.wort_l for step in desk.store.session.step] == list(litres)


def listed(desk: Desk, action: str) -> bool:
    return desk.finder is not None and any(choice.action == action for choice in desk.finder.choices)


def asked(label: str) -> Callable[[Desk], object]:
    return lambda desk: desk.entry is not None and desk.entry.ask is not None and desk.entry.ask.label == label


CASES = {
    "edit": Case(("down",), lambda d: d.entry is not None and d.entry.key == "beer.volume"),
    "turn": Case(("down",) * 3, lambda d: d.store.session.beer.type == "lager"),  # type: ignore[union-attr]
    "add": Case((), lambda d: len(d.store.session.yeast) == 2),
    "remove": Case(("3",), volumes(1.6), text=TWO),
    "earlier": Case(("3", "down"), volumes(1.6, 0.6), text=TWO),
    "later": Case(("3",), volumes(1.6, 0.6), text=TWO),
    "step-back": Case(("2", "]"), lambda d: d.step == 0, text=TWO),
    "step-on": Case(("2",), lambda d: d.step == 1, text=TWO),
    "plan": Case((), lambda d: d.planning and d.pane == 2),
    "another-hour": Case((), asked("instead")),
    "lock": Case(("3",), lambda d: d.store.session.step[0].locked),
    "measure": Case(("2",), lambda d: len(d.store.session.reading) == 1, (*"1.034", "enter")),
    "next-batch": Case((), asked("name"), text=ONE + '[keep]\ncells = "60 B"\n'),
    "new-batch": Case((), lambda d: d.store.path.with_name("moor.toml").exists(), (*"Moor", "enter")),
    "begin": Case(("6",), happened("yeast-in")),
    "done": Case(("6",), happened("task-done")),
    "skip": Case(("6",), happened("task-skipped")),
    "boil": Case((), happened("boil-on")),
    "end": Case(("b",), happened("boil-done")),
    "temperature": Case(("b", "e"), asked("bath")),
    "longer": Case(("5",), lambda d: d.store.session.step[0].boil_time_s == 660.0),
    "shorter": Case(("5",), lambda d: d.store.session.step[0].boil_time_s == 540.0),
    "lost": Case(("b",), happened("lost"), (*"100mL", "enter")),
    "note": Case((), happened("note"), (*"calm", "enter")),
    "default": Case(("down",), lambda d: not d.store.session.is_given("beer.volume")),
    "why": Case(("down",), lambda d: d.page is not None),
    "undo": Case(("3", "x"), volumes(0.6, 1.6), text=TWO),
    "redo": Case(("3", "x", "u"), volumes(1.6), text=TWO),
    "take-over": Case((), lambda d: d.said == "nobody else edits this batch"),
    "decide": Case((), lambda d: d.said == "nothing was changed both here and elsewhere"),
    "zoom": Case((), lambda d: d.zoomed),
    "picture": Case(("3",), lambda d: d.page is not None),
    "tour": Case((), lambda d: d.page is not None and d.filling),
    "plain": Case((), lambda d: d.page is not None and d.page.alone),
    "units": Case((), lambda d: d.system == "us"),
    "export": Case((), lambda d: d.store.path.with_suffix(".json").exists(), (*"json", "enter")),
    "help": Case((), lambda d: listed(d, "add") and not listed(d, "lock")),
    "actions": Case((), lambda d: listed(d, "add") and listed(d, "lock")),
    "next-pane": Case((), lambda d: d.pane == 1),
    "last-pane": Case((), lambda d: d.pane == 5),
    **{f"pane-{n}": Case(("2" if n == 1 else "1",), lambda d, n=n: d.pane == n - 1) for n in range(1, 7)},
    "up": Case(("down",), lambda d: d.cursor(0) == 0),
    "down": Case((), lambda d: d.cursor(0) == 1),
    "page-up": Case(("end",), lambda d: 0 < d.cursor(0) < 10),
    "page-down": Case((), lambda d: 9 < d.cursor(0) < 17),
    "first": Case(("end",), lambda d: d.cursor(0) == 0),
    "last": Case((), lambda d: d.row() is not None and d.row().id == "starter"),  # type: ignore[union-attr]
    "back": Case(("w",), lambda d: d.page is None),
}  # fmt: skip
OF_THE_APP = {"quit", "shell", "mouse", "theme"}


def ids(actions: tuple[Action, ...]) -> list[Any]:
    return [pytest.param(action, id=action.id) for action in actions]


@pytest.mark.parametrize("action", ids(tuple(action for action in ACTIONS if action.id not in OF_THE_APP)))
async def test_on_a_batch(tmp_path: Path, action: Action) -> None:
    case = CASES[action.id]  # an action without a case is one that nobody has seen work
    app = app_on(tmp_path / "a.toml", case.text)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press(*case.keys)
        assert isinstance(app.screen, Bench)
        desk = app.screen.desk
        assert desk.pane in action.panes
        assert not case.done(desk)
        await pilot.press(action.keys[0], *case.then)
        assert case.done(desk), desk.said


@pytest.mark.parametrize("key", [key for action in ACTIONS for key in action.keys[1:]])
def test_a_second_key_does_what_the_first_does(key: str) -> None:
    (action,) = [action for action in ACTIONS if key in action.keys[1:]]
    assert {by_key(ACTIONS, key, pane) for pane in action.panes} == {action.id}


class HomeCase(NamedTuple):
    keys: tuple[str, ...]
    done: Callable[[Workbench, HomeDesk], object]
    then: tuple[str, ...] = ()


def there(name: str) -> Callable[[Workbench, HomeDesk], object]:
    return lambda _, desk: (desk.index.folder / name).exists()


HOME_CASES = {
    "open": HomeCase((), lambda app, _: isinstance(app.screen, Bench)),
    "filter": HomeCase((), lambda _, d: len(d.rows) == 1, (*"porter",)),
    "new": HomeCase((), there("moor.toml"), (*"Moor", "enter")),
    "copy": HomeCase((), there("moor.toml"), (*"Moor", "enter")),
    "export": HomeCase((), there("alder-lane-amber.ics"), (*"cal", "enter")),
    "tour": HomeCase((), lambda _, d: d.touring),
    "from-kept": HomeCase((), lambda _, d: "keeps nothing" in d.said),
    "rename": HomeCase((), there("moor.toml"), ("ctrl+u", *"Moor", "enter")),
    "archive": HomeCase((), lambda _, d: len(d.rows) == 7),
    "undo": HomeCase(("a",), lambda _, d: len(d.rows) == 8),
    "help": HomeCase((), lambda _, d: d.finder is not None and d.finder.choices[0].action == "open"),
    "actions": HomeCase((), lambda _, d: d.finder is not None and d.finder.choices[-1].action == "theme"),
    "up": HomeCase(("down",), lambda _, d: d.place == 0),
    "down": HomeCase((), lambda _, d: d.place == 1),
    "page-up": HomeCase(("end",), lambda _, d: d.place == 0),
    "page-down": HomeCase((), lambda _, d: d.place == 7),
    "first": HomeCase(("end",), lambda _, d: d.place == 0),
    "last": HomeCase((), lambda _, d: d.place == 7),
    "back": HomeCase(("slash", *"porter", "enter"), lambda _, d: not d.words),
}


@pytest.mark.parametrize("action", ids(tuple(action for action in HOME_ACTIONS if action.id not in OF_THE_APP)))
async def test_on_the_home_screen(tmp_path: Path, action: Action) -> None:
    case = HOME_CASES[action.id]
    app = home_on(batches(tmp_path / "b"))
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await pilot.press(*case.keys)
        assert isinstance(app.screen, Home)
        desk = app.screen.desk
        assert not case.done(app, desk)
        await pilot.press(action.keys[0], *case.then)
        assert case.done(app, desk), desk.said


@pytest.mark.parametrize("home", [False, True], ids=["batch", "home"])
async def test_what_concerns_the_terminal(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, home: bool) -> None:
    app = home_on(batches(tmp_path / "b")) if home else app_on(tmp_path / "a.toml", ONE)
    stopped: list[int] = []
    monkeypatch.setattr(app, "action_suspend_process", lambda: stopped.append(1))
    async with app.run_test(size=(80, 24)) as pilot:
        assert app.pointing
        await pilot.press("g")
        assert not app.pointing
        assert "it selects text" in app.screen.desk.said  # type: ignore[attr-defined]
        await pilot.press("g", "ctrl+z")
        assert app.pointing
        assert stopped == [1]
        await pilot.press("q")
    assert app.return_value == 0


def test_every_case_is_of_an_action() -> None:
    assert set(CASES) | OF_THE_APP == {action.id for action in ACTIONS}
    assert set(HOME_CASES) | OF_THE_APP == {action.id for action in HOME_ACTIONS}
