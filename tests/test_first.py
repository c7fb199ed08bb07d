"""The first start: at most three questions, once, their answers used at once and written whole or not at all."""

from __future__ import annotations

import os
import sys
import tomllib
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.panes.scenes import CET, NOW, ONE
from tests.screens.homes import shown
from tests.screens.terminals import ROOT, Terminal
from workbench import first
from workbench.app import Workbench
from workbench.config import SAMPLE, Config, load_config, read_config
from workbench.panes.glyphs import ASCII, FULL
from workbench.panes.spans import width
from workbench.screens.bench import Bench
from workbench.screens.first_desk import FirstDesk
from workbench.screens.home import Home
from workbench.session.load import load
from workbench.session.read import read
from workbench.units.mark import Mark

if TYPE_CHECKING:
    from pathlib import Path

    from workbench.session.model import Session

ENTER, ESC, UP = b"\r", b"\x1b", b"\x1b[A"


def app_on(path: Path, settings: Path, *, home: bool = False) -> Workbench:
    app = Workbench(path, clock=lambda: Mark(NOW), config=Config(), tz=CET, home=home)
    app.first = settings
    return app


def page(app: Workbench) -> str:
    return "\n".join(canvas.text for canvas in app.screen.canvases if canvas.display)  # type: ignore[attr-defined]


def session_of(path: Path) -> Session:
    loaded = load(path)
    return read(loaded.data, loaded.text).session


def test_three_questions_at_most_with_an_answer_each_that_is_understood() -> None:
    assert 1 <= len(first.QUESTIONS) <= 3
    assert [q.read(q.preset) for q in first.QUESTIONS] == [q.preset for q in first.QUESTIONS]


def test_without_answers_all_is_a_remark_and_as_usual() -> None:
    text = first.settings_text({})
    assert all(line.startswith(("#", "[")) or not line for line in text.splitlines())
    assert read_config(tomllib.loads(text), text) == (Config(), ())
    for line in SAMPLE.splitlines():  # what can be set stands there
        assert line in text or f"# {line}" in text


def test_the_answers_stand_in_their_tables_with_the_remarks() -> None:
    text = first.settings_text({"units": "us", "size": "2 L", "gravity": "1.036"})
    assert 'units = "us"                # metric | us' in text
    config, faults = read_config(tomllib.loads(text), text)
    assert faults == ()
    assert config == Config(units="us", flask={"size": "2 L"}, wort={"gravity": "1.036"})
    assert config == first.config_of({"units": "us", "size": "2 L", "gravity": "1.036"})


async def test_enter_takes_what_stands_there_and_the_home_screen_follows(tmp_path: Path) -> None:
    settings = tmp_path / "deep" / "config.toml"
    app = app_on(tmp_path / "b", settings, home=True)
    async with app.run_test(size=(80, 24)) as pilot:
        assert "▸units" in page(app)
        assert "⏎ take it, on to the next   ↑↓ turn   Esc skip the rest" in page(app)
        await pilot.press("enter")
        assert "• metric" in page(app)
        assert "often 1 to 5 L" in page(app)
        await pilot.press("enter")
        assert "⏎ take it, begin   Esc skip the rest" in page(app)
        await pilot.press("enter")
        assert isinstance(app.screen, Home)
        assert "i shows a tour on one page" in shown(app)
        await pilot.press("n", "a", "enter")
        assert isinstance(app.screen, Bench)
        await pilot.press("q", "q")
    assert load_config(settings) == Config(flask={"size": "3 L"}, wort={"gravity": "1.034"})
    assert session_of(tmp_path / "b" / "a.toml").flask.size_l == 3.0
    assert app.return_value == 0


async def test_what_is_answered_is_used_at_once(tmp_path: Path) -> None:
    path, settings = tmp_path / "a.toml", tmp_path / "config.toml"
    path.write_text(ONE, "utf-8")
    app = app_on(path, settings)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("u", "enter", "2", "enter", "escape")
        assert isinstance(app.screen, Bench)
        assert "6.08 gal" in page(app)
    config = load_config(settings)
    assert (config.units, config.flask, config.wort) == ("us", {"size": "2 L"}, {})


async def test_a_batch_still_to_be_made_gets_the_flask(tmp_path: Path) -> None:
    app = app_on(tmp_path / "new.toml", tmp_path / "config.toml")
    async with app.run_test(size=(80, 24)) as pilot:
        assert not (tmp_path / "new.toml").exists()
        await pilot.press("down", "up", "enter", "5", "enter", "3", "6", "enter")
        assert isinstance(app.screen, Bench)
    session = session_of(tmp_path / "new.toml")
    assert session.flask.size_l == 5.0
    assert session.is_given("wort.gravity")


