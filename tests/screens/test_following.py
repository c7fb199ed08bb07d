"""Other programs at the batch that is open: following, taking over, deciding between two values."""

from __future__ import annotations

import os
import time
from typing import TYPE_CHECKING

import pytest

from tests.panes.scenes import AMBER, CET, NOW
from tests.screens.apps import app_on
from tests.screens.desks import desk_on, do, pane_text, write
from tests.screens.homes import home_on, settled
from tests.screens.terminals import Terminal
from workbench.errors import SaveFailed
from workbench.panes.glyphs import FULL
from workbench.screens import bars, following
from workbench.screens.desk import DAY, Desk
from workbench.session.edits import SetValue
from workbench.session.store import Store
from workbench.units.mark import Mark

if TYPE_CHECKING:
    from pathlib import Path


def elsewhere(path: Path, old: str, new: str) -> None:
    """Another program puts a changed version in the file's place."""
    text = path.read_text("utf-8")
    assert old in text
    other = path.with_name("other")
    other.write_text(text.replace(old, new, 1), "utf-8")
    other.replace(path)


def top(desk: Desk, cells: int = 80) -> str:
    return "\n".join("".join(text for text, _ in line) for line in bars.top(desk, cells, 2))


@pytest.fixture
def amber(tmp_path: Path) -> Desk:
    return desk_on(tmp_path / "a.toml", AMBER)


@pytest.fixture
def follower(amber: Desk) -> Desk:
    return Desk(Store.open(amber.store.path), lambda: Mark(NOW), FULL, tz=CET)


def volume(desk: Desk) -> float | None:
    return desk.plan.session.beer.volume_l if desk.plan.session.beer is not None else None


def test_what_is_changed_elsewhere_is_shown_without_a_key(amber: Desk) -> None:
    assert not following.look(amber)
    elsewhere(amber.store.path, 'volume = "23 L"', 'volume = "20 L"')
    assert following.look(amber)
    assert volume(amber) == 20.0
    assert "taken in" in amber.said
    assert not following.look(amber)


def test_while_a_value_is_typed_nothing_moves_under_it(amber: Desk) -> None:
    do(amber, "pane-1", "down", "edit")
    elsewhere(amber.store.path, 'volume = "23 L"', 'volume = "20 L"')
    assert not following.look(amber)
    write(amber, "22 L")
    assert following.look(amber)
    assert volume(amber) == 20.0
    assert [(clash.mine, clash.theirs) for clash in amber.store.sharing.clashes] == [("22 L", "20 L")]


def test_a_clash_is_shown_with_both_values_and_decided_by_enter(amber: Desk) -> None:
    amber.store.apply(SetValue("beer.volume", "22 L"))
    elsewhere(amber.store.path, 'volume = "23 L"', 'volume = "20 L"')
    assert following.look(amber)
    assert "DECIDE 1 changed twice: D shows both" in top(amber)
    do(amber, "decide")
    assert amber.pane == DAY
    shown = pane_text(amber)
    assert [line.split() for line in shown.splitlines()[-2:]] == [["in", "file", "20", "L"], ["yours", "22", "L"]]
    assert "take" in "".join(text for text, _ in bars.bottom(amber, 80)[0])
    do(amber, "down", "edit")
    assert volume(amber) == 22.0
    assert "DECIDE" not in top(amber)
    assert "NEXT" in pane_text(amber)
    do(amber, "undo")
    assert volume(amber) == 20.0
    assert amber.store.close()


def test_plain_lines_say_what_is_to_be_decided(amber: Desk) -> None:
    amber.store.apply(SetValue("beer.volume", "22 L"))
    elsewhere(amber.store.path, 'volume = "23 L"', 'volume = "20 L"')
    following.look(amber)
    do(amber, "decide", "plain")
    assert amber.page is not None
    read = ["".join(text for text, _ in line).split() for line in amber.page.lines(80)]
    assert ["in", "file", "20", "L"] in read
    assert ["yours", "22", "L"] in read


def test_the_files_value_may_stand_and_it_can_be_left_for_later(amber: Desk) -> None:
    amber.store.apply(SetValue("beer.volume", "22 L"))
    elsewhere(amber.store.path, 'volume = "23 L"', 'volume = "20 L"')
    following.look(amber)
    do(amber, "decide", "back")
    assert not amber.deciding
    assert amber.store.sharing.clashes
    do(amber, "decide", "up", "edit")
    assert volume(amber) == 20.0
    do(amber, "decide")
    assert amber.said == "nothing was changed both here and elsewhere"


def test_a_second_terminal_shows_who_has_it_and_edits_nothing(amber: Desk, follower: Desk) -> None:
    following.look(follower)
    assert f"@{os.uname().nodename[:16]} since" in top(follower)
    assert "T takes over" in top(follower)
    do(follower, "pane-1", "down", "edit")
    assert follower.entry is None
    assert "another terminal edits this batch" in follower.said
    do(follower, "note")
    assert follower.entry is None
    do(follower, "boil", "done", "undo", "remove")  # whatever is tried, it is refused in words
    amber.store.apply(SetValue("beer.volume", "22 L"))
    assert amber.store.flush()
    assert following.look(follower)
    assert volume(follower) == 22.0


