"""The home screen by its keys."""

from __future__ import annotations

from datetime import timedelta
from itertools import combinations
from typing import TYPE_CHECKING, Any

import pytest

from tests.panes.scenes import CET, NOW, ONE
from tests.screens.homes import batches, home_on, settled, shown
from workbench.app import Workbench
from workbench.config import Config
from workbench.screens.bench import Bench
from workbench.screens.faulty import Faulty
from workbench.screens.home import Home
from workbench.screens.home_actions import _ACTIONS
from workbench.screens.keys import ACTIONS, HOME_ACTIONS, KeysRefused, remapped
from workbench.units.mark import Mark

if TYPE_CHECKING:
    from pathlib import Path

NARROW, WIDE = (80, 24), (120, 40)


def at(app: Workbench) -> str:
    """The file under the cursor."""
    assert isinstance(app.screen, Home)
    return app.screen.desk.at.name if app.screen.desk.at else ""


def rows(app: Workbench) -> list[str]:
    assert isinstance(app.screen, Home)
    return [item.path.stem for item in app.screen.desk.rows]


async def test_batches_stand_in_the_order_of_what_they_wait_for(tmp_path: Path) -> None:
    app = home_on(batches(tmp_path / "b"))
    async with app.run_test(size=WIDE) as pilot:
        await settled(pilot)
        assert rows(app) == [
            "alder-lane-amber", "quarry-lager", "mill-race-porter", "gatehouse-bitter", "fen-row-mild", "harbour-stout",
            "willow-wheat", "copper-house",
        ]  # fmt: skip
        text = shown(app)
        assert "NEXT Fri 15:45, in 1 d 07 h   Alder Lane Amber  yeast out; warm, swell as labelled" in text
        for said in ("growing 8 h 30 min", "cold 12 h 00 min", "pitched 12 Nov", "past 1 Oct 2025", "faulty", "open"):
            assert said in text
        assert "8 batches" in text


async def test_enter_opens_a_batch_and_q_and_escape_come_back(tmp_path: Path) -> None:
    app = home_on(batches(tmp_path / "b"))
    async with app.run_test(size=NARROW) as pilot:
        await settled(pilot)
        for key in ("q", "escape"):
            await pilot.press("down", "enter")
            assert isinstance(app.screen, Bench)
            await pilot.press("z", "?", "escape", "escape")  # out of the page, out of the whole-screen pane
            assert isinstance(app.screen, Bench)
            await pilot.press(key)
            assert isinstance(app.screen, Home)
        assert at(app) == "mill-race-porter.toml"
        await pilot.press("q")
    assert app.return_value == 0


async def test_what_was_changed_in_a_batch_is_saved_and_shown(tmp_path: Path) -> None:
    app = home_on(batches(tmp_path / "b"))
    async with app.run_test(size=NARROW) as pilot:
        await settled(pilot)
        await pilot.press("enter", "6", "s", "q")
        await settled(pilot)
        assert "growing" in shown(app)
        assert at(app) == "alder-lane-amber.toml"
    assert 'what = "yeast-in"' in (tmp_path / "b" / "alder-lane-amber.toml").read_text("utf-8")


async def test_a_faulty_file_shows_its_faults_and_comes_back(tmp_path: Path) -> None:
    app = home_on(batches(tmp_path / "b"))
    async with app.run_test(size=NARROW) as pilot:
        await settled(pilot)
        for key in ("q", "escape"):
            await pilot.press("end", "enter")
            assert isinstance(app.screen, Faulty)
            await pilot.press(key)
            assert isinstance(app.screen, Home)
        await pilot.press("enter")
        (tmp_path / "b" / "copper-house.toml").write_text(ONE, "utf-8")
        await pilot.press("r")
        assert isinstance(app.screen, Bench)
        await pilot.press("q")
        await settled(pilot)
        assert "  faulty" not in shown(app)


async def test_typing_filters_by_name_and_state(tmp_path: Path) -> None:
    app = home_on(batches(tmp_path / "b"))
    async with app.run_test(size=NARROW) as pilot:
        await settled(pilot)
        await pilot.press("slash", *"Fen mi")
        assert rows(app) == ["fen-row-mild"]
        assert "1 of 8" in shown(app)
        await pilot.press("enter", "slash", "ctrl+u", *"grow", "enter", "enter")
        assert isinstance(app.screen, Bench)
        await pilot.press("q")
        assert rows(app) == ["mill-race-porter"]
        await pilot.press("slash", *"zz")
        assert "No batch has all of these words" in shown(app)
        await pilot.press("escape")
        assert len(rows(app)) == 8


