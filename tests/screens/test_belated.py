"""The hour of a task that was not noted in time, typed afterwards: two days later, on a Saturday morning."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import TYPE_CHECKING

import pytest

from tests.panes.scenes import NOW, TWO
from tests.screens.clocks import FakeClock
from tests.screens.desks import desk_on, do, pane_text, write
from workbench.plan import happened
from workbench.screens.desk import DAY

if TYPE_CHECKING:
    from pathlib import Path

    from workbench.screens.desk import Desk

LATER = datetime(2026, 11, 28, 9, 0, tzinfo=UTC)  # Saturday, 10:00 there


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    desk = desk_on(tmp_path / "a.toml", TWO)
    desk.clock = FakeClock(NOW)
    desk.clock.go(hours=50)
    desk.recompute()
    desk.pane = DAY
    return desk


def test_what_was_not_noted_is_stamped_at_the_hour_typed(desk: Desk) -> None:
    desk.put("moment.1.start")
    do(desk, "edit")
    write(desk, "Thu 17:30")
    assert desk.said == "Thu 17:30 yeast in; u takes it back"
    assert happened.begun(desk.plan.session, 1) == datetime(2026, 11, 26, 16, 30, tzinfo=UTC)
    assert "17:30✓ yeast in" in pane_text(desk)


def test_what_was_noted_late_gets_its_own_hour(desk: Desk) -> None:
    do(desk, "begin")
    assert happened.begun(desk.plan.session, 1) == LATER
    desk.put("moment.1.start")
    do(desk, "edit")
    write(desk, "20 min ago")
    assert [event.what for event in desk.plan.session.event] == ["yeast-in"]
    assert happened.begun(desk.plan.session, 1) == datetime(2026, 11, 28, 8, 40, tzinfo=UTC)
    do(desk, "undo")
    assert happened.begun(desk.plan.session, 1) == LATER


@pytest.mark.parametrize(
    ("row", "typed", "right"),
    [
        ("moment.1.start", "12:30", "up to Fri 12:00"),  # feeding 2 has begun
        ("moment.2.start", "Thu 09:00", "from Thu 17:30 to Sat 10:00"),  # before feeding 1
        ("moment.0.pitch", "Fri 11:00", "from Fri 12:00 to Sat 10:00"),
    ],
)
def test_an_hour_stays_between_what_else_is_stamped(desk: Desk, row: str, typed: str, right: str) -> None:
    for stamped, at in (("moment.1.start", "Thu 17:30"), ("moment.2.start", "Fri 12:00")):
        desk.put(stamped)
        do(desk, "edit")
        write(desk, at)
    desk.put(row)
    do(desk, "edit")
    write(desk, typed)
    assert desk.entry is not None
    assert "does not go with what else is stamped" in desk.entry.error
    assert right in desk.entry.error


def test_other_tasks_have_no_hour_to_type(desk: Desk) -> None:
    desk.put("moment.1.weigh")
    do(desk, "edit")
    assert desk.entry is None
    assert "w tells why" in desk.said
