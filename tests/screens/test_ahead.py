"""While a value is typed the planner is at it already; what it finds is there when Enter comes."""

from __future__ import annotations

import asyncio
from typing import TYPE_CHECKING

import pytest
from textual.events import Key, Paste

from tests.panes.scenes import AMBER, ONE
from tests.plan.kitchens import forget, searched
from tests.screens.apps import app_on
from tests.screens.desks import desk_on, do, write
from workbench.screens import ahead, guide, typed

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from workbench.screens.desk import Desk
    from workbench.session.model import Session


def type_in(desk: Desk, text: str) -> None:
    assert desk.entry is not None
    typed.press(desk, desk.entry, "ctrl+u", None)
    for sign in text:
        typed.press(desk, desk.entry, sign, sign)


@pytest.fixture
def amber(tmp_path: Path) -> Desk:
    desk = do(desk_on(tmp_path / "a.toml", AMBER), "pane-1")
    desk.put("beer.volume")
    return do(desk, "edit")


def test_enter_finds_it_searched_for(amber: Desk) -> None:
    type_in(amber, "21.3")
    asyncio.run(ahead.think(amber))
    done = searched()
    assert amber.entry is not None
    typed.press(amber, amber.entry, "enter", "\r")
    assert amber.plan.session.beer is not None
    assert amber.plan.session.beer.volume_l == 21.3
    assert amber.plan.planned_by == "planner"
    assert searched() == done > 0


def test_so_does_the_enter_of_a_lot_just_put_in(tmp_path: Path) -> None:
    text = AMBER[: AMBER.index("[[yeast]]")] + AMBER[AMBER.index("[flask]") :]
    desk = do(desk_on(tmp_path / "a.toml", text), "pane-1")
    desk.put(guide.NO_LOT)
    do(desk, "edit")
    type_in(desk, "6 weeks")
    asyncio.run(ahead.think(desk))
    done = searched()
    assert desk.entry is not None
    typed.press(desk, desk.entry, "enter", "\r")
    assert desk.plan.planned_by == "planner"
    assert searched() == done
    do(desk, "undo")
    assert desk.store.text == text


def test_nothing_changes_by_it(amber: Desk) -> None:
    type_in(amber, "19.7")
    text, plan = amber.store.text, amber.plan
    asyncio.run(ahead.think(amber))
    assert (amber.store.text, amber.plan) == (text, plan)
    assert not amber.store.undo()


@pytest.mark.parametrize("text", ["", "21 parsecs", "-"])
def test_what_is_not_right_yet_is_let_be(amber: Desk, text: str) -> None:
    type_in(amber, text)
    done = searched()
    asyncio.run(ahead.think(amber))
    assert searched() == done
    assert amber.entry is not None
    assert amber.entry.error == ""


def test_feedings_in_the_file_are_nobodys_proposal(tmp_path: Path) -> None:
    desk = do(desk_on(tmp_path / "one.toml", ONE), "pane-1")
    desk.put("beer.volume")
    do(desk, "edit")
    type_in(desk, "31")
    done = searched()
    asyncio.run(ahead.think(desk))
    assert searched() == done


def test_a_line_for_something_else_is_let_be(amber: Desk) -> None:
    typed.leave(amber)
    do(amber, "note")
    done = searched()
    asyncio.run(ahead.think(amber))
    assert searched() == done
    write(amber, "smells of bread")
    assert "smells of bread" in amber.store.text


async def test_a_pause_in_typing_is_enough(tmp_path: Path) -> None:
    app = app_on(tmp_path / "a.toml", AMBER)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("down", "enter")
        forget()
        app.post_message(Paste("27"))
        for _ in range(100):
            await pilot.pause(0.02)
            if searched():
                break
        done = searched()
        await pilot.press("enter")
        assert app.open_store is not None
        assert app.open_store.text == AMBER.replace('"23 L"', '"27 L"')
        assert searched() == done == 1


async def test_a_key_waits_for_no_more_than_the_piece_at_hand(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    app, done = app_on(tmp_path / "a.toml", AMBER), 0

    def many_pieces(_session: Session) -> Iterator[None]:
        nonlocal done
        if not done:
            assert app._driver is not None
            app._driver.send_message(Key("5", "5"))  # as from the terminal, in several turns
            for done in range(1, 100):  # noqa: B007 - counted
                yield

    assert ahead._TURN_S > 0.0
    monkeypatch.setattr(ahead, "_TURN_S", 0.5)  # long enough for a busy machine
    monkeypatch.setattr(ahead, "pieces", many_pieces)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("down", "enter")
        app.post_message(Paste("2"))
        for _ in range(100):
            await pilot.pause(0.02)
            if done:
                break
        await pilot.press("enter")
        assert app.open_store is not None
        assert app.open_store.text == AMBER.replace('"23 L"', '"25 L"')
    assert done == 1
