"""How fast and how light it is, as a table: `python -m tests.speed`. Nothing here is a test: it measures this machine.

Every program runs in a pseudo-terminal of its own, with its bytecode compiled as after any first start.
"""

from __future__ import annotations

import argparse
import os
import statistics
import tempfile
from itertools import chain, starmap
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from tests.speed import measures
from tests.test_listing import generated
from workbench import demo

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from tests.speed.rig import Answer, Start

SIZES = ((80, 24), (120, 40))
PROPOSED = "mill-race-porter"  # its feedings are proposed anew with every edit


class Line(NamedTuple):
    """What was measured at each size, and the most that it may be; None: told for what it is worth."""

    what: str
    values: tuple[float, ...]
    budgets: tuple[float | None, ...]
    form: str


def main() -> None:
    """Measure, and print the table."""
    asked = argparse.ArgumentParser(prog="python -m tests.speed", description=__doc__.partition("\n")[0])
    asked.add_argument("--runs", type=int, default=9, help="starts of each program at each size (9)")
    runs = asked.parse_args().runs
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch)
        os.environ |= {
            "TMPDIR": scratch,
            "WORKBENCH_CACHE": str(folder / "cache"),
            "WORKBENCH_CONFIG": str(folder / "settings.toml"),
        }
        tempfile.tempdir = scratch
        (folder / "settings.toml").touch()  # else the first start would ask for them
        home = measures.folder_of_demos(folder / "batches")
        measures.seconds_of(["-m", "workbench", "list", "--folder", str(home)], 1)  # which makes the index
        for line in chain(_starts(runs, home), _keys(), _rests(home), _commands(runs, folder)):
            print(_printed(line), flush=True)


def _printed(line: Line) -> str:
    """A row of the table, each figure with its verdict."""
    cells = []
    for value, budget in zip(line.values, line.budgets, strict=True):
        verdict = "" if budget is None else " ok" if value <= budget else " OVER"
        cells.append(f"{value:{line.form}}{verdict}")
    limits = [f"{budget:{line.form}}" for budget in dict.fromkeys(line.budgets) if budget is not None]
    return f"| {line.what} | {' | '.join([*cells, *[''] * (2 - len(cells))])} | {' / '.join(limits)} |"


def _both(what: str, each: Callable[[int], float], *budgets: float | None, form: str = ",.0f") -> Line:
    """A line with a figure for each size; one budget holds at both."""
    return Line(what, tuple(each(at) for at in range(len(SIZES))), (budgets * 2)[: len(SIZES)], form)


def _starts(runs: int, home: Path) -> Iterator[Line]:
    found = [measures.starts(size, runs, home) for size in SIZES]

    def median(name: str, figure: Callable[[Start, Start], float]) -> Callable[[int], float]:
        return lambda at: statistics.median(starmap(figure, zip(found[at][name], found[at]["bare"], strict=True)))

    print("| | 80×24 | 120×40 | budget |\n| --- | ---: | ---: | ---: |")
    yield _both("bare app ready, ms", median("bare", lambda it, _: it.ready_ms), None)
    for name, called in (("batch", "a batch"), ("home", "home screen")):
        yield _both(f"{called}: first sign of life, ms", median(name, lambda it, _: it.sign_ms), 50)
        ratio = median(name, lambda it, bare: it.ready_ms / bare.ready_ms)
        yield _both(f"{called}: ready ÷ bare", ratio, 1.5, form=".2f")
        yield _both(f"{called}: bytes to start", median(name, lambda it, _: it.sent), 6144, 16384)
        ratio = median(name, lambda it, bare: it.memory_mib / bare.memory_mib)
        yield _both(f"{called}: memory ÷ bare", ratio, 1.25, form=".2f")


def _keys() -> Iterator[Line]:
    found = [[measures.keys(size, name) for name in demo.names()] for size in SIZES]
    planned = demo.names().index(PROPOSED)

    def most(kind: str, figure: str, names: list[int]) -> Callable[[int], float]:
        """The worst answer to a key of this kind; of its milliseconds the median."""
        gathered = statistics.median if figure == "ms" else max

        def value(at: int) -> float:
            answers: list[Answer] = [answer for name in names for answer in getattr(found[at][name], kind)]
            return gathered(getattr(answer, figure) for answer in answers)

        return value

    every, others = list(range(len(demo.names()))), [n for n in range(len(demo.names())) if n != planned]
    yield _both("a move in a pane: bytes", most("moves", "sent", every), 400)
    yield _both("frames", most("moves", "frames", every), 1)
    yield _both("another pane: bytes", most("switches", "sent", every), 2560, 450)
    yield _both("frames", most("switches", "frames", every), 1)
    yield _both("a letter typed: bytes", most("letters", "sent", every), 200)
    yield _both("an edit: ms", most("edits", "ms", others), 25)
    yield _both("an edit: bytes", most("edits", "sent", others), 1536)
    # of another plan a wide screen shows so much more that it is measured only
    yield _both("an edit, feedings proposed anew: ms", most("edits", "ms", [planned]), 25, None)
    yield _both("an edit, feedings proposed anew: bytes", most("edits", "sent", [planned]), 1536, None)


def _rests(home: Path) -> Iterator[Line]:
    found = [measures.rests(size, home) for size in SIZES]
    for name, called, budget in (("batch", "a batch", 0), ("home", "home screen", 0), ("boil", "a boil running", 200)):
        yield _both(f"{called}, left alone: bytes a second", lambda at, name=name: found[at][name].sent, budget)
        yield _both("% of a processor", lambda at, name=name: found[at][name].processor, 0.5, form=".2f")


def _commands(runs: int, folder: Path) -> Iterator[Line]:
    generated(folder / "thousand", 1000)
    batch = str(folder / "batches" / f"{PROPOSED}.toml")
    for called, words, budget in (
        ("`--help`, s", ["--help"], None),
        ("`sheet`, s", ["sheet", batch], None),
        ("`list` of 1,000 batches once indexed, s", ["list", "--folder", str(folder / "thousand")], 0.3),
    ):
        yield Line(called, (measures.seconds_of(["-m", "workbench", *words], runs),), (budget,), ".2f")


if __name__ == "__main__":
    main()
