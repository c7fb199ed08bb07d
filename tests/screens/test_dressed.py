"""Themes while it runs, and what a terminal without colour, or with fewer signs, is sent."""

from __future__ import annotations

import re
import sys
from typing import TYPE_CHECKING

import pytest
from rich.color import Color

from tests.panes.scenes import ONE
from tests.screens.apps import app_on
from tests.screens.homes import batches, home_on, settled, shown
from tests.screens.terminals import Terminal
from tests.test_themes import OWN
from workbench import themes
from workbench.panes.canvas import Canvas

if TYPE_CHECKING:
    from pathlib import Path

    from workbench.app import Workbench

SIZE = (80, 24)
KEY = "C"
_SGR = re.compile(rb"\x1b\[([0-9;:]*)m")


def ground(app: Workbench) -> Color | None:
    """The colour that most of the screen stands on."""
    canvas = next(canvas for canvas in app.screen.query(Canvas) if canvas.id in {"rail", "list", "faults"})
    return next(segment.style for segment in canvas.render_line(0) if segment.style).bgcolor


def told(app: Workbench) -> str:
    return next(canvas.text for canvas in app.screen.query(Canvas) if canvas.id == "bottom") + next(
        (canvas.text for canvas in app.screen.query(Canvas) if canvas.id == "tail"), ""
    )


def own(tmp_path: Path, text: str, name: str = "mine") -> None:
    """A theme of the brewer's own: the settings of the tests are in `tmp_path`."""
    (tmp_path / "themes").mkdir(exist_ok=True)
    (tmp_path / "themes" / f"{name}.toml").write_text(text, "utf-8")


async def test_a_key_goes_through_all_themes_and_says_how_to_keep_one(tmp_path: Path) -> None:
    app = app_on(tmp_path / "a.toml", ONE)
    async with app.run_test(size=SIZE) as pilot:
        seen = []
        for _ in themes.names():
            await pilot.press(KEY)
            await pilot.pause()
            name = re.search(r'theme = "([a-z-]+)" in the settings keeps it', told(app))
            assert name is not None
            seen.append(name[1])
            theme = themes.load(name[1])
            assert ground(app) == (None if theme.ansi else Color.parse(theme.colours["ground"]))
        assert sorted(seen) == themes.names()
        assert seen[-1] == themes.DEFAULT  # round


async def test_every_theme_can_be_chosen_by_its_name(tmp_path: Path) -> None:
    app = app_on(tmp_path / "a.toml", ONE)
    async with app.run_test(size=SIZE) as pilot:
        for name in themes.names():
            await pilot.press(":", *f"theme {name}", "enter")
            assert f"theme {name}, for now" in told(app)


async def test_the_flask_is_drawn_in_outline_where_there_are_no_tints(tmp_path: Path) -> None:
    app = app_on(tmp_path / "a.toml", ONE)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("3")
        assert "╱" not in "".join(canvas.text for canvas in app.screen.query(Canvas))
        app.wear("ansi")
        await pilot.pause()
        assert "╱" in "".join(canvas.text for canvas in app.screen.query(Canvas))
        app.wear("pine-frost")
        await pilot.pause()
        assert "╱" not in "".join(canvas.text for canvas in app.screen.query(Canvas))


async def test_all_screens_follow(tmp_path: Path) -> None:
    app = home_on(batches(tmp_path / "b"))
    async with app.run_test(size=SIZE) as pilot:
        await settled(pilot)
        before = ground(app)
        await pilot.press(KEY)
        chosen = ground(app)
        assert chosen != before
        assert "for now" in told(app)
        await pilot.press("enter", KEY)
        await pilot.pause()
        on_bench = ground(app)
        assert on_bench not in (before, chosen)
        await pilot.press("q")
        await pilot.pause()
        assert ground(app) == on_bench


async def test_the_screen_of_a_faulty_file_follows(tmp_path: Path) -> None:
    app = app_on(tmp_path / "a.toml", "format = 1\nbeer = 3\n")
    async with app.run_test(size=SIZE) as pilot:
        before = ground(app)
        await pilot.press(KEY)
        assert ground(app) != before


async def test_an_own_theme_is_used(tmp_path: Path) -> None:
    own(tmp_path, OWN)
    app = app_on(tmp_path / "a.toml", ONE, theme="mine")
    async with app.run_test(size=SIZE):
        assert ground(app) == Color.parse("#101010")


@pytest.mark.parametrize(
    ("text", "name", "theme", "says"),
    [
        (OWN.replace('"#c0c0c0"', "3"), "mine", "mine", "theme mine: dim = 3 is no colour"),
        (OWN, "pine-frost", "harbour-dusk", "themes/pine-frost.toml of your own is not used"),
        (OWN.replace("#f0f0f0", "#202020"), "mine", "mine", "theme mine: text on cursor is hard to read"),
    ],
)
async def test_what_is_wrong_with_an_own_theme_is_told_and_all_goes_on(
    tmp_path: Path, text: str, name: str, theme: str, says: str
) -> None:
    own(tmp_path, text, name)
    app = app_on(tmp_path / "a.toml", ONE, theme=theme)
    async with app.run_test(size=(160, 40)) as pilot:
        assert says in told(app)
        await pilot.press("down")
        assert says not in told(app)