async def test_a_new_batch_is_asked_for_its_name(tmp_path: Path) -> None:
    app = home_on(tmp_path / "deep" / "b", flask={"size": "5 L"})
    async with app.run_test(size=NARROW) as pilot:
        await pilot.pause()
        assert "n  makes one" in shown(app)
        await pilot.press("n", *"q/u x", "enter")
        assert isinstance(app.screen, Bench)  # it opens at once
        await pilot.press("q")
        assert at(app) == "q-u-x.toml"
        text = (tmp_path / "deep" / "b" / "q-u-x.toml").read_text("utf-8")
        assert 'name = "q/u x"' in text
        assert 'size = "5 L"' in text
        await pilot.press("n", *"Q: U X", "enter")
        assert "is there already" in shown(app)
        await pilot.press("escape", "n", "enter", "n", "escape", "enter")
        assert isinstance(app.screen, Bench)
    assert len(list((tmp_path / "deep" / "b").glob("*.toml"))) == 1


async def test_a_copy_leaves_out_what_has_happened(tmp_path: Path) -> None:
    app = home_on(batches(tmp_path / "b"))
    async with app.run_test(size=NARROW) as pilot:
        await settled(pilot)
        await pilot.press("slash", *"porter", "enter", "c", *"Second", "enter")
        assert at(app) == "second.toml"
        assert len(rows(app)) == 9
    text = (tmp_path / "b" / "second.toml").read_text("utf-8")
    assert "yeast-in" not in text
    assert 'wort = "1.6 L"' in text


async def test_the_next_batch_grows_from_what_this_one_keeps(tmp_path: Path) -> None:
    folder = batches(tmp_path / "b")
    (folder / "keeper.toml").write_text(ONE.replace("Alder Lane Amber", "Keeper") + '[keep]\ncells = "60 B"\n', "utf-8")
    app = home_on(folder)
    async with app.run_test(size=NARROW) as pilot:
        await settled(pilot)
        await pilot.press("f")
        assert "keeps nothing" in shown(app)
        await pilot.press("slash", *"keeper", "enter", "f", *"After", "enter")
        assert at(app) == "after.toml"
    assert 'from = "keeper.toml"' in (folder / "after.toml").read_text("utf-8")


async def test_rename_takes_the_file_along_and_writes_over_none(tmp_path: Path) -> None:
    app = home_on(batches(tmp_path / "b"))
    async with app.run_test(size=NARROW) as pilot:
        await settled(pilot)
        await pilot.press("R", "ctrl+u", *"Quarry Lager", "enter")
        assert "is there already" in shown(app)
        await pilot.press("ctrl+u", *"Moss End", "enter")
        assert at(app) == "moss-end.toml"
        assert "it is moss-end.toml now" in shown(app)
        assert "alder-lane-amber" not in rows(app)
        await pilot.press("end", "R", "x", "enter")
        assert "has a fault" in shown(app)
    assert 'name = "Moss End"' in (tmp_path / "b" / "moss-end.toml").read_text("utf-8")


async def test_archive_and_undo(tmp_path: Path) -> None:
    folder = batches(tmp_path / "b")
    app = home_on(folder)
    async with app.run_test(size=NARROW) as pilot:
        await settled(pilot)
        await pilot.press("u")
        assert "nothing was put away" in shown(app)
        await pilot.press("down", "a", "a")
        assert len(rows(app)) == 6
        assert sorted(path.name for path in (folder / "archive").iterdir()) == [
            "mill-race-porter.toml", "quarry-lager.toml",
        ]  # fmt: skip
        await pilot.press("u")
        assert at(app) == "mill-race-porter.toml"
        await pilot.press("u")
        assert at(app) == "quarry-lager.toml"
        assert len(rows(app)) == 8


async def test_what_cannot_be_brought_back_now_can_be_later(tmp_path: Path) -> None:
    folder = batches(tmp_path / "b")
    app = home_on(folder)
    async with app.run_test(size=NARROW) as pilot:
        await settled(pilot)
        name = at(app)
        await pilot.press("a")
        (folder / name).write_text(ONE, "utf-8")
        await pilot.press("u")
        assert f"{name} is there already" in shown(app)
        (folder / name).unlink()
        await pilot.press("u")
        assert at(app) == name
        await pilot.press("a", "a")
        (folder / "archive" / "quarry-lager.toml").unlink()
        await pilot.press("u")
        assert "could not be moved" in shown(app)
        await pilot.press("u")
        assert at(app) == name


