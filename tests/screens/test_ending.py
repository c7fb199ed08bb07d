"""Told to end, to stop, or left without a terminal: all is saved, and the terminal is as it was before."""

from __future__ import annotations

import os
import random
import shlex
import signal
import sys
import time
import tomllib
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from typing import TYPE_CHECKING

import pytest

from tests.panes.scenes import ONE
from tests.screens.terminals import PROGRAM, Terminal
from workbench.ending import SIGNALS
from workbench.session.saving import temporary_prefix
from workbench.session.store import Store

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

pytestmark = pytest.mark.slow
CHANGE = b"\x1b[B\r" + 4 * b"\x7f" + b"25\r"  # of the beer's volume
NEED = b"259"  # of so much beer
CTRL_Z, LEFT, ENTERED = b"\x1a", b"\x1b[?1049l", b"\x1b[?1049h"


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "a.toml"
    path.write_text(ONE, "utf-8")
    return path


def saved(path: Path) -> bool:
    return '"25 L"' in path.read_text("utf-8")


def change(terminal: Terminal) -> None:
    """Wait for the bench, and make a change that is not saved yet when this returns."""
    assert b"Yeast" in terminal.read_until(b"quit")
    os.write(terminal.fd, CHANGE)
    assert NEED in terminal.read_until(NEED)


@pytest.mark.parametrize("number", SIGNALS, ids=lambda number: number.name)
def test_a_signal_ends_it_in_order(path: Path, number: signal.Signals) -> None:
    with Terminal(path) as terminal:
        change(terminal)
        terminal.program.send_signal(number)
        assert terminal.end() == 128 + number
        assert saved(path)
        assert terminal.put_right


def test_a_batch_opened_from_the_home_screen_too(path: Path) -> None:
    with Terminal(path.parent) as terminal:
        terminal.read_until(b"quit")
        terminal.read_until(b"Alder")
        os.write(terminal.fd, b"\r")
        change(terminal)
        terminal.program.send_signal(signal.SIGTERM)
        assert terminal.end() == 143
        assert saved(path)
        assert terminal.put_right


@pytest.mark.parametrize("controlled", [True, False], ids=["told-by-the-kernel", "told-by-nobody"])
def test_a_terminal_that_goes_ends_it(path: Path, controlled: bool) -> None:
    with Terminal(path, controlled=controlled) as terminal:
        change(terminal)
        terminal.hang_up()
        assert terminal.program.wait(20) == 129
        assert saved(path)


def test_a_terminal_that_nobody_reads_is_left_all_the_same(path: Path) -> None:
    with Terminal(path) as terminal:
        change(terminal)
        unread = -1
        while unread < (unread := terminal.unread()):
            for _ in range(20):
                os.write(terminal.fd, b"\t")
                time.sleep(0.01)
        os.write(terminal.fd, b"\t" * 60)  # more than it lets wait to be written
        terminal.program.send_signal(signal.SIGTERM)
        assert terminal.program.wait(20) == 143
        assert saved(path)
        assert terminal.put_right


@contextmanager
def in_a_shell(path: Path, folder: Path) -> Iterator[Terminal]:
    """The bench as a brewer starts it in a shell, which says `ready>`."""
    program = folder / "program.py"
    program.write_text(PROGRAM, "utf-8")
    with Terminal(path, words=["setsid", "--ctty", "env", "PS1=ready>", "PYTHONPATH=.", "sh", "-i"]) as terminal:
        terminal.read_until(b"ready>")
        os.write(terminal.fd, f"{shlex.join([sys.executable, str(program), str(path)])}\n".encode())
        yield terminal


def test_ctrl_z_goes_to_the_shell_with_all_saved_and_fg_comes_back(path: Path, tmp_path: Path) -> None:
    with in_a_shell(path, tmp_path) as terminal:
        change(terminal)
        os.write(terminal.fd, CTRL_Z)
        assert LEFT in terminal.read_until(b"ready>")
        assert saved(path)
        os.write(terminal.fd, b"fg\n")
        assert ENTERED in terminal.read_until(b"Alder")
        terminal.answer()
        os.write(terminal.fd, b"q")
        assert LEFT in terminal.read_until(b"ready>")


def test_stopped_behind_a_shell_it_still_makes_room_for_who_takes_over(path: Path, tmp_path: Path) -> None:
    with in_a_shell(path, tmp_path) as terminal:
        change(terminal)
        os.write(terminal.fd, CTRL_Z)
        terminal.read_until(b"ready>")
        store, end = Store.open(path), time.monotonic() + 20.0
        assert store.sharing.take_over() == "asked to save and leave"
        while store.sharing.follows:
            assert time.monotonic() < end
            store.sharing.look()
            time.sleep(0.02)
        assert store.close()
        os.write(terminal.fd, b"wait %1; echo $?\n")
        assert b"143" in terminal.read_until(b"143")
    assert saved(path)


def test_without_a_shell_to_come_back_from_it_stays(path: Path) -> None:
    with Terminal(path) as terminal:
        change(terminal)
        os.write(terminal.fd, CTRL_Z)
        back = terminal.read_until(b"Alder")
        assert back.index(LEFT) < back.index(ENTERED)
        terminal.program.send_signal(signal.SIGSTOP)  # no program can hinder this
        terminal.program.send_signal(signal.SIGCONT)
        assert b"Alder" in terminal.read_until(b"Alder")
        terminal.answer()
        os.write(terminal.fd, b"q")
        assert terminal.end() == 0
        assert terminal.put_right


def killed(path: Path, seed: int) -> None:
    """Change the volume some times, then kill the program at any moment, or once all is on the disk."""
    chance = random.Random(seed)  # noqa: S311
    path.write_text(ONE, "utf-8")
    shown = [23]
    with Terminal(path) as terminal:
        terminal.read_until(b"quit")
        os.write(terminal.fd, b"\x1b[B")
        for _ in range(chance.randint(1, 4)):
            shown.append(shown[-1] + 1)
            os.write(terminal.fd, b"\r\x15%d\r" % shown[-1])
            assert b"%d" % shown[-1] in terminal.read_until(b"\xe2\x80\xa2  %d\x1b" % shown[-1])
            time.sleep(chance.choice([0.0, 0.1, 0.3]))
        if to_the_end := chance.random() < 0.5:
            end = time.monotonic() + 20.0
            while volume(path) != shown[-1] and time.monotonic() < end:
                time.sleep(0.01)
        terminal.program.kill()
        terminal.program.wait()
    assert volume(path) in (shown[-1:] if to_the_end else shown)
    ours = {path.name, f"{path.name}.bak", f".{path.name}.lock", f".{path.name}.line"}
    strays = {name.name for name in path.parent.iterdir()} - ours
    assert all(name.startswith(temporary_prefix(path)) for name in strays)


def volume(path: Path) -> int:
    """Of the beer; raises where the file is not whole."""
    return int(str(tomllib.loads(path.read_text("utf-8"))["beer"]["volume"]).split()[0])


def test_killed_at_any_moment_it_leaves_a_whole_file_with_what_was_shown(tmp_path: Path) -> None:
    folders = [tmp_path / str(n) for n in range(8)]
    for folder in folders:
        folder.mkdir()
    with ThreadPoolExecutor(4) as rounds:
        for done in [rounds.submit(killed, folder / "a.toml", n) for n, folder in enumerate(folders)]:
            done.result()
