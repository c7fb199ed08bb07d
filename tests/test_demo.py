"""The demo batches are right, current, and say what they mean to teach."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from workbench import demo
from workbench.plan.clock import due, live
from workbench.plan.derive import derive
from workbench.session.load import parsed
from workbench.session.read import read
from workbench.units.mark import Mark

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


@pytest.mark.parametrize("name", [name for name in demo.names() if name != demo.DEFAULT])
def test_a_scratch_copy_is_about_to_happen(name: str) -> None:
    path = demo.scratch_copy(name, NOW, UTC)
    outcome = read(parsed(path.read_bytes(), name).data, path.read_text(encoding="utf-8"))
    plan = derive(outcome.session, NOW)
    first = plan.moments[0].at
    assert timedelta(0) < first - NOW < timedelta(days=3)


def test_the_usual_one_is_in_the_middle_of_its_day() -> None:
    path = demo.scratch_copy(demo.DEFAULT, NOW, UTC)
    outcome = read(parsed(path.read_bytes(), "demo").data, path.read_text(encoding="utf-8"))
    plan = derive(outcome.session, NOW)
    assert plan.clock is not None
    now = live(plan.clock, Mark(NOW))
    assert now.boil == "done"
    assert now.wort_c is not None
    assert 21.0 < now.wort_c < 45.0
    cool = plan.clock.cool
    assert cool is not None
    assert cool.eta_at is not None
    assert timedelta(0) < cool.eta_at - NOW < timedelta(minutes=30)
    assert plan.next is not None
    assert timedelta(0) < plan.next.at - NOW < timedelta(minutes=30)
    assert sum(moment.done for moment in plan.moments) >= 6
    assert not due(plan.clock, Mark(NOW))  # nothing rings as it opens
    assert timedelta(hours=12) < plan.moments[-1].at - NOW < timedelta(hours=48)


@pytest.mark.parametrize("hour", range(0, 24, 3))
def test_at_any_hour_its_last_stamp_is_a_minute_ago(hour: int) -> None:
    now, zone = NOW.replace(hour=hour), ZoneInfo("Europe/Berlin")  # the clocks go forward that night
    text = demo.shifted((FOLDER / f"{demo.DEFAULT}.toml").read_text(encoding="utf-8"), now, zone)
    session = read(parsed(text.encode(), "demo").data, text).session
    stamps = [reading.at for reading in session.reading] + [event.at for event in session.event]
    assert now - max(at for at in stamps if at) == timedelta(minutes=1)
    assert session.yeast[0].made_on is not None
    assert 20 <= (now.date() - session.yeast[0].made_on).days <= 30


def test_moving_keeps_the_hour_and_takes_the_local_offset() -> None:
    text = "made_on = 2026-10-19\npitch_at = 2026-11-28T15:00:00+01:00\n"
    # two days on lies Europe's change to summer time, 28 March 2027
    moved = demo.shifted(text, NOW, ZoneInfo("Europe/Berlin"))
    assert moved == "made_on = 2027-02-17\npitch_at = 2027-03-29T15:00:00+02:00\n"