async def test_a_folder_that_cannot_be_looked_into_any_more_is_told_of_beside_its_batches(tmp_path: Path) -> None:
    folder = batches(tmp_path / "b")
    app = home_on(folder)
    async with app.run_test(size=NARROW) as pilot:
        await settled(pilot)
        folder.rename(tmp_path / "moved")
        folder.write_text("", "utf-8")
        app._tick()
        await pilot.pause()
        assert "the folder cannot be looked into: Not a directory" in shown(app)
        await pilot.press("R", "x", "enter")
        assert "‼ alder-lane-amber.toml" in shown(app)


async def test_the_cursor_stands_behind_wide_signs(tmp_path: Path) -> None:
    app = home_on(batches(tmp_path / "b"))
    async with app.run_test(size=NARROW) as pilot:
        await settled(pilot)
        await pilot.press("slash", *"ab")
        column = app.cursor_position.x
        await pilot.press("ctrl+u", *"麦酒")
        assert app.cursor_position.x == column + 2


async def test_nothing_there_hurts_no_key(tmp_path: Path) -> None:
    app = home_on(tmp_path / "none")
    async with app.run_test(size=NARROW) as pilot:
        keys = [key for action in HOME_ACTIONS if action.id != "quit" for key in action.keys]
        for key in keys:
            await pilot.press(key, "escape")
        assert isinstance(app.screen, Home)
    assert not (tmp_path / "none").exists()


@pytest.mark.parametrize("size", [NARROW, WIDE])
async def test_whatever_is_said_can_be_read_to_its_end(tmp_path: Path, size: tuple[int, int]) -> None:
    folder = batches(tmp_path / "b")
    app = home_on(folder)
    async with app.run_test(size=size) as pilot:
        await settled(pilot)

        def reads() -> str:
            return " ".join(shown(app).split())

        assert isinstance(app.screen, Home)
        for _ in app.screen.desk.everything:
            await pilot.press("f")
            assert len(app.screen.desk.said) > 60
            assert " ".join(app.screen.desk.said.split()) in reads()
            assert "tells more" in reads() or "q quit" in reads(), "the keys are told where the line has room"
            await pilot.press("down")
        await pilot.press("R", *"copper-house", "enter")
        assert app.screen.desk.question is not None
        assert app.screen.desk.question.error in reads()
        await pilot.press("escape", "home", "c", *"alder-lane-amber", "enter")
        assert "‼ alder-lane-amber.toml is there already" in reads()
        assert "Esc leave" in reads() or size == WIDE


async def test_a_folder_that_is_none_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", "utf-8")
    app = home_on(tmp_path / "file")
    async with app.run_test(size=NARROW) as pilot:
        await pilot.pause()
        assert "cannot be looked into" in " ".join(shown(app).split())
        await pilot.press("n", "x", "enter")
        assert isinstance(app.screen, Home)
        assert app.screen.desk.question is not None
        assert "cannot be made" in app.screen.desk.question.error