async def test_escape_skips_and_is_remembered(tmp_path: Path) -> None:
    settings = tmp_path / "config.toml"
    app = app_on(tmp_path / "b", settings, home=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("escape")
        assert isinstance(app.screen, Home)
    assert load_config(settings) == Config()
    assert settings.read_text("utf-8").startswith("# Settings")


async def test_what_is_wrong_is_said_and_stays(tmp_path: Path) -> None:
    app = app_on(tmp_path / "b", tmp_path / "config.toml", home=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press(*"ounces", "enter")
        assert "is no word for this" in page(app)
        await pilot.press("ctrl+u", "enter")  # nothing typed: the usual
        await pilot.press(*"3kg", "enter")
        assert "3kg" in page(app)
        assert "‼" in page(app)
        await pilot.press("ctrl+q")
    assert not (tmp_path / "config.toml").exists()
    assert app.return_value == 0


async def test_settings_that_are_there_meanwhile_are_never_written_over(tmp_path: Path) -> None:
    settings = tmp_path / "config.toml"
    app = app_on(tmp_path / "b", settings, home=True)
    async with app.run_test(size=(80, 24)) as pilot:
        settings.write_text('units = "us"\n', "utf-8")
        await pilot.press("enter", "enter", "enter")
        assert "the settings are not kept" in shown(app)
    assert settings.read_text("utf-8") == 'units = "us"\n'


async def test_where_nothing_can_be_written_it_says_so_and_goes_on(tmp_path: Path) -> None:
    (tmp_path / "no-folder").write_text("", "utf-8")
    app = app_on(tmp_path / "b", tmp_path / "no-folder" / "config.toml", home=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter", "4", "enter", "escape")
        assert "the settings are not kept" in shown(app)
        await pilot.press("n", "a", "enter")
        assert isinstance(app.screen, Bench)
    assert session_of(tmp_path / "b" / "a.toml").flask.size_l == 4.0


async def test_a_window_too_small_asks_nothing_yet(tmp_path: Path) -> None:
    app = app_on(tmp_path / "b", tmp_path / "config.toml", home=True)
    async with app.run_test(size=(60, 20)) as pilot:
        await pilot.press("enter")
        assert "This needs 80 by 24" in page(app)
        await pilot.resize_terminal(80, 24)
        await pilot.pause()
        assert "▸units" in page(app)


@given(st.lists(st.sampled_from(["enter", "escape", "up", "down", "backspace", "x", "5", "°"]), max_size=12))
def test_whatever_is_pressed_the_page_fits_and_the_answers_are_settings(keys: list[str]) -> None:
    for glyphs in (FULL, ASCII):
        desk = FirstDesk(first.QUESTIONS, glyphs)
        for key in keys:
            if not desk.over:
                desk.press(key, key if len(key) == 1 else None)
            lines = desk.lines(80)
            assert len(lines) <= 23
            assert max(map(width, lines)) <= 80
            x, y = desk.caret()
            assert desk.over or "".join(text for text, _ in lines[y])[:x].strip()
        text = first.settings_text(desk.answers)
        assert read_config(tomllib.loads(text), text)[1] == ()


# ---- the installed command in a terminal ------------------------------------------------------------------------


def command(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, *words: str) -> Terminal:
    monkeypatch.setenv("WORKBENCH_CONFIG", str(tmp_path / "conf" / "config.toml"))
    monkeypatch.setenv("PYTHONPATH", str(ROOT))
    return Terminal(tmp_path, words=[sys.executable, "-m", "workbench", *words])


@pytest.mark.slow
def test_a_burst_from_the_questions_to_a_plan_acts_in_its_order(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with command(tmp_path, monkeypatch, "--folder", str(tmp_path / "b")) as terminal:
        assert b"starter wort" in terminal.read_until(b"skip the rest")
        keys = (
            ENTER,
            b"2",
            ENTER,
            ENTER,
            b"nale",
            ENTER,
            ENTER,
            b"+3d",
            ENTER,
            b"23",
            ENTER,
            b"56",
            ENTER,
            b"6w",
            ENTER,
        )
        os.write(terminal.fd, b"".join(keys) + b"qq")
        assert terminal.end() == 0
    assert load_config(tmp_path / "conf" / "config.toml").flask == {"size": "2 L"}
    session = session_of(tmp_path / "b" / "ale.toml")
    assert session.flask.size_l == 2.0
    assert session.beer is not None
    assert session.beer.volume_l == 23.0
    assert session.yeast[0].made_on is not None
    with command(tmp_path, monkeypatch, "--folder", str(tmp_path / "b")) as terminal:  # never asked again
        assert b"skip the rest" not in terminal.read_until(b"quit")
        os.write(terminal.fd, b"q")
        assert terminal.end() == 0


@pytest.mark.slow
def test_a_file_that_is_made_on_a_first_start(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with command(tmp_path, monkeypatch, str(tmp_path / "mild.toml")) as terminal:
        terminal.read_until(b"[y/N]")
        os.write(terminal.fd, b"y\n")
        terminal.read_until(b"skip the rest")
        os.write(terminal.fd, ENTER + b"4" + ENTER + ESC)
        terminal.read_until(b"shows a tour")
        os.write(terminal.fd, b"q")
        assert terminal.end() == 0
    assert session_of(tmp_path / "mild.toml").flask.size_l == 4.0


@pytest.mark.slow
def test_the_demo_asks_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with command(tmp_path, monkeypatch, "demo") as terminal:
        assert b"COOLING" in terminal.read_until(b"quit")
        os.write(terminal.fd, b"q")
        assert terminal.end() == 0
    assert not (tmp_path / "conf").exists()
