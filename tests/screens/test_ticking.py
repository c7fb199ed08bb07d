"""What time does by itself: the second hand, alarms given once, and what is asked when a batch is opened again."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.panes.scenes import CET, NOW, ONE
from tests.screens.clocks import FakeClock
from tests.screens.desks import desk_on, do, pane_text, write
from workbench.panes.glyphs import FULL
from workbench.screens import ticking
from workbench.screens.desk import CLOCK, Desk
from workbench.session.store import Store

if TYPE_CHECKING:
    from pathlib import Path


@pytest.fixture
def clock() -> FakeClock:
    return FakeClock(NOW)


@pytest.fixture
def desk(tmp_path: Path, clock: FakeClock) -> Desk:
    desk = desk_on(tmp_path / "a.toml", ONE)
    desk.clock = clock
    return desk


def opened_again(desk: Desk, clock: FakeClock) -> Desk:
    """The program was killed, and the batch is opened once more."""
    desk.store.close()
    again = Desk(Store.open(desk.store.path), clock, FULL, tz=CET)
    ticking.opened(again)
    return again


def given(desk: Desk) -> list[str]:
    return [event.task for event in desk.store.session.event if event.what == "rang"]


def test_a_running_boil_is_looked_at_each_second_and_nothing_running_each_minute(desk: Desk, clock: FakeClock) -> None:
    assert 59.0 < ticking.pause_s(desk) <= 61.0
    do(desk, "boil")
    clock.go(seconds=3.25)
    assert not ticking.tick(desk).rang
    assert ticking.pause_s(desk) == pytest.approx(0.77, abs=0.01)
    do(desk, "end", "temperature")
    write(desk, "2")
    assert ticking.pause_s(desk) <= 10.1


def test_the_second_hand_moves_without_a_new_plan(desk: Desk, clock: FakeClock) -> None:
    do(desk, "boil")
    plan = desk.plan
    clock.go(seconds=7)
    ticking.tick(desk)
    assert desk.plan is plan
    assert "10 min left" in pane_text(desk, CLOCK)
    clock.go(seconds=60)
    ticking.tick(desk)
    assert desk.plan is not plan  # a minute has begun


def test_alarms_ring_once_and_undo_goes_past_them(desk: Desk, clock: FakeClock) -> None:
    do(desk, "done", "boil")
    clock.go(minutes=9, seconds=1)
    assert ticking.tick(desk).rang
    assert desk.alarm == "a minute of the boil is left"
    assert not ticking.tick(desk).rang
    assert [name.split(".")[1] for name in given(desk)] == ["last-minute"]
    do(desk, "undo")  # the start of the boil, not the alarm
    assert [event.what for event in desk.store.session.event] == ["task-done"]


def test_after_an_undo_an_alarm_that_rang_does_not_ring_again(desk: Desk, clock: FakeClock) -> None:
    do(desk, "boil", "note")
    write(desk, "foams")
    clock.go(minutes=9, seconds=1)
    assert ticking.tick(desk).rang
    do(desk, "undo")
    assert not ticking.tick(desk).rang


def test_what_was_due_while_it_was_closed_is_told_once_with_its_hour(desk: Desk, clock: FakeClock) -> None:
    do(desk, "boil")
    clock.go(minutes=30)
    again = opened_again(desk, clock)
    assert again.alarm == "due meanwhile: 08:09 a minute of the boil is left; 08:10 boil done: heat off"
    third = opened_again(again, clock)
    assert third.alarm == ""


def test_an_alarm_stands_in_the_top_line_while_something_is_typed(desk: Desk, clock: FakeClock) -> None:
    do(desk, "boil", "note")
    clock.go(minutes=9, seconds=1)
    assert ticking.tick(desk).rang
    write(desk, "foams")
    assert desk.alarm == "a minute of the boil is left"
    do(desk, "down")
    assert desk.alarm == ""


def test_after_a_sleep_with_the_program_open_it_asks_too(desk: Desk, clock: FakeClock) -> None:
    do(desk, "boil")
    ticking.tick(desk)
    clock.go(hours=2)
    do(desk, "pane-5", "last")
    ticking.tick(desk)
    assert desk.asked
    row = desk.row()
    assert row is not None
    assert row.does == "boil-went-on"
    do(desk, "end")
    assert not desk.asked


def test_a_boil_begun_after_a_sleep_asks_nothing(desk: Desk, clock: FakeClock) -> None:
    ticking.tick(desk)
    clock.go(hours=2)
    do(desk, "boil")  # before anything has ticked since
    clock.go(seconds=1)
    ticking.tick(desk)
    assert not desk.asked


def test_coming_back_from_the_home_screen_asks_nothing(desk: Desk, clock: FakeClock) -> None:
    do(desk, "boil")
    desk.store.close()
    again = Desk(Store.open(desk.store.path), clock, FULL, tz=CET)
    ticking.opened(again, unseen=False)
    assert not again.asked


def test_reopened_during_a_boil_it_asks(desk: Desk, clock: FakeClock) -> None:
    do(desk, "boil")
    clock.go(minutes=4)
    again = opened_again(desk, clock)
    assert (again.pane, again.asked) == (CLOCK, True)
    assert "by the clock it has been 04:00" in pane_text(again)
    do(again, "edit")
    assert not again.asked
    assert again.live is not None
    assert again.live.boiled_s == 240.0


def test_the_heat_went_off_at_some_time(desk: Desk, clock: FakeClock) -> None:
    do(desk, "boil")
    clock.go(minutes=20)
    again = opened_again(desk, clock)
    again.put("boil-off-at")
    do(again, "edit")
    write(again, "07:00")
    assert again.entry is not None
    assert "not between 08:00 and now" in again.entry.error
    write(again, "08:06")
    assert (again.asked, again.entry) == (False, None)
    assert again.live is not None
    assert (again.live.boil, again.live.boiled_s, again.live.held_s) == ("held", 360.0, 840.0)


def test_nobody_knows(desk: Desk, clock: FakeClock) -> None:
    do(desk, "boil")
    clock.go(minutes=20)
    again = opened_again(desk, clock)
    again.put("boil-unsure")
    do(again, "edit")
    assert again.live is not None
    assert (again.live.boil, again.live.boiled_s) == ("held", 0.0)
    assert "20 min of it are not known" in pane_text(again)


def test_an_answer_taken_back_is_asked_for_again(desk: Desk, clock: FakeClock) -> None:
    do(desk, "boil")
    clock.go(minutes=20)
    again = opened_again(desk, clock)
    again.put("boil-unsure")
    do(again, "edit", "undo")
    assert again.asked
    assert "Did it boil?" in pane_text(again)
    again.put("boil-off-at")
    do(again, "edit")
    write(again, "08:06")
    do(again, "boil")  # it boils on, and that is seen
    assert not again.asked


def test_after_a_reboot_it_goes_by_the_wall(desk: Desk, clock: FakeClock) -> None:
    do(desk, "boil")
    clock.reboot(minutes=3)
    again = opened_again(desk, clock)
    assert again.live is not None
    assert again.live.boiled_s == 180.0


@pytest.mark.parametrize("hours", [-1.0, 1.0])
def test_a_wall_clock_that_is_set_does_not_move_the_boil(desk: Desk, clock: FakeClock, hours: float) -> None:
    do(desk, "boil")
    clock.go(minutes=3)
    clock.set_by(hours=hours)
    ticking.tick(desk)
    assert desk.live is not None
    assert desk.live.boiled_s == 180.0


def test_held_and_killed_it_asks_nothing(desk: Desk, clock: FakeClock) -> None:
    do(desk, "boil", "boil")
    clock.go(minutes=20)
    assert not opened_again(desk, clock).asked


def test_a_file_that_is_only_looked_at_rings_all_the_same(desk: Desk, clock: FakeClock) -> None:
    do(desk, "boil")
    desk.store.read_only = "for this test"
    clock.go(minutes=9, seconds=5)
    assert ticking.tick(desk).rang
    assert not ticking.tick(desk).rang
    assert given(desk) == []
