"""Invented sessions, derived at a fixed hour, for the panes to draw."""

from __future__ import annotations

import tomllib
from datetime import UTC, datetime, timedelta, timezone
from typing import TYPE_CHECKING

from workbench.panes.glyphs import FULL, Glyphs
from workbench.panes.rows import Row, Scene, draw
from workbench.plan.clock import live
from workbench.plan.derive import derive
from workbench.plan.habits import Habits
from workbench.screens.keys import ACTIONS
from workbench.session.read import read
from workbench.units.mark import Mark

if TYPE_CHECKING:
    from workbench.plan.model import Plan

CET = timezone(timedelta(hours=1))
NOW = datetime(2026, 11, 26, 7, 0, tzinfo=UTC)

EMPTY = "format = 1\n"
AMBER = """\
format = 1
[batch]
name = "Alder Lane Amber"
pitch_at = 2026-11-28T15:00:00+01:00
[beer]
volume = "23 L"
gravity = "1.056"
[[yeast]]
kind = "pack"
made_on = 2026-10-19
cells = "100 B"
[flask]
size = "3 L"
"""
COUNTED = (
    AMBER[: AMBER.index("[[yeast]]")]
    + """\
[[yeast]]
kind = "counted"
made_on = 2026-11-20
squares = "33 38 31 41 32"
square = "0.004 µL"
dilution = 40
stained = 14
volume = "200 mL"
"""
)
ONE = AMBER + '[[step]]\nwort = "1.6 L"\n'
TWO = AMBER + '[[step]]\nwort = "0.6 L"\n[[step]]\nwort = "1.6 L"\nmotion = "swirled"\n'
READING = (
    '[[reading]]\nat = 2026-11-26T06:30:00Z\nstep = 1\nkind = "gravity"\nvalue = "1.0335"\ntemperature = "24 °C"\n'
)


def plan(text: str) -> Plan:
    outcome = read(tomllib.loads(text), text)
    assert not outcome.faults
    return derive(outcome.session, NOW, Habits(tz=CET))


def scene(text: str, *, step: int = 0, glyphs: Glyphs = FULL, comma: bool = False) -> Scene:
    shown = plan(text)
    runs = None if shown.clock is None else live(shown.clock, Mark(NOW))
    return Scene(shown, glyphs, "metric", CET, step, comma, live=runs, keys={a.id: a.key for a in ACTIONS})


def text_of(rows: list[Row], cells: int, glyphs: Glyphs = FULL) -> str:
    return "\n".join("".join(text for text, _ in draw(row, cells, glyphs)).rstrip() for row in rows)


def row_of(rows: list[Row], row_id: str) -> Row:
    return next(row for row in rows if row.id == row_id)


def said(row: Row) -> str:
    return "".join(text for text, _ in row.spans)
