"""Keys sent all at once through a pty come to the same as those keys pressed one after the other."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import pytest
from textual import events

from tests.panes.scenes import ONE, TWO
from tests.screens.apps import app_on
from tests.screens.homes import home_on, settled
from tests.screens.terminals import Terminal
from workbench.screens.home import Home
from workbench.session.store import Store

if TYPE_CHECKING:
    from pathlib import Path

    from workbench.app import Workbench

SENT = {
    "down": "\x1b[B", "up": "\x1b[A", "left": "\x1b[D", "right": "\x1b[C", "home": "\x1b[H", "end": "\x1b[F",
    "enter": "\r", "backspace": "\x7f", "escape": "\x1b", "tab": "\t", "shift+tab": "\x1b[Z", "space": " ",
}  # fmt: skip
ERASE = "backspace " * 4
BENCH = {
    "values typed, taken back, made again": f"down enter {ERASE}2 5 enter enter home 1 right backspace enter u u U"
    f" enter {ERASE}4 2 space L enter down enter {ERASE}4 1 enter up enter {ERASE}a b enter {ERASE}2 7 enter",
    "feedings added and taken out, panes gone through": f"3 + + x enter {ERASE}0 . 7 enter tab tab shift+tab shift+tab"
    f" tab 2 enter {ERASE}1 . 2 enter 1 down enter {ERASE}2 4 enter 6 2 + x 3 down down x > [ ] x u",
    "lines and pages left by Esc": f"down enter {ERASE}2 5 escape 3 enter {ERASE}1 . 1 l enter escape 1 enter 9 escape"
    f" enter {ERASE}2 6 enter enter 9 escape u + escape escape w escape ? escape down z escape up enter {ERASE}2 8"
    " enter u U",
    "pasted": f"down enter {ERASE}<25.5> enter <x> down enter {ERASE}backspace <1.048\n> enter <q> up enter <9> escape"
    " u",
}
HOME = {
    "made, found, opened": f"n z z enter / a l d enter enter down enter {ERASE}2 5 enter q / z escape n <new one>"
    " enter",
    "opened, left by Esc, copied": f"enter down enter {ERASE}1 9 enter escape c c c enter / c c enter enter enter 1"
    " escape",
    "put away, brought back, renamed": "n a b enter escape / a b enter a u escape R c d enter",
}


def pressed(keys: str) -> list[str]:
    """The names of the keys, and between <> what is pasted in one piece."""
    names, text = [], keys
    while text := text.lstrip(" "):
        end = text.index(">") + 1 if text[0] == "<" and ">" in text and text[1:2] != " " else text.find(" ")
        end = len(text) if end < 1 else end
        names.append(text[:end])
        text = text[end:]
    return names


def as_sent(keys: str) -> bytes:
    sent = [
        f"\x1b[200~{key[1:-1]}\x1b[201~" if key[1:] and key[0] == "<" else SENT.get(key, key) for key in pressed(keys)
    ]
    return "".join(sent).encode()


async def one_by_one(app: Workbench, keys: str) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        if isinstance(app.screen, Home):
            await settled(pilot)
        for key in pressed(f"{keys} escape"):
            if key[1:] and key[0] == "<":
                app.post_message(events.Paste(key[1:-1]))
                await pilot.pause()
            else:
                await pilot.press(key)


def files(folder: Path) -> dict[str, str]:
    return {path.name: path.read_text("utf-8") for path in folder.glob("**/*.toml")}


@pytest.mark.slow
@pytest.mark.parametrize(
    ("keys", "wanted"), zip(BENCH.values(), ("27 L", "0.7 L", "1.1", "25.5 L"), strict=True), ids=BENCH
)
async def test_a_burst_is_as_if_typed_slowly(tmp_path: Path, keys: str, wanted: str) -> None:
    slow, quick = tmp_path / "slow", tmp_path / "quick"
    slow.mkdir()
    quick.mkdir()
    await one_by_one(app_on(slow / "a.toml", TWO), keys)
    (quick / "a.toml").write_text(TWO, "utf-8")
    with Terminal(quick / "a.toml") as terminal:
        assert b"Yeast" in terminal.read_until(b"quit")
        os.write(terminal.fd, as_sent(f"{keys} escape q q"))
        assert terminal.end() == 0
    assert files(quick) == files(slow)
    assert wanted in files(quick)["a.toml"]


@pytest.mark.slow
@pytest.mark.parametrize("opens", [b":", b"\x10", b"?"], ids=["colon", "ctrl+p", "help"])
def test_a_burst_through_the_list_of_actions_acts_in_its_order(tmp_path: Path, opens: bytes) -> None:
    path = tmp_path / "a.toml"
    path.write_text(ONE, "utf-8")
    with Terminal(path) as terminal:
        terminal.read_until(b"quit")
        os.write(
            terminal.fd,
            as_sent("down") + opens + as_sent(f"e d x backspace i t enter {ERASE}2 5 enter")  # chosen, and typed on
            + opens + as_sent("q u escape z") + opens + as_sent("z o o m enter") + opens + as_sent("q u i t enter"),
        )  # fmt: skip
        assert terminal.end() == 0
    beer = Store.open(path).session.beer
    assert beer is not None
    assert beer.volume_l == 25.0


@pytest.mark.slow
@pytest.mark.parametrize(
    ("keys", "wanted"), zip(HOME.values(), ("new-one.toml", "cc.toml", "abcd.toml"), strict=True), ids=HOME
)
async def test_a_burst_on_the_home_screen_is_as_if_typed_slowly(tmp_path: Path, keys: str, wanted: str) -> None:
    slow, quick = tmp_path / "slow", tmp_path / "quick"
    for folder in (slow, quick):
        folder.mkdir()
        (folder / "a.toml").write_text(ONE, "utf-8")
    await one_by_one(home_on(slow), keys)
    with Terminal(quick) as terminal:
        assert b"Alder" in terminal.read_until(b"quit") + terminal.read_until(b"Alder")
        os.write(terminal.fd, as_sent(f"{keys} escape q q"))
        assert terminal.end() == 0
    assert files(quick) == files(slow)
    assert wanted in files(quick)


@pytest.mark.slow
def test_keys_that_are_no_utf_8_end_nothing(tmp_path: Path) -> None:
    (tmp_path / "a.toml").write_text(ONE, "utf-8")
    with Terminal(tmp_path / "a.toml") as terminal:
        terminal.read_until(b"quit")
        os.write(terminal.fd, b"\xe9\xff" + as_sent(f"down enter {ERASE}") + b"\xe92\xe95")
        assert b"25" in terminal.answer().replace(b"\xef\xbf\xbd", b"")
        os.write(terminal.fd, as_sent("escape q"))
        assert terminal.end() == 0
