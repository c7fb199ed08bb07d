"""What is measured: starts beside a bare app's in the same run, keys, rest, commands. All by the real clock."""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import time
from datetime import UTC, datetime
from typing import TYPE_CHECKING, NamedTuple

from tests.panes.scenes import ONE
from tests.speed.rig import BARE, WORKBENCH, Timed
from workbench import demo

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

    from tests.speed.rig import Answer, Start

__all__ = ["Rest", "Worked", "folder_of_demos", "keys", "rests", "seconds_of", "starts"]

DOWN, UP, ENTER, TAB, ERASE = b"\x1b[B", b"\x1b[A", b"\r", b"\t", b"\x7f" * 8
_REST_S = 6.0


class Worked(NamedTuple):
    """The answers to every key of a kind."""

    moves: list[Answer]
    switches: list[Answer]
    letters: list[Answer]
    edits: list[Answer]


class Rest(NamedTuple):
    """Left alone: bytes a second and percent of a processor."""

    sent: float
    processor: float


def folder_of_demos(folder: Path) -> Path:
    """All demo batches, some days before they are pitched, in a new folder."""
    folder.mkdir()
    for name in demo.names():
        demo.scratch_copy(name, datetime.now(UTC)).replace(folder / f"{name}.toml")
    return folder


def starts(size: tuple[int, int], runs: int, home: Path) -> dict[str, list[Start]]:
    """A bare app, a batch and the home screen, one after the other, again and again; the first round is thrown away."""
    words = {"bare": BARE, "batch": [*WORKBENCH, "demo"], "home": [*WORKBENCH, "--folder", str(home)]}
    found: dict[str, list[Start]] = {name: [] for name in words}
    for _ in range(runs + 1):
        for name, command in words.items():
            with Timed(command, size) as program:
                found[name].append(program.start())
                _leave(program, b"\x11" if name == "bare" else b"q")
    return {name: every[1:] for name, every in found.items()}


def _leave(program: Timed, key: bytes = b"q") -> None:
    os.write(program.fd, key)
    program.end()


def keys(size: tuple[int, int], name: str) -> Worked:
    """Up and down a pane, through all panes and back, and volumes typed, on a demo batch."""
    with Timed([*WORKBENCH, "demo", name], size) as program:
        program.start()
        moves = [program.key(key) for key in [DOWN] * 4 + [UP] * 3]
        switches = [program.key(key) for key in [TAB] * 6 + [b"3", b"6", b"1"]]
        letters, edits = [], []
        for litres in (b"24", b"22", b"25", b"21", b"26"):  # of beer: need, wort, hours, doses, all of it changes
            program.key(ENTER)
            program.key(ERASE)
            letters += [program.key(litres[:1]), program.key(litres[1:])]
            edits.append(program.key(ENTER))
        _leave(program)
    return Worked(moves, switches, letters, edits)


def rests(size: tuple[int, int], home: Path) -> dict[str, Rest]:
    """A batch and the home screen left alone while no minute begins, and a batch whose boil runs."""
    found, boil = {}, home.parent / "boil.toml"
    boil.write_text(ONE, "utf-8")
    for name, words, first in (
        ("batch", ["demo"], b""),
        ("home", ["--folder", str(home)], b""),
        ("boil", [str(boil)], b"5b"),
    ):
        with Timed([*WORKBENCH, *words], size) as program:
            program.start()
            program.key(first)
            while not first and time.time() % 60.0 > 58.0 - _REST_S:
                time.sleep(0.1)
            found[name] = Rest(*program.rest(_REST_S))
            _leave(program)
    return found


def seconds_of(words: Iterable[str], runs: int) -> float:
    """Seconds that a command without a screen takes, Python's own start among them; the first run is thrown away."""
    taken = []
    for _ in range(runs + 1):
        began = time.perf_counter()
        subprocess.run([sys.executable, *words], check=True, stdout=subprocess.DEVNULL)
        taken.append(time.perf_counter() - began)
    return statistics.median(taken[1:])
