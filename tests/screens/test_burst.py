"""Keys sent all at once through a pty act in the order in which they were sent."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import pytest

from tests.panes.scenes import ONE
from tests.screens.terminals import Terminal
from workbench.session.store import Store

if TYPE_CHECKING:
    from pathlib import Path

DOWN, ENTER, BACK, HOME, RIGHT = b"\x1b[B", b"\r", b"\x7f", b"\x1b[H", b"\x1b[C"


@pytest.mark.slow
@pytest.mark.parametrize(
    ("keys", "litres"),
    [
        (DOWN + ENTER + 4 * BACK + b"25" + ENTER, 25.0),
        (DOWN + ENTER + HOME + b"1" + RIGHT + BACK + ENTER, 13.0),
        (DOWN + ENTER + 4 * BACK + b"1" + ENTER + ENTER + 4 * BACK + b"42 L" + ENTER, 42.0),
        (DOWN + ENTER + 4 * BACK + b"30" + ENTER + b"u", 23.0),
    ],
)
def test_a_burst_of_keys_acts_in_its_order(tmp_path: Path, keys: bytes, litres: float) -> None:
    path = tmp_path / "a.toml"
    path.write_text(ONE, "utf-8")
    with Terminal(path) as terminal:
        assert b"Yeast" in terminal.read_until(b"quit")
        os.write(terminal.fd, keys + b"q")
        assert terminal.end() == 0
    beer = Store.open(path).session.beer
    assert beer is not None
    assert beer.volume_l == litres


@pytest.mark.slow
@pytest.mark.parametrize("opens", [b":", b"\x10", b"?"], ids=["colon", "ctrl+p", "help"])
def test_a_burst_through_the_list_of_actions_acts_in_its_order(tmp_path: Path, opens: bytes) -> None:
    path = tmp_path / "a.toml"
    path.write_text(ONE, "utf-8")
    with Terminal(path) as terminal:
        terminal.read_until(b"quit")
        os.write(
            terminal.fd,
            DOWN + opens + b"edx" + BACK + b"it" + ENTER + 4 * BACK + b"25" + ENTER  # chosen, and typed on in the field
            + opens + b"qu\x1bz" + opens + b"zoom" + ENTER + opens + b"quit" + ENTER,
        )  # fmt: skip
        assert terminal.end() == 0
    beer = Store.open(path).session.beer
    assert beer is not None
    assert beer.volume_l == 25.0


@pytest.mark.slow
def test_a_burst_on_the_home_screen_acts_in_its_order(tmp_path: Path) -> None:
    path = tmp_path / "a.toml"
    path.write_text(ONE, "utf-8")
    with Terminal(tmp_path) as terminal:
        assert b"Alder" in terminal.read_until(b"quit") + terminal.read_until(b"Alder")
        os.write(
            terminal.fd,
            b"nzz" + ENTER + b"q/ald" + ENTER + ENTER + DOWN + ENTER + 4 * BACK + b"25" + ENTER + b"q/z\x1bq",
        )
        assert terminal.end() == 0
    assert (tmp_path / "zz.toml").exists()
    beer = Store.open(path).session.beer
    assert beer is not None
    assert beer.volume_l == 25.0
