"""The day at the keyboard: tasks done, skipped, taken back; the boil from any pane; lines that ask."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.panes.scenes import AMBER, NOW, ONE, TWO
from tests.screens.clocks import FakeClock
from tests.screens.desks import desk_on, do, pane_text, write
from workbench.panes.day import moment_id
from workbench.plan import happened
from workbench.screens import bars
from workbench.screens.desk import CLOCK, DAY
from workbench.screens.layout import FLOOR

if TYPE_CHECKING:
    from pathlib import Path

    from workbench.screens.desk import Desk


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    desk = desk_on(tmp_path / "a.toml", ONE)
    desk.clock = FakeClock(NOW)
    return desk


def events(desk: Desk) -> list[tuple[str, int, str]]:
    return [(event.what, event.step, event.task) for event in desk.store.session.event]


def to_the_boil(desk: Desk) -> None:
    do(desk, *["done"] * 4)


def go(desk: Desk, **span: float) -> None:
    desk.clock.go(**span)  # type: ignore[attr-defined]
    desk.recompute()


def test_done_and_next_from_any_pane(desk: Desk) -> None:
    do(desk, "pane-1", "done")
    assert events(desk) == [("task-done", 1, "packs")]
    assert desk.plan.next is not None
    assert desk.plan.next.name == "clean"
    assert "08:00 yeast out" in desk.said
    assert desk.store.session.event[0].mark == "aaaa1111 5000.0"


def test_a_task_starts_and_stops_the_clock(desk: Desk) -> None:
    to_the_boil(desk)
    do(desk, "done")
    assert events(desk)[-1] == ("boil-on", 1, "")
    assert "kitchen timer" in desk.said
    assert desk.ring  # stay with it from the start
    go(desk, minutes=10)
    do(desk, "done")
    assert events(desk)[-1] == ("boil-done", 1, "")
    assert desk.plan.clock is not None
    assert desk.plan.clock.boil is not None
    assert desk.plan.clock.boil.boiled_s == 600.0


def test_into_the_bath_asks_how_cold_it_is_and_the_gravity_what_it_was(desk: Desk) -> None:
    to_the_boil(desk)
    do(desk, "done")
    go(desk, minutes=10)
    do(desk, "done", "done")
    assert desk.entry is not None
    write(desk, "2")
    assert desk.store.session.event[-1].temperature_c == 2.0
    do(desk, "done", "done")
    write(desk, "1.0335 24 °C")
    reading = desk.store.session.reading[-1]
    assert (reading.kind, reading.temperature_c, reading.step) == ("gravity", 24.0, 1)
    assert desk.plan.next is not None
    assert desk.plan.next.name == "start"


def test_the_stamp_is_that_of_the_first_key(desk: Desk) -> None:
    do(desk, "boil", "end", "temperature")
    desk.clock.go(seconds=30)  # type: ignore[attr-defined]
    write(desk, "2")
    assert desk.store.session.event[-1].at == NOW


def test_the_task_under_the_cursor_comes_first_and_a_done_one_is_taken_back(desk: Desk) -> None:
    do(desk, "pane-6", "down", "down", "done")
    assert events(desk) == [("task-done", 1, "weigh")]
    desk.put("moment.1.weigh")
    do(desk, "skip")
    assert events(desk) == []
    assert "not done after all" in desk.said
    desk.put("moment.1.weigh")
    do(desk, "skip")
    assert desk.row().id == "moment.1.packs"  # on what is next: the key once more would leave that out
    desk.put("moment.1.weigh")
    do(desk, "skip")
    assert desk.said == "not left out after all: weigh powder into cold water"


def test_a_boil_that_is_ended_did_not_boil_over(tmp_path: Path) -> None:
    for where, then in (("flask", "let the glass rest before the bath"), ("pot", "cool it in the pot")):
        desk = do(desk_on(tmp_path / f"{where}.toml", ONE + f'boil_in = "{where}"\n'), "boil", "end")
        assert desk.said == f"the boil is over: heat off, cover loosely, {then}"
        assert len(desk.said) < FLOOR[0] - 1


@pytest.mark.parametrize("name", ["boil", "start", "gravity"])
def test_a_stamp_of_any_kind_can_be_taken_back(desk: Desk, name: str) -> None:
    do(desk, "boil", "end")
    do(desk, "pane-6", "measure")
    write(desk, "1.034")
    do(desk, "begin")
    desk.put(f"moment.1.{name}")
    gone = {"boil": 2, "start": 1, "gravity": 1}[name]
    before = len(events(desk)) + len(desk.store.session.reading)
    do(desk, "skip")
    assert len(events(desk)) + len(desk.store.session.reading) == before - gone


@pytest.mark.parametrize("key", ["begin", "done"])
def test_into_hot_wort_the_yeast_goes_with_the_key_once_more(desk: Desk, key: str) -> None:
    do(desk, "boil", "end", "temperature")
    write(desk, "2")
    do(desk, "temperature")
    write(desk, "84")
    do(desk, "pane-6")
    desk.put("moment.1.start")
    before = events(desk)
    do(desk, key)
    assert desk.said.startswith("this wort is at 84 °C and kills yeast")
    do(desk, "up", "down", key)  # another key between: it is asked again
    assert events(desk) == before
    do(desk, key)
    assert events(desk)[-1] == ("yeast-in", 1, "")


def test_a_key_in_haste_on_what_is_done_takes_nothing_back(desk: Desk) -> None:
    do(desk, "pane-6", *["done"] * 4, "boil", "done")
    assert [what for what, _, _ in events(desk)][-1] == "boil-on"
    assert "only begun" in desk.said  # the key pressed twice
    go(desk, minutes=10)
    desk.put("moment.1.boil")
    do(desk, "done")
    assert [what for what, _, _ in events(desk)][-2:] == ["boil-on", "boil-done"]


def test_of_a_boil_taken_back_nothing_stays(desk: Desk) -> None:
    do(desk, "pane-6", "boil")
    go(desk, minutes=2)
    do(desk, "boil")
    go(desk, minutes=1)
    do(desk, "boil")
    desk.put("moment.1.boil")
    do(desk, "skip")
    assert events(desk) == []


def test_the_cursor_goes_on_whichever_key_it_was(desk: Desk) -> None:
    do(desk, "pane-6", "boil", "pane-5", "end", "pane-6")
    row = desk.row()
    assert row is not None
    assert row.id == "moment.1.cool"


def test_days_before_its_hour_the_beer_is_pitched_only_by_a_second_press(desk: Desk) -> None:
    def done_at_the_pitch() -> bool:
        desk.put(moment_id(next(task for task in desk.plan.moments if task.name == "pitch")))
        do(desk, "done")
        return happened.pitched(desk.store.session)

    desk.pane = DAY
    assert not done_at_the_pitch()
    assert desk.said == "yeast into the beer is planned Sat 15:00; d once more: it is done"
    do(desk, "up")  # another key between: it asks again
    assert not done_at_the_pitch()
    assert done_at_the_pitch()
    assert desk.armed == ""


def test_some_hours_before_it_one_press_does(desk: Desk) -> None:
    desk.pane = DAY
    go(desk, days=1, hours=22)
    desk.put(moment_id(next(task for task in desk.plan.moments if task.name == "pitch")))
    do(desk, "done")
    assert happened.pitched(desk.store.session)


def test_undo_takes_the_last_one_back(desk: Desk) -> None:
    do(desk, "done", "undo")
    assert events(desk) == []


def test_skipped_it_is_not_asked_for_again(desk: Desk) -> None:
    do(desk, "pane-6", "skip")
    assert events(desk) == [("task-skipped", 1, "packs")]
    assert desk.plan.next is not None
    assert desk.plan.next.name == "clean"


def test_the_boil_is_started_held_and_ended_from_any_pane(desk: Desk) -> None:
    for pane, action in (("pane-1", "boil"), ("pane-3", "boil"), ("pane-4", "boil"), ("pane-2", "end")):
        do(desk, pane, action)
        go(desk, minutes=1)
    assert [what for what, _, _ in events(desk)] == ["boil-on", "boil-hold", "boil-on", "boil-done"]
    assert desk.plan.clock is not None
    assert desk.plan.clock.boil is not None
    assert desk.plan.clock.boil.boiled_s == 120.0


def test_boiling_it_again_wants_the_key_twice(desk: Desk) -> None:
    do(desk, "boil", "end", "boil")
    assert "once more" in desk.said
    do(desk, "up", "boil")
    assert len(events(desk)) == 2  # another key came in between
    do(desk, "boil")
    assert events(desk)[-1] == ("boil-on", 1, "")


def test_longer_before_it_begins_is_the_recipe_and_after_it_this_boil(desk: Desk) -> None:
    do(desk, "pane-5", "longer")
    assert desk.store.session.step[0].boil_time_s == 660.0
    do(desk, "boil", "shorter", "shorter")
    assert desk.store.session.step[0].boil_time_s == 660.0
    assert desk.plan.clock is not None
    assert desk.plan.clock.planned_s == 540.0


def test_wort_that_boiled_over_is_taken_off(desk: Desk) -> None:
    do(desk, "lost")
    assert "nothing has boiled" in desk.said
    do(desk, "boil", "lost")
    write(desk, "100 mL")
    assert desk.store.session.event[-1].volume_l == 0.1
    assert desk.plan.steps[0].wort_l.value < 1.55  # type: ignore[operator]


def test_end_ends_what_runs(desk: Desk) -> None:
    do(desk, "end")
    assert "nothing runs" in desk.said
    do(desk, "boil", "end", "temperature")
    write(desk, "2")
    do(desk, "temperature")
    write(desk, "60")
    do(desk, "end")
    assert [what for what, _, _ in events(desk)] == ["boil-on", "boil-done", "cool-on", "cool-done"]
    assert desk.store.session.reading[0].value == 60.0


def test_what_is_no_temperature_keeps_the_line(desk: Desk) -> None:
    do(desk, "boil", "end", "temperature")
    write(desk, "cold")
    assert desk.entry is not None
    assert desk.entry.error
    assert len(events(desk)) == 2


def test_nothing_typed_leaves_all_as_it_was(desk: Desk) -> None:
    do(desk, "boil", "end", "temperature")
    write(desk, "")
    assert events(desk)[-1] == ("cool-on", 1, "")  # a bath may be of an unknown temperature
    do(desk, "temperature")
    write(desk, "")
    assert (desk.entry, desk.store.session.reading) == (None, ())


def test_a_note_belongs_to_no_feeding_and_adopts_nothing(tmp_path: Path) -> None:
    desk = desk_on(tmp_path / "a.toml", AMBER)  # the planner proposes
    do(desk, "note")
    write(desk, "bought ice")
    assert [(event.what, event.step, event.text) for event in desk.store.session.event] == [("note", 0, "bought ice")]
    assert desk.plan.planned_by == "planner"
    assert "bought ice" in pane_text(desk, DAY)


def test_the_first_task_done_makes_what_is_proposed_the_brewers_own(tmp_path: Path) -> None:
    desk = do(desk_on(tmp_path / "a.toml", AMBER), "done")
    assert desk.plan.planned_by == "brewer"
    do(desk, "undo")
    assert desk.plan.planned_by == "planner"


def test_without_a_feeding_nothing_runs(tmp_path: Path) -> None:
    desk = do(
        desk_on(tmp_path / "a.toml", "format = 1\n"), "boil", "end", "temperature", "lost", "longer", "done", "skip"
    )
    assert desk.store.session.event == ()


def test_once_all_have_their_yeast_nothing_is_left_to_boil(desk: Desk) -> None:
    do(desk, "boil", "end", "begin", "boil")
    assert "nothing is left to boil" in desk.said
    do(desk, "temperature")  # that of the working starter
    write(desk, "22")
    assert desk.store.session.reading[-1].value == 22.0


def test_the_second_feeding_has_its_own_boil(tmp_path: Path) -> None:
    desk = desk_on(tmp_path / "a.toml", TWO)
    desk.clock = FakeClock(NOW)
    do(desk, "boil", "end", "begin")
    go(desk, hours=20)
    do(desk, "boil")
    assert events(desk)[-1] == ("boil-on", 2, "")
    assert "feeding 2, boils in the pot" in pane_text(desk, CLOCK)
    assert "feeding 1 grows" in pane_text(desk, CLOCK)


def test_in_mid_boil_no_bath_is_asked_for(desk: Desk) -> None:
    do(desk, "boil", "temperature")
    assert (desk.entry, "e ends the boil" in desk.said) == (None, True)


def test_more_than_there_is_is_not_lost(desk: Desk) -> None:
    do(desk, "boil", "lost")
    write(desk, "5 L")
    assert desk.entry is not None
    assert "more than there is" in desk.entry.error


def test_a_refractometer_may_be_read(desk: Desk) -> None:
    do(desk, "pane-5", "measure")
    write(desk, "8.7 °Bx")
    assert desk.store.session.reading[-1].kind == "brix"


def test_while_one_grows_keys_are_about_that_until_anything_happens_to_the_next(tmp_path: Path) -> None:
    desk = desk_on(tmp_path / "a.toml", TWO)
    desk.clock = FakeClock(NOW)
    do(desk, "pane-5", "boil", "end", "begin")
    go(desk, hours=10)
    do(desk, "measure")
    write(desk, "1.012")
    do(desk, "temperature")
    write(desk, "22")
    assert [(r.kind, r.step) for r in desk.store.session.reading] == [("gravity", 1), ("temperature", 1)]
    assert "by test" in pane_text(desk, CLOCK)
    assert "22 °C" in pane_text(desk, CLOCK)
    do(desk, "boil", "end", "measure")
    write(desk, "1.034")
    assert desk.store.session.reading[-1].step == 2


def test_a_mistyped_bath_or_reading_can_be_mended(desk: Desk) -> None:
    do(desk, "pane-5", "boil", "end", "temperature")
    write(desk, "20")
    do(desk, "temperature")
    write(desk, "60")
    desk.put("event.2.temperature")
    do(desk, "edit")
    write(desk, "2")
    assert desk.store.session.event[-1].temperature_c == 2.0
    desk.put("reading.0.value")
    do(desk, "remove")
    assert desk.store.session.reading == ()


def test_once_it_is_in_the_beer_nothing_runs(desk: Desk) -> None:
    do(desk, "boil", "end", "begin")
    go(desk, hours=22)
    for _ in range(12):
        do(desk, "done")
    assert desk.plan.next is None
    assert "went into the beer" in pane_text(desk, CLOCK)
    before = len(events(desk))
    do(desk, "boil", "temperature")
    assert len(events(desk)) == before


def test_once_the_yeast_is_in_the_beer_no_hour_is_told_that_it_is_to_go_in_at(tmp_path: Path) -> None:
    pitched = ONE + '[[event]]\nat = 2026-11-26T06:30:00Z\nwhat = "pitched"\nstep = 1\n'
    desk = desk_on(tmp_path / "a.toml", pitched)
    for height in (1, 2):
        top = "".join(text for line in bars.top(desk, 120, height) for text, _ in line)
        assert "pitched Thu 07:30" in top
        assert " in " not in top
    assert pane_text(desk, 0).splitlines()[0].endswith("done Thu 07:30")
