"""The app by its keys."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from tests.panes.scenes import EMPTY, ONE, TWO
from tests.screens.apps import app_on
from workbench import themes
from workbench.panes import palette
from workbench.panes.canvas import Canvas
from workbench.screens.bench import Bench
from workbench.screens.faulty import Faulty
from workbench.screens.keys import KeysRefused

if TYPE_CHECKING:
    from pathlib import Path

    from textual.geometry import Region

    from workbench.app import Workbench

NARROW, WIDE = (80, 24), (120, 40)


def shown(app: Workbench) -> str:
    assert isinstance(app.screen, Bench)
    return "\n".join(canvas.text for canvas in app.screen.canvases if canvas.display)


def volumes(app: Workbench) -> list[float | None]:
    assert isinstance(app.screen, Bench)
    return [step.wort_l for step in app.screen.desk.plan.session.step]


async def test_wide_shows_six_panes_and_narrow_one(tmp_path: Path) -> None:
    app = app_on(tmp_path / "a.toml", ONE)
    async with app.run_test(size=WIDE) as pilot:
        assert all(
            name in shown(app) for name in ("1 Yeast ─", "2 Wort ─", "3 Steps ─", "4 Doses ─", "5 Clock ─", "6 Day ─")
        )
        await pilot.resize_terminal(*NARROW)
        await pilot.pause()
        assert "need       238 B" in shown(app)
        assert "powder" not in shown(app)
        await pilot.press("2")
        assert "powder     149 g" in shown(app)


async def test_from_100_columns_the_day_stays_beside_the_chosen_pane(tmp_path: Path) -> None:
    app = app_on(tmp_path / "a.toml", ONE)
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.press("2")
        assert "powder     149 g" in shown(app)
        assert "6 Day ─" in shown(app)
        await pilot.press("6", "down")
        assert app.screen.desk.pane == 5  # type: ignore[attr-defined]
        assert "powder     149 g" in shown(app)  # it stays
        await pilot.press("z")
        assert "powder     149 g" not in shown(app)
        await pilot.press("z", "1")
        assert "need       238 B" in shown(app)


@pytest.mark.parametrize("size", [NARROW, (100, 30), WIDE])
async def test_a_long_name_never_takes_the_place_of_what_is_next(tmp_path: Path, size: tuple[int, int]) -> None:
    app = app_on(tmp_path / "a.toml", ONE.replace("Alder Lane Amber", "A Name Longer Than Any Line " * 5))
    async with app.run_test(size=size):
        assert "NEXT Fri 15:45 yeast out; warm" in shown(app)
        assert "238 B" in app.screen.query_one("#outlook", Canvas).text


async def test_an_edit_recomputes_every_pane_at_once(tmp_path: Path) -> None:
    app = app_on(tmp_path / "a.toml", ONE)
    async with app.run_test(size=WIDE) as pilot:
        await pilot.press("3", "enter", "ctrl+u", *"0.8L", "enter")
        text = shown(app)
        assert volumes(app) == [0.8]
        assert text.count(" 75 g") + text.count(" 74 g") == 3  # powder, 74.5 g, in Wort, Steps, Doses
        assert "feeding 1: 800 mL" in text
    assert '"0.8L"' in (tmp_path / "a.toml").read_text("utf-8")


async def test_letters_are_text_while_a_value_is_typed(tmp_path: Path) -> None:
    app = app_on(tmp_path / "a.toml", ONE)
    async with app.run_test(size=NARROW) as pilot:
        await pilot.press("down", "enter", "q", "u", "2", "x")
        assert "qu2x" in shown(app)
        assert "leave as it was" in shown(app)
        await pilot.press("escape")
        assert "beer     •  23 L" in shown(app)
        await pilot.press("u")
        assert "nothing to undo" in shown(app)


async def test_a_bad_entry_stays_with_what_is_wrong_beside_it(tmp_path: Path) -> None:
    app = app_on(tmp_path / "a.toml", ONE)
    async with app.run_test(size=NARROW) as pilot:
        await pilot.press("down", "enter", "ctrl+u", *"23kg", "enter")
        (row,) = [line for line in shown(app).splitlines() if line.startswith("▸beer")]
        assert "23kg" in row
        assert "‼" in row
    assert (tmp_path / "a.toml").read_text("utf-8") == ONE


async def test_feedings_are_added_moved_and_removed_by_key(tmp_path: Path) -> None:
    app = app_on(tmp_path / "a.toml", TWO)
    async with app.run_test(size=NARROW) as pilot:
        await pilot.press("3", "+", "1", "enter")
        assert volumes(app) == [0.6, 1.0, 1.6]
        await pilot.press("shift+down")
        assert volumes(app) == [0.6, 1.6, 1.0]
        await pilot.press("<", "x")
        assert volumes(app) == [0.6, 1.6]
        await pilot.press("u", "u", "u", "u")
        assert volumes(app) == [0.6, 1.6]
        await pilot.press("r")
        assert volumes(app) == [0.6, 1.0, 1.6]


async def test_a_pane_fills_the_screen_and_goes_back(tmp_path: Path) -> None:
    app = app_on(tmp_path / "a.toml", ONE)
    async with app.run_test(size=WIDE) as pilot:
        await pilot.press("2", "z")
        assert "need       238 B" not in shown(app)
        assert "powder     149 g" in shown(app)
        await pilot.press("escape")
        assert "need       238 B" in shown(app)


async def test_too_small_says_so_and_goes_away(tmp_path: Path) -> None:
    app = app_on(tmp_path / "a.toml", ONE)
    async with app.run_test(size=(60, 20)) as pilot:
        assert "This needs 80 by 24" in shown(app)
        await pilot.resize_terminal(*NARROW)
        await pilot.pause()
        assert "This needs" not in shown(app)
        assert "238 B" in shown(app)


async def test_a_faulty_file_shows_its_faults_and_can_be_read_again(tmp_path: Path) -> None:
    path = tmp_path / "a.toml"
    app = app_on(path, 'format = 1\n[beer]\nvolume = "23"\n[step]\nwort = "1 L"\n')
    async with app.run_test(size=NARROW) as pilot:
        assert isinstance(app.screen, Faulty)
        text = app.screen.canvas.text
        assert "line 3  beer.volume" in text
        assert "line 4  step" in text
        path.write_text(ONE, "utf-8")
        await pilot.press("r")
        await pilot.pause()
        assert "238 B" in shown(app)


async def test_quitting_leaves_everything_on_the_disk(tmp_path: Path) -> None:
    app = app_on(tmp_path / "a.toml", ONE)
    async with app.run_test(size=NARROW) as pilot:
        await pilot.press("down", "enter", "ctrl+u", "2", "0", "enter", "q")
    assert app.return_value == 0
    assert 'volume = "20 L"' in (tmp_path / "a.toml").read_text("utf-8")


async def test_what_cannot_be_saved_is_said_and_a_second_q_leaves(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from workbench.errors import SaveFailed

    def fail(*_: Any, **__: Any) -> None:
        raise SaveFailed("a.toml could not be saved: the disk is full")

    monkeypatch.setattr("workbench.session.saver.write_atomically", fail)
    app = app_on(tmp_path / "a.toml", ONE)
    async with app.run_test(size=NARROW) as pilot:
        await pilot.press("down", "enter", "ctrl+u", "2", "0", "enter", "q")
        await pilot.pause()
        assert "NOT SAVED: the disk is full" in shown(app)
        assert "q again leaves" in shown(app)
        await pilot.press("down", "q")  # something else was done meanwhile: it is said once more
        await pilot.pause()
        assert app.is_running
        assert "q again leaves" in shown(app)
        await pilot.press("q")
    assert app.return_value == 1


async def test_an_open_list_has_the_keyboard_to_itself(tmp_path: Path) -> None:
    app = app_on(tmp_path / "a.toml", TWO)
    async with app.run_test(size=NARROW) as pilot:
        await pilot.press("ctrl+p", "x", "q", "ctrl+p")
        assert app.is_running
        assert " find xq " in shown(app)
        await pilot.press("escape")
        assert volumes(app) == [0.6, 1.6]
        assert " find " not in shown(app)


async def test_everything_can_be_chosen_from_the_list_and_is_done_in_a_pane_that_has_it(tmp_path: Path) -> None:
    app = app_on(tmp_path / "a.toml", TWO)
    async with app.run_test(size=NARROW) as pilot:
        await pilot.press(":", *"longer", "enter")
        assert app.screen.desk.pane == 4  # type: ignore[attr-defined]
        assert app.screen.desk.store.session.step[0].boil_time_s == 660.0  # type: ignore[attr-defined]
        await pilot.press("1", "ctrl+p", *"move", "space", "down", "enter")
        assert "nothing to move here" in shown(app)
        await pilot.press("2", "?", *"plan", "enter")
        assert app.screen.desk.planning  # type: ignore[attr-defined]


async def test_nothing_moves_by_itself_or_blinks(tmp_path: Path) -> None:
    app = app_on(tmp_path / "a.toml", ONE)
    assert app.animation_level == "none"
    tables = [palette.styles(themes.load(name), colour=True) for name in themes.names()]
    assert not any(style.blink for table in tables for style in table.values())
    async with app.run_test(size=NARROW) as pilot:
        await pilot.press("enter")
        assert not app.screen.query("Input, LoadingIndicator")
        assert not app.screen.auto_refresh
        assert not any(canvas.auto_refresh for canvas in app.screen.query(Canvas))


async def test_plain_lines_stand_alone_on_the_screen_and_scroll(tmp_path: Path) -> None:
    app = app_on(tmp_path / "a.toml", ONE)
    async with app.run_test(size=(120, 36)) as pilot:
        await pilot.press("6", "y")
        assert "\n NEXT Fri 15:45, in 1 d 07 h\n" in shown(app)
        assert "▸" not in shown(app)
        assert "238 B    live cells" not in shown(app)  # no pane beside it
        assert " ▾ " not in shown(app)
        await pilot.resize_terminal(*NARROW)
        await pilot.press("pagedown")
        assert "awake 07:00-22:30" in shown(app)
        await pilot.resize_terminal(*WIDE)
        await pilot.press("escape")
        assert "238 B    live cells" in shown(app)


async def test_a_letter_that_leads_to_the_shell_is_text_while_something_is_typed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    app = app_on(tmp_path / "a.toml", ONE, keys={"shell": "Z, ctrl+z"})
    stopped: list[int] = []
    monkeypatch.setattr(app, "action_suspend_process", lambda: stopped.append(1))
    async with app.run_test(size=NARROW) as pilot:
        await pilot.press("?", "Z")
        assert " find Z" in shown(app)
        assert not stopped
        await pilot.press("ctrl+z", "escape", "Z")
        assert stopped == [1, 1]


async def test_ctrl_c_says_how_to_leave(tmp_path: Path) -> None:
    app = app_on(tmp_path / "a.toml", ONE, keys={"quit": "Q"})
    async with app.run_test(size=NARROW) as pilot:
        await pilot.press("ctrl+c")
        assert "Q leaves" in shown(app)


async def test_a_key_of_another_pane_does_nothing(tmp_path: Path) -> None:
    app = app_on(tmp_path / "a.toml", ONE)
    async with app.run_test(size=NARROW) as pilot:
        before = shown(app)
        await pilot.press("l", "right_square_bracket")
        assert shown(app) == before
        await pilot.press("2", "m")
        assert "gravity as read" in shown(app)


async def test_own_keys(tmp_path: Path) -> None:
    app = app_on(tmp_path / "a.toml", ONE, keys={"quit": "ctrl+x", "zoom": "q", "note": "slash, ö"})
    async with app.run_test(size=WIDE) as pilot:
        await pilot.press("q")
        assert app.screen.desk.zoomed  # type: ignore[attr-defined]
        assert "ctrl+x quit" in shown(app)
        await pilot.press("/", "escape", "a")
        assert "▸note" not in shown(app)
        await pilot.press("ö")
        assert "▸note" in shown(app)


def test_own_keys_that_clash_are_refused(tmp_path: Path) -> None:
    with pytest.raises(KeysRefused):
        app_on(tmp_path / "a.toml", ONE, keys={"quit": "u"})


async def test_only_what_changed_is_repainted(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    app = app_on(tmp_path / "a.toml", ONE)
    async with app.run_test(size=WIDE) as pilot:
        await pilot.pause(0.1)
        regions: list[Region] = []
        monkeypatch.setattr(Canvas, "refresh", lambda self, *r, **_: regions.extend(r) or self)
        await pilot.press("down")
        assert sum(region.height for region in regions) == 3  # both rows, and what the second means
        regions.clear()
        await pilot.press("up", "down")
        app._tick()
        assert all(region.height == 1 for region in regions)
        regions.clear()
        app._tick()
        assert regions == []


async def test_the_terminals_cursor_follows_the_row_and_the_edit(tmp_path: Path) -> None:
    app = app_on(tmp_path / "a.toml", ONE)
    async with app.run_test(size=NARROW) as pilot:
        first = app.cursor_position
        await pilot.press("down")
        assert app.cursor_position.y == first.y + 1
        await pilot.press("enter", "home", "right")
        assert app.cursor_position.x == first.x + 12  # behind cursor, label, blank and one digit


async def test_an_empty_session_can_be_filled_by_keys(tmp_path: Path) -> None:
    app = app_on(tmp_path / "a.toml", EMPTY)
    async with app.run_test(size=WIDE) as pilot:
        await pilot.press("enter")
        for text in ("sat 15:00", "23", "1056"):  # each leads to the next
            await pilot.press(*[{" ": "space", ":": "colon"}.get(c, c) for c in text], "enter")
        await pilot.press("escape", "+", "enter", *"19", "space", *"oct", "enter")
        await pilot.press("3", "enter", "1", ".", "5", "enter")
        assert "need 238 B · will have 25" in shown(app)
        assert volumes(app) == [1.5]


@pytest.mark.parametrize("size", [(20, 10), (4, 4), (1, 1)])
async def test_a_window_too_small_takes_no_key_but_q(tmp_path: Path, size: tuple[int, int]) -> None:
    app = app_on(tmp_path / "a.toml", TWO)
    async with app.run_test(size=size) as pilot:
        await pilot.press("3", "down", "x", "q")
    assert app.return_value == 0
    assert (tmp_path / "a.toml").read_text("utf-8") == TWO


async def test_escape_and_a_key_in_one_piece_act_one_after_the_other(tmp_path: Path) -> None:
    app = app_on(tmp_path / "a.toml", ONE)
    async with app.run_test(size=NARROW) as pilot:
        await pilot.press("down", "enter", "2", "5", "alt+3")
        await pilot.pause()
        assert "goes in" in shown(app)  # the third pane, and nothing was typed
        await pilot.press("q")
    assert 'volume = "23 L"' in (tmp_path / "a.toml").read_text("utf-8")


async def test_a_faulty_file_left_is_exit_1(tmp_path: Path) -> None:
    app = app_on(tmp_path / "a.toml", "format = 0\n")
    async with app.run_test(size=NARROW) as pilot:
        await pilot.press("q")
    assert app.return_value == 1


async def test_a_resize_under_an_open_list(tmp_path: Path) -> None:
    app = app_on(tmp_path / "a.toml", ONE)
    async with app.run_test(size=NARROW) as pilot:
        await pilot.press("ctrl+p")
        await pilot.pause()
        await pilot.resize_terminal(120, 40)
        await pilot.press("escape")
        await pilot.pause()
        assert "5 Clock ──" in shown(app)  # titles with rules: the wide grid