async def test_a_broken_theme_is_told_on_the_home_screen(tmp_path: Path) -> None:
    own(tmp_path, "ground = 3")
    app = home_on(batches(tmp_path / "b"), theme="mine")
    async with app.run_test(size=SIZE) as pilot:
        await settled(pilot)
        assert "theme mine: ground = 3 is no colour" in shown(app)
        assert "harbour-dusk is used" in " ".join(shown(app).split()), "to its end, above the keys"


async def test_a_broken_theme_is_passed_over_while_it_runs(tmp_path: Path) -> None:
    own(tmp_path, "")
    app = app_on(tmp_path / "a.toml", ONE, theme=themes.names()[-1])
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.press(KEY)
        assert "theme mine: ground is missing" in told(app)
        app.wear("mine")
        assert "theme mine: ground is missing" in told(app)


async def test_without_colour_there_is_nothing_to_choose(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    app = app_on(tmp_path / "a.toml", ONE)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(KEY)
        assert "NO_COLOR is set" in told(app)
        assert ground(app) is None


async def test_an_empty_no_color_asks_for_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """https://no-color.org: "when present and not an empty string"."""
    monkeypatch.setenv("NO_COLOR", "")
    app = app_on(tmp_path / "a.toml", ONE)
    async with app.run_test(size=SIZE):
        assert not app.no_color
        assert ground(app) is not None


# ---- what is sent ---------------------------------------------------------------------------------------------


def sent(file: Path, keys: bytes, **env: str) -> bytes:
    """All that the program writes for these keys, as a brewer starts it who has settings."""
    settings = file.with_name("settings.toml")
    settings.touch()
    env["WORKBENCH_CONFIG"] = str(settings)
    with Terminal(file, words=[sys.executable, "-m", "workbench", str(file)], env=env) as terminal:
        return terminal.read_until(b"quit") + b"".join(terminal.answer(bytes([key])) for key in keys)


def codes(written: bytes) -> set[int]:
    """The numbers of its SGR codes, without the parts of longer colours."""
    return {int(code or 0) for group in _SGR.findall(written) for code in re.split(rb"[;:]", group)}


@pytest.mark.slow
def test_no_color_means_no_colour_code_at_all(tmp_path: Path) -> None:
    """https://no-color.org; ECMA-48 8.3.117: 30-49 are colours, 90-107 the bright ones of many terminals."""
    path = tmp_path / "a.toml"
    path.write_text(ONE, "utf-8")
    used = codes(sent(path, b"3pp6dfC?", NO_COLOR="1"))
    assert used
    assert {code for code in used - {39, 49} if 30 <= code <= 49 or code >= 90} == set()  # 39, 49: as it was
    assert codes(sent(path, b"3")) & {38, 48}


@pytest.mark.slow
@pytest.mark.parametrize(
    ("env", "has", "lacks"),
    [
        ({}, "▸•⏎", "►"),
        ({"TERM": "linux"}, "►•", "▸⏎╱…"),
        ({"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}, "", "▸•►─"),
    ],
    ids=["full", "console", "ascii"],
)
def test_the_signs_are_those_of_the_terminal(tmp_path: Path, env: dict[str, str], has: str, lacks: str) -> None:
    path = tmp_path / "a.toml"
    path.write_text(ONE, "utf-8")
    written = sent(path, b"3", **env).decode("utf-8")
    assert {sign for sign in has if sign not in written} == set()
    assert {sign for sign in lacks if sign in written} == set()
    assert has or written.isascii()


@pytest.mark.slow
def test_the_settings_choose_the_signs(tmp_path: Path) -> None:
    path, settings = tmp_path / "a.toml", tmp_path / "settings.toml"
    path.write_text(ONE, "utf-8")
    settings.write_text('glyphs = "ascii"\n', "utf-8")
    assert sent(path, b"3", WORKBENCH_CONFIG=str(settings)).isascii()


@pytest.mark.slow
def test_a_terminal_of_sixteen_colours_keeps_its_own(tmp_path: Path) -> None:
    path = tmp_path / "a.toml"
    path.write_text(ONE, "utf-8")
    assert codes(sent(path, b"3T", TERM="xterm")).isdisjoint({38, 48})


@pytest.mark.slow
def test_another_theme_costs_no_more_than_a_start(tmp_path: Path) -> None:
    path = tmp_path / "a.toml"
    path.write_text(ONE, "utf-8")
    with Terminal(path) as terminal:
        terminal.read_until(b"quit")
        terminal.answer()
        for _ in themes.names():
            assert 1000 < len(terminal.answer(b"C")) <= 8 * 1024
