"""Every pane at every width, for full, empty and troubled sessions: no line is wider than its place."""

from __future__ import annotations

import pytest

from tests.panes.scenes import AMBER, COUNTED, EMPTY, ONE, READING, TWO, scene
from workbench.panes import clock, day, doses, steps, wort, yeast
from workbench.panes.glyphs import ASCII, FULL
from workbench.panes.rows import Row, draw, stops
from workbench.panes.spans import width

PANES = (yeast, wort, steps, doses, clock, day)
ODD_NAME = AMBER.replace("Alder Lane Amber", "酵母 \\u001b[31m " + "long " * 20)
OVERFULL = ONE.replace("1.6 L", "9 L") + '[keep]\nvolume = "0.5 L"\n[[step]]\n'
SESSIONS = {
    "empty": EMPTY,
    "amber": AMBER,
    "two": TWO + READING,
    "odd": ODD_NAME,
    "overfull": OVERFULL,
    "counted": COUNTED,
    "badly counted": COUNTED.replace("33 38", "3 78 " + "400 " * 100).replace("14", "400").replace("40\n", "1e9\n"),
}


@pytest.mark.parametrize("text", SESSIONS.values(), ids=SESSIONS.keys())
@pytest.mark.parametrize("pane", PANES)
def test_no_line_is_wider_than_its_place(pane: object, text: str) -> None:
    for step in (0, 1):
        for glyphs in (FULL, ASCII):
            shown = scene(text, step=step)._replace(glyphs=glyphs)
            for cells in (33, 34, 47, 80, 100):
                rows: list[Row] = pane.rows(shown, cells)  # type: ignore[attr-defined]
                for row in rows:
                    for lit in (False, True):
                        line = draw(row, cells, glyphs, lit=lit)
                        assert width(line) <= cells
                        assert all(sign.isprintable() for part, _ in line for sign in part)


@pytest.mark.parametrize("text", SESSIONS.values(), ids=SESSIONS.keys())
@pytest.mark.parametrize("pane", PANES)
def test_every_stop_has_a_name_of_its_own(pane: object, text: str) -> None:
    rows: list[Row] = pane.rows(scene(text), 47)  # type: ignore[attr-defined]
    ids = [rows[i].id for i in stops(rows)]
    assert len(ids) == len(set(ids))
