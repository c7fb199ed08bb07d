"""The page of reasons: every stop of every pane has one, in any set of signs and at the width of a narrow pane."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.panes.scenes import AMBER, CET, EMPTY, ONE, READING, TWO, plan
from tests.screens.desks import desk_on, do
from workbench.data import folder
from workbench.panes.glyphs import ASCII, FULL
from workbench.panes.rows import Row, Scene, stops
from workbench.panes.spans import width
from workbench.plan.model import Figure, Reason
from workbench.plan.sources import RECKONED
from workbench.screens.keys import PANES
from workbench.screens.pages import why_lines

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from workbench.screens.desk import Desk

NARROW = 34
STATUSES = (
    "published", "read as others quote it", "computed here", "from memory, not verified", "common practice, no source",
    "recommended by this program", "as you typed it", "not typed yet",
)  # fmt: skip
LOTS = """
[[yeast]]
kind = "dry"
made_on = 2026-03-01
mass = "11.5 g"
[[yeast]]
kind = "slurry"
made_on = 2026-11-10
volume = "150 mL"
[[yeast]]
kind = "kept"
made_on = 2026-11-01
cells = "60 B"
volume = "0.3 L"
[[yeast]]
kind = "counted"
made_on = 2026-11-20
[[yeast]]
"""
SESSIONS = {
    **{path.stem: path.read_text("utf-8") for path in sorted(folder("demo").glob("*.toml"))},
    "empty": EMPTY,
    "feedings proposed": AMBER.replace("23 L", "46 L"),
    "no feeding": AMBER + LOTS,
    "two feedings, a reading, part kept": TWO + READING + '[keep]\nvolume = "0.2 L"\n',
    "for the shelf": EMPTY + '[keep]\ncells = "60 B"\n[[step]]\n',
}


def page_of(desk: Desk, cells: int = 80) -> str:
    assert desk.page is not None, desk.said
    return "\n".join("".join(text for text, _ in line) for line in desk.page.lines(cells))


def pages(desk: Desk, cells: int = 80) -> Iterator[tuple[Row, str]]:
    """Every stop with its page, pane by pane."""
    for desk.pane in range(len(PANES)):
        for index in stops(desk.rows(desk.pane)):
            row = desk.rows(desk.pane)[index]
            desk.put(row.id)
            do(desk, "why")
            yield row, page_of(desk, cells)
            desk.page = None


@pytest.mark.parametrize("text", SESSIONS.values(), ids=SESSIONS)
def test_every_stop_says_why_and_by_whose_word(tmp_path: Path, text: str) -> None:
    desk = desk_on(tmp_path / "a.toml", text)
    seen = 0
    for row, page in pages(desk, 400):
        assert "\n source\n" in page, row.id
        assert any(f"({status})" in page for status in STATUSES), row.id
        if row.figure is not None:
            assert row.figure.why.says in page, row.id
        if row.key and desk.plan.session.is_given(row.key):
            assert "\n typed\n" in page, row.id
            assert "\n may be\n" in page, row.id
        seen += 1
    assert seen >= 15


@pytest.mark.parametrize("text", SESSIONS.values(), ids=SESSIONS)
def test_a_page_fits_a_narrow_pane_in_plain_ascii(tmp_path: Path, text: str) -> None:
    desk = desk_on(tmp_path / "a.toml", text)
    desk.glyphs = ASCII
    for row, page in pages(desk, NARROW):
        assert page.isascii(), row.id
        assert max(map(len, page.splitlines())) <= NARROW, (row.id, page)


def test_a_way_says_why(tmp_path: Path) -> None:
    desk = desk_on(tmp_path / "a.toml", AMBER)
    do(desk, "pane-3", "plan", "why")
    assert desk.ways
    assert desk.ways[0].plan.final.pitched_b.why.says in page_of(desk, 400)
    assert page_of(desk).splitlines()[0].strip() == desk.ways[0].option.says


def test_a_proposed_feeding_is_the_planners(tmp_path: Path) -> None:
    page = why(desk_on(tmp_path / "a.toml", AMBER), 2, "step.0.wort", 200)
    assert "as the planner proposes" in page
    assert "typed\n" not in page


def why(desk: Desk, pane: int, row_id: str, cells: int = 80) -> str:
    desk.pane = pane
    desk.put(row_id)
    return page_of(do(desk, "why"), cells)


def test_what_was_typed_stands_there_letter_for_letter(tmp_path: Path) -> None:
    odd = ONE.replace('"23 L"', '"23,0  litres"').replace('"1.056"', '"13.8 °P"')
    desk = desk_on(tmp_path / "a.toml", odd)
    assert ' typed\n "23,0 litres"' in why(desk, 0, "beer.volume").replace("  ", " ")
    desk.page = None
    page = why(desk, 0, "beer.gravity")
    assert ' typed\n "13.8 °P"' in page
    assert "original gravity" in page
    assert " may be\n 0 to 35 °P" in page
    assert "as you typed it" in page


def test_a_value_left_out_says_what_stands_in_for_it(tmp_path: Path) -> None:
    page = why(desk_on(tmp_path / "a.toml", ONE), 3, "flask.fill_limit", 200)
    assert "typed\n" not in page
    assert "Left out: 90 % of 3.00 L while growing, with foam control = 2.70 L" in page
    assert "common practice, no source" in page


def test_a_row_of_two_minds_tells_of_the_key_and_of_the_figure(tmp_path: Path) -> None:
    page = why(desk_on(tmp_path / "a.toml", ONE + 'hours = "30 h"\n'), 2, "step.0.hours", 200)
    assert "how long it grows" in page
    assert "= 21.4 h" in page
    assert " may be\n above 0" in page
    assert " holds for\n 4 to 34 °C" in page


def test_a_range_stands_behind_the_amount_that_it_is_of(tmp_path: Path) -> None:
    page = why(desk_on(tmp_path / "a.toml", SESSIONS["two feedings, a reading, part kept"]), 2, "keep.volume", 200)
    assert page.splitlines()[1] == " 200 mL, 23 B (16.5–31)"


def test_the_spread_is_shared_out_the_largest_part_first(tmp_path: Path) -> None:
    page = why(desk_on(tmp_path / "a.toml", ONE), 2, "final.pitched", NARROW)
    assert page.endswith(
        " share of the spread\n"
        " mostly: growth in the flask  81 %\n"
        "         time                 14 %\n"
        "         loss in store         5 %\n"
        "         cells when made       1 %"
    )
    assert "good odds of the full rate; a" in page


def page_with(figure: Figure, label: str = "x") -> list[str]:
    scene = Scene(plan(ONE), FULL, "metric", CET)
    lines = why_lines(Row(label, id="x", figure=figure), scene, NARROW)
    assert all(width(line) <= NARROW for line in lines)
    return ["".join(text for text, _ in line).rstrip() for line in lines]


@pytest.mark.parametrize(
    ("shares", "lines"),
    [
        ((), []),
        ((("loss in store", 1.0),), [" mostly: loss in store 100 %"]),
        (
            (("growth in the flask", 0.498), ("loss in store", 0.4), ("time", 0.1), ("cells when made", 0.002)),
            [
                " most:   growth in the flask  50 %",
                "         loss in store        40 %",
                "         time                 10 %",
                "         cells when made      <1 %",
            ],
        ),
    ],
)
def test_lines_of_a_spread(shares: tuple[tuple[str, float], ...], lines: list[str]) -> None:
    shown = page_with(Figure(1.0, "B", Reason("because", RECKONED), 0.5, 2.0, shares))
    assert (shown[shown.index(" share of the spread") + 1 :] if shares else []) == lines
    assert (" share of the spread" in shown) is bool(shares)


def test_an_hour_of_day_has_a_reason_without_a_number() -> None:
    says = "Sat 15:00 - 22 h of growth = Fri 17:00"
    lines = page_with(Figure(None, "", Reason(says, RECKONED)), "yeast in")
    assert lines[:4] == [" yeast in", "", " Sat 15:00 - 22 h of growth = Fri", " 17:00"]


def test_a_row_without_anything_to_say_says_so(tmp_path: Path) -> None:
    desk = desk_on(tmp_path / "a.toml", EMPTY)
    desk.pane = 4  # nothing to time yet, and nothing to stop on
    do(desk, "why")
    assert desk.page is None
    assert desk.said == "nothing to explain here"
