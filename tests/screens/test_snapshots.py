"""How each pane, page and screen looks, held current; `pytest --snapshot-update` takes new pictures, to be looked at.

What is shown is the same in every theme; each theme and set of signs stands here with a few of the screens.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from tests.panes.scenes import AMBER, EMPTY, ONE, READING, TWO
from tests.screens.apps import app_on

if TYPE_CHECKING:
    from pathlib import Path

FULL = TWO + READING + '[keep]\ncells = "60 B"\n'
NARROW, WIDE = (80, 24), (120, 40)
SIZES = pytest.mark.parametrize("size", [NARROW, WIDE], ids=["80x24", "120x40"])


def _stamp(what: str, at: str, more: str = "") -> str:
    return f'[[event]]\nat = 2026-11-26T{at}:00Z\nstep = 1\nwhat = "{what}"\n{more}'


def _read(celsius: int, at: str) -> str:
    return f'[[reading]]\nat = 2026-11-26T{at}:00Z\nstep = 1\nkind = "temperature"\nvalue = "{celsius} °C"\n'


BOIL = ONE + _stamp("boil-on", "06:54")
COOL = (
    ONE
    + _stamp("boil-on", "06:30")
    + _stamp("boil-done", "06:40")
    + _stamp("cool-on", "06:43", 'temperature = "12 °C"\n')
    + _read(80, "06:45")
    + _read(60, "06:49")
    + _read(44, "06:54")
)
GROWS = ONE + _stamp("yeast-in", "05:00")
LARGE = (
    AMBER.replace("Alder Lane Amber", "A Name that is Longer than Any Line Has Room For, and Then Some").replace(
        "23 L", "2000 L"
    )
    + '[[yeast]]\nkind = "dry"\nmade_on = 2026-01-01\nmass = "500 g"\n' * 3
    + '[[step]]\nwort = "12.25 L"\ndecant = true\n' * 4
)


@pytest.mark.parametrize("theme", ["harbour-dusk", "chalk-morning"])
@pytest.mark.parametrize("pane", ["1", "2", "3", "4", "5", "6"])
def test_a_pane_alone(snap_compare: Any, tmp_path: Path, pane: str, theme: str) -> None:
    assert snap_compare(app_on(tmp_path / "a.toml", FULL, theme=theme), terminal_size=NARROW, press=[pane])


@pytest.mark.parametrize("pane", ["1", "2", "3", "4", "5", "6"])
def test_a_pane_over_a_wide_screen(snap_compare: Any, tmp_path: Path, pane: str) -> None:
    app = app_on(tmp_path / "a.toml", FULL, theme="pine-frost")
    assert snap_compare(app, terminal_size=WIDE, press=[pane, "z"])


@pytest.mark.parametrize("theme", ["harbour-dusk", "cellar-lamp", "pine-frost", "chalk-morning", "linen-noon", "ansi"])
def test_the_grid(snap_compare: Any, tmp_path: Path, theme: str) -> None:
    app = app_on(tmp_path / "a.toml", FULL, theme=theme)
    assert snap_compare(app, terminal_size=WIDE, press=["3", "down"])


@SIZES
@pytest.mark.parametrize("glyphs", ["full", "console", "ascii"])
def test_without_colour(
    snap_compare: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, glyphs: str, size: tuple[int, int]
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    assert snap_compare(app_on(tmp_path / "a.toml", FULL, glyphs=glyphs), terminal_size=size, press=["3"])


@SIZES
@pytest.mark.parametrize("text", [BOIL, COOL, GROWS], ids=["boil", "cool", "grows"])
def test_the_clock_as_it_runs(snap_compare: Any, tmp_path: Path, text: str, size: tuple[int, int]) -> None:
    app = app_on(tmp_path / "a.toml", text, theme="cellar-lamp")
    assert snap_compare(app, terminal_size=size, press=["5"])


@SIZES
@pytest.mark.parametrize(
    "keys",
    [["2", "down", "down", "w"], ["3", "?"], ["3", "f"], ["3", "p"], ["1", "down", "enter", "x", "enter"]],
    ids=["why", "help", "flask", "ways", "edit"],
)
def test_a_page(snap_compare: Any, tmp_path: Path, keys: list[str], size: tuple[int, int]) -> None:
    assert snap_compare(app_on(tmp_path / "a.toml", ONE), terminal_size=size, press=keys)


@SIZES
@pytest.mark.parametrize(
    ("text", "config"),
    [
        (EMPTY, {}),
        ('format = 1\n[beer]\nvolume = "23 kg"\n', {}),
        (LARGE, {"units": "us", "decimal": "comma", "theme": "linen-noon"}),
    ],
    ids=["empty", "faulty", "large"],
)
def test_a_session(snap_compare: Any, tmp_path: Path, text: str, config: Any, size: tuple[int, int]) -> None:
    assert snap_compare(app_on(tmp_path / "a.toml", text, **config), terminal_size=size)


@pytest.mark.parametrize(
    ("size", "key"),
    [((100, 30), "3"), ((100, 30), "6"), ((200, 60), "3"), ((79, 24), "3")],
    ids=["pair", "day", "roomy", "small"],
)
def test_the_other_sizes(snap_compare: Any, tmp_path: Path, size: tuple[int, int], key: str) -> None:
    assert snap_compare(app_on(tmp_path / "a.toml", FULL), terminal_size=size, press=[key])