def test_taking_over_wants_its_key_twice(amber: Desk, follower: Desk) -> None:
    do(follower, "take-over")
    assert "once more" in follower.said
    do(follower, "down", "take-over")
    assert "once more" in follower.said  # another key came between
    assert amber.store.close()
    do(follower, "take-over")
    assert "yours now" in follower.said
    assert not follower.store.read_only
    do(follower, "take-over")
    assert follower.said == "nobody else edits this batch"


def test_what_cannot_be_read_is_told_on_top_for_as_long_as_it_lies_there(amber: Desk) -> None:
    elsewhere(amber.store.path, "format = 1", "format = 1 =")
    assert following.look(amber)
    assert "CHANGED ELSEWHERE a.toml is left alone" in top(amber, 100)
    elsewhere(amber.store.path, "format = 1 =", "format = 1")
    assert following.look(amber)
    assert "CHANGED ELSEWHERE" not in top(amber, 100)


async def test_the_file_is_looked_at_by_itself(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("workbench.pacing._LOOK_S", 0.02)
    app = app_on(tmp_path / "a.toml", AMBER)
    async with app.run_test(size=(80, 24)) as pilot:
        elsewhere(tmp_path / "a.toml", 'volume = "23 L"', 'volume = "20 L"')
        end = time.monotonic() + 10
        while volume(app._desk) != 20.0:
            assert time.monotonic() < end
            await pilot.pause(0.02)
        await pilot.press("q")
    assert app.return_value == 0


def test_a_long_value_is_shown_whole(amber: Desk) -> None:
    mine = " ".join(f"word{n}" for n in range(20))
    amber.store.apply(SetValue("batch.note", mine))
    elsewhere(amber.store.path, "[batch]", '[batch]\nnote = ""')
    following.look(amber)
    do(amber, "decide")
    shown = pane_text(amber, cells=48)
    assert " ".join(shown.split("yours")[1].split()) == mine
    assert all(len(line) <= 48 for line in shown.splitlines())


async def test_leaving_with_something_undecided_asks_once_more(tmp_path: Path) -> None:
    app = app_on(tmp_path / "a.toml", AMBER)
    async with app.run_test(size=(80, 24)) as pilot:
        app._desk.store.apply(SetValue("beer.volume", "22 L"))
        elsewhere(tmp_path / "a.toml", 'volume = "23 L"', 'volume = "20 L"')
        await pilot.press("q")
        assert app._desk.said == "not decided yet: yours stays in a.mine.toml; q again leaves it so"
        assert app.is_running
        await pilot.press("q")
    assert app.return_value == 0
    assert 'volume = "22 L"' in (tmp_path / "a.mine.toml").read_text("utf-8")
    assert 'volume = "20 L"' in (tmp_path / "a.toml").read_text("utf-8")


async def test_leaving_a_batch_frees_it_for_others(tmp_path: Path) -> None:
    (tmp_path / "a.toml").write_text(AMBER, "utf-8")
    app = home_on(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await pilot.press("enter")
        assert Store.open(tmp_path / "a.toml").sharing.follows
        await pilot.press("q")
        other = Store.open(tmp_path / "a.toml")
        assert not other.sharing.follows
        assert other.close()
        await pilot.press("q")


def test_two_terminals_on_one_file(tmp_path: Path) -> None:
    path = tmp_path / "a.toml"
    path.write_text(AMBER, "utf-8")
    with Terminal(path) as one:
        one.read_until(b"quit")
        with Terminal(path) as two:
            assert b"FOLLOWS" in two.read_until(b"not edited")
            one.answer(b"1\x1b[B\r\x15" + b"22 L\r")
            assert b"22" in two.read_until(b"22", 5)
            two.answer(b"T")
            os.write(two.fd, b"T")
            assert one.end() == 143
            assert b"yours now" in two.read_until(b"yours now")
            os.write(two.fd, b"1\x1b[B\r\x15" + b"21 L\rq")
            assert two.end() == 0
    assert 'volume = "21 L"' in path.read_text("utf-8")
    assert sorted(p.name for p in tmp_path.iterdir()) == [".a.toml.lock", "a.toml", "a.toml.bak"]


def test_what_could_be_put_nowhere_is_told_before_leaving(amber: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object, **__: object) -> None:
        raise SaveFailed("the disk is full")

    monkeypatch.setattr("workbench.session.sharing.write_atomically", full)
    amber.store.apply(SetValue("beer.volume", "22 L"))
    elsewhere(amber.store.path, 'volume = "23 L"', 'volume = "20 L"')
    assert following.look(amber)
    assert "the disk is full" in amber.said
    assert "yours is written nowhere: q again" in following.left_undecided(amber)
    do(amber, "decide", "up", "edit")
    assert following.left_undecided(amber) == ""