async def test_every_minute_the_list_is_of_that_hour_without_reckoning(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    hour = [NOW]
    app = Workbench(batches(tmp_path / "b"), clock=lambda: Mark(hour[0]), config=Config(), tz=CET, home=True)
    async with app.run_test(size=NARROW) as pilot:
        await settled(pilot)
        monkeypatch.setattr("workbench.listing.read_summary", lambda *_: pytest.fail("reckoned anew"))
        hour[0] += timedelta(hours=2)
        app._tick()
        await pilot.pause()
        assert "growing 6 h 30 min" in shown(app)
        hour[0] += timedelta(days=1, hours=5)
        app._tick()
        await pilot.pause()
        assert "LATE" not in shown(app)
        hour[0] += timedelta(hours=1)
        app._tick()
        await pilot.pause()
        assert "LATE Fri 15:45 " in shown(app)


async def test_the_list_has_every_action(tmp_path: Path) -> None:
    app = home_on(batches(tmp_path / "b"))
    async with app.run_test(size=NARROW) as pilot:
        await settled(pilot)
        await pilot.press("?")
        assert isinstance(app.screen, Home)
        assert app.screen.desk.finder is not None
        assert {action.id for action in HOME_ACTIONS} == {c.action for c in app.screen.desk.finder.choices}
        assert "▸⏎       open                open the batch under the cursor" in shown(app)
        await pilot.press(*"away")
        assert "▸a       archive" in shown(app)
        await pilot.press("enter")
        assert "put away" in app.screen.desk.said
        assert "state" in shown(app)


async def test_a_small_window_says_what_it_needs_and_q_leaves(tmp_path: Path) -> None:
    app = home_on(batches(tmp_path / "b"))
    async with app.run_test(size=(40, 10)) as pilot:
        await settled(pilot)
        assert "This needs 80 by 24 cells" in shown(app)
        await pilot.press("a", "n")
        assert len(list((tmp_path / "b").glob("*.toml"))) == 8
        await pilot.resize_terminal(*NARROW)
        await pilot.pause()
        assert "Alder Lane Amber" in shown(app)
        await pilot.press("q")
    assert app.return_value == 0


def test_the_keys_of_home_are_sound() -> None:
    assert {action.id for action in HOME_ACTIONS} == {*_ACTIONS, "quit", "shell", "mouse", "theme"}
    assert len({action.id for action in HOME_ACTIONS}) == len(HOME_ACTIONS)
    for first, second in combinations(HOME_ACTIONS, 2):
        assert set(first.keys).isdisjoint(second.keys), (first.id, second.id)
    shared = {action.id: action for action in ACTIONS}
    for action in HOME_ACTIONS:
        if action.id in shared:  # one name in the settings: the same key does it
            assert action.keys == shared[action.id].keys


async def test_keys_of_the_settings_hold_here_too(tmp_path: Path) -> None:
    with pytest.raises(KeysRefused, match="copy"):
        remapped({"copy": "a"}, HOME_ACTIONS)
    app = home_on(batches(tmp_path / "b"), keys={"archive": "x", "undo": "U", "down": "J"})
    async with app.run_test(size=NARROW) as pilot:
        await settled(pilot)
        await pilot.press("J", "x")
        assert "quarry-lager" not in rows(app)
        await pilot.press("up")
        assert "x archive" in shown(app)
        await pilot.press("U")
        assert at(app) == "quarry-lager.toml"


async def test_many_batches_scroll(tmp_path: Path) -> None:
    for number in range(60):
        (tmp_path / f"b{number:02}.toml").write_text("format = 1\n", "utf-8")
    app = home_on(tmp_path)
    async with app.run_test(size=NARROW) as pilot:
        await settled(pilot)
        assert " ▾ 47 more" in shown(app)
        await pilot.press("end")
        assert "▸b59" in shown(app)
        await pilot.press("pageup", "pageup", "up")
        assert f"▸{at(app)[:3]}" in shown(app)
        await pilot.press("home")
        assert "▸b00" in shown(app)


@pytest.mark.parametrize(
    ("name", "size", "keys", "config"),
    [
        ("narrow", NARROW, ["down"], {}),
        ("wide", WIDE, ["down", "down"], {}),
        ("ascii", NARROW, ["n", "X"], {"glyphs": "ascii"}),
        ("light", WIDE, ["end"], {"theme": "chalk-morning"}),
    ],
)
def test_how_it_looks(
    snap_compare: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str, size: Any, keys: Any, config: Any
) -> None:
    monkeypatch.setattr("workbench.screens.home_drawing.short", lambda _: "~/brewing")
    if name == "ascii":
        monkeypatch.setenv("NO_COLOR", "1")

    app = home_on(batches(tmp_path / "b"), **config)
    assert snap_compare(app, terminal_size=size, run_before=settled_then(keys))


def settled_then(keys: list[str]) -> Any:
    async def run(pilot: Any) -> None:
        await settled(pilot)
        await pilot.press(*keys)

    return run


async def test_a_boil_left_on_rings_on_the_home_screen(tmp_path: Path) -> None:
    folder, hour, rung = batches(tmp_path / "b"), [NOW], []
    boils = '[[event]]\nat = 2026-11-26T06:55:00Z\nstep = 1\nwhat = "boil-on"\n'
    (folder / "alder-lane-amber.toml").write_text(ONE + boils, "utf-8")
    app = Workbench(folder, clock=lambda: Mark(hour[0]), config=Config(), tz=CET, home=True)
    async with app.run_test(size=NARROW) as pilot:
        await settled(pilot)
        app.bell = lambda: rung.append(1)  # type: ignore[method-assign]
        assert "boiling" in shown(app)
        assert app.screen.desk.pause_s() <= 60.5  # type: ignore[attr-defined]
        hour[0] += timedelta(minutes=4, seconds=1)
        app._tick()
        await pilot.pause()
        assert "RING Alder Lane Amber: a minute of the boil is left" in shown(app)
        hour[0] += timedelta(seconds=30)
        app._tick()
        await pilot.pause()
        assert rung == [1]
