"""The rows of the home screen: whole in any width and set of signs, the first thing to do on top."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from tests.panes.scenes import AMBER, CET, EMPTY, NOW, ONE, TWO, plan
from workbench.panes.batches import DETAILS, Listed, View, details, following, heading, nothing_yet, row
from workbench.panes.glyphs import ASCII, CONSOLE, FULL
from workbench.panes.spans import Spans, width
from workbench.plan.summary import Summary, summary

FED = '[[event]]\nat = 2026-11-26T05:10:00Z\nstep = 1\nwhat = "yeast-in"\n'
COLD = '[[event]]\nat = 2026-11-26T06:10:00Z\nstep = 1\nwhat = "chill-on"\n'
VIEW = View(NOW, FULL, CET)


def item(text: str, file: str = "a.toml") -> Listed:
    return Listed(Path("/b") / file, summary(plan(text)))


AMBER_ITEM, FED_ITEM = item(ONE), item(ONE.replace("Alder Lane", "Mill Race") + FED)
ITEMS = [
    AMBER_ITEM,
    FED_ITEM,
    item(ONE + FED + COLD),
    item(ONE.replace("2026-11-28", "2025-11-28").replace("2026-10", "2025-10")),
    item(ONE.replace("1.6 L", "6 L").replace("Alder Lane Amber", "A name that is far too long for any column 麦" * 3)),
    item(EMPTY, "named-by-its-file.toml"),
    item(AMBER),
    item(TWO),
    Listed(Path("/b/broken.toml"), Summary(fault="line 3: beer.volume: \x1b[2J is no volume")),
]


def said(line: Spans) -> str:
    return "".join(text for text, _ in line)


def test_a_row_says_name_state_hour_and_task() -> None:
    told = ["Alder", "Lane", "Amber", "plan", "Sat", "15:00", "Fri", "15:45", "yeast", "out;", "warm,", "swell"]
    assert said(row(AMBER_ITEM, VIEW, 120)).split()[: len(told)] == told
    assert "growing 20 h 10 min" in said(row(FED_ITEM, VIEW, 80))
    assert "pitch" in said(heading(120))
    assert "pitch" not in said(heading(80))


@pytest.mark.parametrize("cells", [80, 100, 120, 200])
def test_columns_stand_under_their_heading(cells: int) -> None:
    head, line = said(heading(cells)), said(row(AMBER_ITEM, VIEW, cells))
    assert head.index("batch") == line.index("Alder")
    assert head.index("state") == line.index("plan")
    assert head.index("next") == line.index("Fri 15:45")


@pytest.mark.parametrize("cells", [40, 80, 120])
@pytest.mark.parametrize("glyphs", [FULL, CONSOLE, ASCII])
@pytest.mark.parametrize("number", range(len(ITEMS)))
def test_everything_fits_and_is_in_signs_the_terminal_has(number: int, glyphs: object, cells: int) -> None:
    view = VIEW._replace(glyphs=glyphs)
    lines = [row(ITEMS[number], view, cells, lit=lit) for lit in (True, False)]
    lines += details(ITEMS[number], view, cells)
    assert len(lines) <= DETAILS + 2
    for line in lines:
        assert width(line) <= cells
        assert said(line).isprintable()
        assert glyphs is not ASCII or said(line).isascii()


def test_the_first_thing_to_do_is_named_with_its_batch() -> None:
    line = following([AMBER_ITEM, FED_ITEM], VIEW, 120)
    assert said(line) == "NEXT Fri 15:45, in 1 d 07 h   Alder Lane Amber  yeast out; warm, swell as labelled"
    assert (
        said(following([AMBER_ITEM], VIEW, 70))
        == "NEXT Fri 15:45   Alder Lane Amber  yeast out; warm, swell as labelled"
    )
    long = AMBER_ITEM._replace(told=AMBER_ITEM.told._replace(name="Amber " * 14))
    short_of_room = said(following([long], VIEW, 78))
    assert short_of_room.endswith("Amber…  yeast out; warm, swell as labelled")
    assert len(short_of_room) <= 78
    late = VIEW._replace(now=NOW + timedelta(days=1, hours=8))
    assert said(following([AMBER_ITEM], late, 120)).startswith("LATE Fri 15:45, 15 min ago   Alder")
    assert said(following([], VIEW, 120)) == "nothing is waiting"


def test_below_stands_what_the_row_had_no_room_for() -> None:
    text = "\n".join(map(said, details(FED_ITEM, VIEW, 80)))
    assert "feeding 1 is growing, 20 h 10 min left; pitch Sat 15:00" in text
    assert "Thu 18:00, in 10 h 00 min: look and smell: does it work?" in text
    faulty = said(details(ITEMS[-1], VIEW, 80)[1])
    assert faulty.count(ITEMS[-1].path.name) == 1
    assert "is no volume" in said(details(ITEMS[-1], VIEW, 80)[2])
    assert "hurts no other batch" in said(details(ITEMS[-1], VIEW, 80)[3])
    assert "set the hour" in said(details(ITEMS[5], VIEW, 80)[2])
    cold = "\n".join(map(said, details(ITEMS[2], VIEW, 80)))
    assert "feeding 1 stands cold, 23 h 10 min left of its rest" in cold


def test_what_was_put_aside_says_so_in_its_row_and_below() -> None:
    aside = Listed(Path("/b/a.mine.toml"), Summary("Alder", needs="was not taken into a.toml", aside="a.toml"))
    assert said(row(aside, VIEW, 80)).split() == ["Alder", "aside", "was", "not", "taken", "into", "a.toml"]
    assert "was not taken into a.toml" in "".join(map(said, details(aside, VIEW, 80)))


def test_where_there_is_nothing_it_says_what_to_press() -> None:
    text = "\n".join(map(said, nothing_yet("~/brewing", VIEW, 80, {"new": "f5", "tour": "i", "help": "?"})))
    assert "f5  makes one" in text
    assert "~/brewing" in text
