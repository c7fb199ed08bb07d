"""How the panes look, held current; `pytest --snapshot-update` takes new pictures once they have been looked at."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from tests.panes.scenes import EMPTY, ONE, READING, TWO
from tests.screens.apps import app_on

if TYPE_CHECKING:
    from pathlib import Path

FULL = TWO + READING + '[keep]\ncells = "60 B"\n'


@pytest.mark.parametrize("pane", ["1", "2", "3", "4", "5", "6"])
def test_a_pane_alone(snap_compare: Any, tmp_path: Path, pane: str) -> None:
    assert snap_compare(app_on(tmp_path / "a.toml", FULL), terminal_size=(80, 24), press=[pane])


@pytest.mark.parametrize(
    ("name", "keys", "theme"),
    [
        ("grid", ["3"], "harbour-dusk"),
        ("light", ["2", "down"], "chalk-morning"),
        ("edit", ["1", "down", "enter", "x", "enter"], "harbour-dusk"),
        ("ansi", ["3", "down"], "ansi"),
    ],
)
def test_the_grid(snap_compare: Any, tmp_path: Path, name: str, keys: list[str], theme: str) -> None:
    assert snap_compare(app_on(tmp_path / "a.toml", FULL, theme=theme), terminal_size=(120, 40), press=keys)


def test_without_colour(snap_compare: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    assert snap_compare(app_on(tmp_path / "a.toml", FULL), terminal_size=(120, 40), press=["3"])


def test_an_empty_session(snap_compare: Any, tmp_path: Path) -> None:
    assert snap_compare(app_on(tmp_path / "empty.toml", EMPTY), terminal_size=(120, 40))


@pytest.mark.parametrize(("name", "keys"), [("why", ["2", "down", "down", "w"]), ("help", ["3", "?"])])
def test_a_page(snap_compare: Any, tmp_path: Path, name: str, keys: list[str]) -> None:
    assert snap_compare(app_on(tmp_path / "a.toml", ONE), terminal_size=(80, 24), press=keys)
