"""The table, held against RFC 4180 (October 2005) and read back by Python's csv; its figures against those of JSON."""

from __future__ import annotations

import csv
import io
import tomllib
from datetime import datetime
from typing import TYPE_CHECKING

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from tests.examples import at_most
from tests.panes.scenes import AMBER, CET, NOW, ONE, TWO
from workbench import data
from workbench.plan.derive import derive
from workbench.plan.export import as_data
from workbench.plan.habits import Habits
from workbench.session.read import read
from workbench.table import HEADER, lines
from workbench.units.plainly import harmless

if TYPE_CHECKING:
    from workbench.plan.model import Plan

HABITS = Habits(tz=CET)
DEMOS = [path.read_text(encoding="utf-8") for path in sorted(data.folder("demo").glob("*.toml"))]
DONE = """
[[event]]
at = 2026-11-27T15:02:00Z
step = 1
what = "boil-on"
[[event]]
at = 2026-11-27T15:14:00Z
step = 1
what = "boil-done"
[[reading]]
at = 2026-11-27T15:40:00Z
step = 1
kind = "gravity"
value = "1.0360"
temperature = "20 °C"
[[reading]]
at = 2026-11-27T15:41:00Z
step = 1
kind = "volume"
value = "1.55 L"
[[event]]
at = 2026-11-27T16:00:00Z
step = 1
what = "yeast-in"
[[reading]]
at = 2026-11-28T13:00:00Z
step = 1
kind = "count"
value = "251 B"
[[event]]
at = 2026-11-28T14:05:00Z
what = "pitched"
"""
SOME = [ONE, TWO, AMBER, ONE + DONE, *DEMOS]


def plan_of(text: str) -> Plan:
    outcome = read(tomllib.loads(text), text)
    assert not outcome.faults
    return derive(outcome.session, NOW, HABITS)


def written(text: str, file: str = "amber.toml") -> str:
    out = io.StringIO(newline="")
    table = csv.writer(out)
    table.writerow(HEADER)
    table.writerows(lines(plan_of(text), file, HABITS))
    return out.getvalue()


def back(text: str, file: str = "amber.toml") -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(written(text, file), newline=""), strict=True))


def fields(record: str) -> list[str]:
    """One record by the grammar of RFC 4180 §2: escaped = DQUOTE *(TEXTDATA / COMMA / CR / LF / 2DQUOTE) DQUOTE."""
    found, rest = [], record
    while True:
        if rest.startswith('"'):
            end = 1 + rest[1:].replace('""', "\0\0").index('"')
            found.append(rest[1:end].replace('""', '"'))
            rest = rest[end + 1 :]
        else:
            plain, comma, after = rest.partition(",")
            assert '"' not in plain
            found.append(plain)
            rest = comma + after
        if not rest:
            return found
        assert rest[0] == ","
        rest = rest[1:]


@pytest.mark.parametrize("text", SOME, ids=range(len(SOME)))
def test_the_figures_are_those_of_the_sheet_as_json(text: str) -> None:
    told = as_data(plan_of(text))
    rows = back(text)
    assert [int(row["step"]) for row in rows] == list(range(1, len(told["steps"]) + 1))
    for row, step in zip(rows, told["steps"], strict=True):
        for key in ("wort_l", "gravity_sg", "powder_g", "water_l", "cells_in_b", "hours"):
            assert float(row[key]) == step[key]
        for key, value in step["cells_out_b"].items():
            assert float(row[f"cells_out_b_{key}"]) == value
        assert (row["start"], row["end"]) == (step["start"], step["end"])
        assert float(row["pitched_b"]) == told["final"]["pitched_b"]["likely"]
        assert float(row["chance"]) == told["final"]["chance"]
        assert float(row["need_b"]) == told["need"]["cells_b"]


def test_records_end_in_crlf_and_have_as_many_fields_as_the_header() -> None:
    text = written(TWO.replace("Alder Lane Amber", 'Amber, \\"the\\" first'))
    assert text.endswith("\r\n")  # §2.1
    header, *records = text.split("\r\n")[:-1]
    assert not any("\n" in record for record in records)
    assert header.split(",") == list(HEADER)  # §2.3
    assert [len(fields(record)) for record in records] == [len(HEADER)] * 2  # §2.4
    assert fields(records[0])[0] == 'Amber, "the" first'  # §2.6, §2.7


def test_what_was_measured_stands_beside_what_was_planned() -> None:
    (row,) = back(ONE + DONE)
    assert float(row["planned_gravity_sg"]) == pytest.approx(1.034, abs=1e-9)
    assert float(row["measured_gravity_sg"]) == pytest.approx(1.036, abs=1e-4)
    assert float(row["measured_wort_l"]) == 1.55
    assert float(row["measured_cells_b"]) == 251.0
    assert float(row["boiled_min"]) == 12.0
    assert datetime.fromisoformat(row["pitched_at"]) == datetime.fromisoformat("2026-11-28T14:05:00+00:00")


def test_what_was_not_measured_or_cannot_be_said_is_empty() -> None:
    (row,) = back(ONE)
    measured = ("measured_gravity_sg", "measured_wort_l", "measured_cells_b", "boiled_min", "pitched_at")
    assert [row[key] for key in measured] == [""] * 5
    (row,) = back('format = 1\n[[step]]\nwort = "1 L"\n')
    for key in ("cells_in_b", "cells_out_b_low", "cells_out_b_likely", "pitched_b", "chance", "need_b", "start"):
        assert row[key] == ""


def test_nothing_fed_is_no_line() -> None:
    assert back("format = 1\n") == []


@given(st.text(st.characters(), max_size=60))
@example("=1+1")
@example(" \t@SUM(A1)")
@example('-5 °C, "cold"')
@example("＝1")
@example("a\r\nb\x1b[2J")
@at_most(100)
def test_a_brewers_text_comes_back_and_is_never_a_formula(name: str) -> None:
    plan = plan_of(ONE)
    batch = plan.session.batch._replace(name=name)
    out = io.StringIO(newline="")
    csv.writer(out).writerows(lines(plan._replace(session=plan.session._replace(batch=batch)), name, HABITS))
    ((first, file, *_),) = csv.reader(io.StringIO(out.getvalue(), newline=""), strict=True)
    assert first == file
    assert first.removeprefix("'") == harmless(name).removeprefix("'")
    assert first.lstrip()[:1] not in {*"=+-@＝＋－＠"}
    assert fields(out.getvalue().removesuffix("\r\n"))[0] == first
