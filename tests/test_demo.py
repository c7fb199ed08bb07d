"""The demo batches are right, current, and say what they mean to teach."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from workbench import demo
from workbench.plan.derive import derive
from workbench.session.load import parsed
from workbench.session.read import read

NOW = datetime(2027, 3, 27, 9, 30, tzinfo=UTC)
FOLDER = Path(__file__).parent.parent / "demo"


def test_there_are_three_at_least() -> None:
    assert {"alder-lane-amber", "long-night-barley-wine", "quarry-lager"} <= set(demo.names())


@pytest.mark.parametrize("name", demo.names())
def test_a_demo_has_no_fault_and_a_plan_that_works(name: str) -> None:
    text = demo.shifted((FOLDER / f"{name}.toml").read_text(encoding="utf-8"), NOW, UTC)
    outcome = read(parsed(text.encode(), name).data, text)
    assert outcome.faults == ()
    assert outcome.notes == ()
    plan = derive(outcome.session, NOW)
    assert plan.starter_needed is True
    assert plan.final.meets_need is True
    assert all(step.fill_fits and step.boil_fits is not False for step in plan.steps)
    assert not [w for w in plan.warnings if w.level == "danger"]


@pytest.mark.parametrize("name", demo.names())
def test_a_scratch_copy_is_about_to_happen(name: str) -> None:
    path = demo.scratch_copy(name, NOW, UTC)
    outcome = read(parsed(path.read_bytes(), name).data, path.read_text(encoding="utf-8"))
    plan = derive(outcome.session, NOW)
    first = plan.moments[0].at
    assert timedelta(0) < first - NOW < timedelta(days=3)


def test_moving_keeps_the_hour_and_takes_the_local_offset() -> None:
    text = "made_on = 2026-10-19\npitch_at = 2026-11-28T15:00:00+01:00\n"
    # two days on lies Europe's change to summer time, 28 March 2027
    moved = demo.shifted(text, NOW, ZoneInfo("Europe/Berlin"))
    assert moved == "made_on = 2027-02-17\npitch_at = 2027-03-29T15:00:00+02:00\n"
