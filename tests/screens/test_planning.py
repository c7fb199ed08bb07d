"""Planning by keys: the proposal, the ways beside it, taking one, locking, and the shortest resource."""

from __future__ import annotations

import tomllib
from datetime import timedelta
from typing import TYPE_CHECKING

import pytest

from tests.panes.scenes import AMBER, NOW, ONE, TWO
from tests.plan.sessions import PITCH_AT
from tests.screens.clocks import FakeClock
from tests.screens.desks import desk_on, do, write
from workbench.panes.rows import stops
from workbench.screens.desk import STEPS
from workbench.session.edits import Several

if TYPE_CHECKING:
    from pathlib import Path

    from workbench.screens.desk import Desk


def worts(desk: Desk) -> list[float | None]:
    return [step.wort_l for step in desk.store.session.step]


def pane_text(desk: Desk) -> str:
    return "\n".join("".join(text for text, _ in row.spans) for row in desk.rows(desk.pane))


@pytest.fixture
def amber(tmp_path: Path) -> Desk:
    return do(desk_on(tmp_path / "a.toml", AMBER), "pane-3")


def test_the_ways_open_on_a_key_from_any_pane_and_close_on_the_same(amber: Desk) -> None:
    do(amber, "pane-1", "plan")
    assert amber.pane == 2
    assert "as few as will do" in pane_text(amber)
    do(amber, "plan")
    assert "as few as will do" not in pane_text(amber)
    do(amber, "plan", "back")
    assert not amber.planning


def test_the_cursor_comes_back_to_where_it_was_before_the_ways(amber: Desk) -> None:
    do(amber, "down", "down")
    before = amber.row()
    do(amber, "plan", "down", "plan")
    assert amber.row() == before
    do(amber, "plan", "pane-1", "plan", "back")
    assert amber.row() == before


def test_one_key_takes_a_way_and_one_undo_takes_it_back(amber: Desk) -> None:
    do(amber, "plan", "down", "edit")
    assert amber.said.startswith("taken: ")
    assert amber.plan.planned_by == "brewer"
    assert not amber.planning
    do(amber, "undo")
    assert amber.store.text == AMBER


def test_an_edit_of_what_is_proposed_makes_all_of_it_the_brewers(amber: Desk) -> None:
    do(amber, "edit")
    write(amber, "1,5 l")
    assert [step.wort_l for step in amber.plan.session.step] == [1.5]
    assert amber.plan.planned_by == "brewer"
    do(amber, "undo")
    assert amber.store.text == AMBER


def test_every_way_taken_gives_the_plan_that_was_shown(tmp_path: Path) -> None:
    for number, text in enumerate((AMBER, AMBER.replace("3 L", "1 L"), TWO)):
        desk = do(desk_on(tmp_path / f"{number}.toml", text), "plan")
        assert desk.ways
        for way in desk.ways:
            desk.store.apply(Several(way.option.edits))
            desk.recompute()
            mine = [(s.wort_l.value, s.top_up_l.value, s.decant, s.start) for s in desk.plan.steps]
            assert mine == [(s.wort_l.value, s.top_up_l.value, s.decant, s.start) for s in way.plan.steps]
            assert desk.plan.final.chance.value == way.plan.final.chance.value
            assert tomllib.loads(desk.store.text)
            desk.store.undo()
            desk.recompute()


def test_a_locked_feeding_stands_and_the_others_are_filled_in(tmp_path: Path) -> None:
    text = TWO.replace("23 L", "30 L").replace('wort = "0.6 L"\n', 'wort = "0.6 L"  # as always\n')
    desk = do(desk_on(tmp_path / "a.toml", text), "pane-3", "lock")
    assert desk.said == "feeding 1 stands; p fills in the others"
    do(desk, "plan", "edit")
    assert worts(desk)[0] == 0.6
    assert 'wort = "0.6 L"  # as always\n' in desk.store.text
    assert len(worts(desk)) > 1
    assert desk.plan.final.chance.value is not None
    assert desk.plan.final.chance.value >= 0.5
    do(desk, "lock")
    assert "free again" in desk.said
    assert not desk.store.session.step[0].locked


def test_with_little_powder_the_most_of_it_and_how_much_there_would_have_to_be(amber: Desk) -> None:
    do(amber, "plan")
    amber.put("supplies.powder")
    do(amber, "edit")
    write(amber, "80 g")
    text = pane_text(amber)
    assert "the most to be had here" in text
    assert "g of powder" in text
    assert amber.ways[0].powder_g <= 80.0


def test_in_few_hours_growth_is_cut_short_and_says_what_it_gives(amber: Desk) -> None:
    do(amber, "plan")
    amber.put("day.hours")
    do(amber, "edit")
    write(amber, "18 h")
    most = next(way for way in amber.ways if way.option.code == "most")
    assert most.hours == pytest.approx(18.0)
    assert most.plan.final.pitched_b.value is not None


def test_prices_give_the_cost_of_every_way(amber: Desk) -> None:
    do(amber, "plan")
    for key, text in (("supplies.powder_price", "12"), ("supplies.pack_price", "9")):
        amber.put(key)
        do(amber, "edit")
        write(amber, text)
    base = amber.ways[0]
    assert base.cost.value == pytest.approx(12.0 * base.powder_g / 1000.0 + 9.0)
    assert f"{base.cost.value:.2f}" in pane_text(amber)


def test_no_starter_when_chosen_stays_chosen_until_another_way_is_taken(tmp_path: Path) -> None:
    desk = desk_on(tmp_path / "a.toml", AMBER.replace('name = "', 'starter = false\nname = "'))
    do(desk, "pane-3")
    assert (desk.plan.planned_by, desk.plan.steps) == ("none", ())
    assert "No starter, as chosen" in pane_text(desk)
    do(desk, "plan", "edit")
    assert worts(desk) == [1.6]
    assert desk.store.session.batch.starter


def test_the_cursor_goes_through_ways_and_bounds(amber: Desk) -> None:
    do(amber, "plan")
    ids = [amber.rows(2)[i].id for i in stops(amber.rows(2))]
    assert ids[0] == "way.planner"
    assert {"supplies.powder", "day.hours", "flask.count", "batch.chance"} <= set(ids)


def test_ways_are_worked_out_for_a_session_without_yeast(tmp_path: Path) -> None:
    desk = do(desk_on(tmp_path / "a.toml", "format = 1\n"), "plan")
    assert desk.ways == ()
    assert "needs beer, yeast and the pitching hour" in " ".join(pane_text(desk).split())


def test_too_late_only_what_is_still_open_is_shown(tmp_path: Path) -> None:
    text = AMBER.replace("2026-11-28T15:00:00+01:00", "2026-11-26T20:00:00+01:00")  # twelve hours from now
    desk = do(desk_on(tmp_path / "a.toml", text), "plan")
    codes = [way.option.code for way in desk.ways]
    assert codes[:2] == ["start-now", "pitch-later"]
    assert "as-it-is" in codes
    assert "planner" not in codes
    do(desk, "edit")
    assert desk.plan.steps[0].start is not None
    assert desk.plan.steps[0].start >= desk.now
    assert "too-late" not in {w.code for w in desk.plan.warnings}


def test_the_other_hour_may_be_now(tmp_path: Path) -> None:
    desk = do(desk_on(tmp_path / "a.toml", ONE), "begin")
    desk.clock = FakeClock(NOW + timedelta(hours=20, microseconds=4711))
    desk.recompute()
    do(desk, "another-hour")
    write(desk, "now")
    assert desk.entry is None
    assert "pitch as it is, whole, now" in pane_text(desk)


def test_another_hour_is_asked_compared_and_taken(tmp_path: Path) -> None:
    desk = do(desk_on(tmp_path / "a.toml", ONE), "another-hour")
    write(desk, "yesterday 15:00")
    assert desk.entry is not None
    assert "gone by" in desk.entry.error
    write(desk, "Sun 15:00")
    assert (desk.planning, desk.pane) == (True, STEPS)
    assert "At another hour" in pane_text(desk)
    assert "all of it moved, pitch Sun 15:00" in pane_text(desk)
    assert "1 d 00 h later" in pane_text(desk)
    desk.put("way.start-later")
    do(desk, "edit")
    assert desk.moved is None
    assert desk.store.session.batch.pitch_at == PITCH_AT + timedelta(days=1)
    do(desk, "undo")
    assert desk.store.session.batch.pitch_at == PITCH_AT


def test_another_hour_for_the_feeding_under_the_cursor(tmp_path: Path) -> None:
    desk = do(desk_on(tmp_path / "a.toml", ONE), "pane-6")
    desk.put("moment.1.start")
    do(desk, "another-hour")
    assert desk.entry is not None
    assert desk.entry.means.startswith("feeding 1")
    write(desk, "Fri 22:00")
    assert "shorter, 17 h; pitch as planned" in pane_text(desk)
    do(desk, "back")
    assert (desk.planning, desk.store.session.step[0].hours_s) == (False, None)
    do(desk, "plan")
    assert "Ways to" in pane_text(desk)  # p shows its own again


def test_without_a_pitching_hour_there_is_none_to_move(tmp_path: Path) -> None:
    assert "no pitching hour" in do(desk_on(tmp_path / "a.toml", "format = 1\n"), "another-hour").said
