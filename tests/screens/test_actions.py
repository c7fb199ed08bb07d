from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

import pytest

from tests.panes.scenes import AMBER, EMPTY, NOW, ONE, READING, TWO
from tests.screens.desks import desk_on, do, pane_text, write
from workbench.screens import typed
from workbench.session.edits import AddTable, RemoveTable, SetValue, Several, Unset
from workbench.units.mark import Mark

if TYPE_CHECKING:
    from pathlib import Path

    from workbench.screens.desk import Desk
    from workbench.session.edits import Edit


@pytest.fixture
def two(tmp_path: Path) -> Desk:
    return desk_on(tmp_path / "two.toml", TWO)


def test_panes_are_chosen_by_number_and_in_turn(two: Desk) -> None:
    assert do(two, "pane-4").pane == 3
    assert do(two, "next-pane", "next-pane", "next-pane").pane == 0
    assert do(two, "last-pane").pane == 5


def test_each_pane_keeps_its_cursor(two: Desk) -> None:
    do(two, "down", "down", "pane-2", "down", "pane-1")
    assert two.row().id == "beer.gravity"  # type: ignore[union-attr]


def test_the_cursor_stops_at_the_ends(two: Desk) -> None:
    do(two, "up", "up")
    assert two.row().id == "batch.pitch_at"  # type: ignore[union-attr]
    do(two, "last", "down")
    assert two.row().id == "starter"  # type: ignore[union-attr]


def test_a_lot_is_added_and_the_cursor_is_on_it(two: Desk) -> None:
    do(two, "add")
    assert len(two.plan.session.yeast) == 2
    assert two.row().id == "yeast.1.kind"  # type: ignore[union-attr]
    do(two, "turn")
    assert two.plan.session.yeast[1].kind == "dry"


def test_a_feeding_is_added_behind_the_one_considered_and_its_volume_asked(two: Desk) -> None:
    do(two, "pane-3", "add")
    assert two.entry is not None
    write(two, "1")
    assert [step.wort_l for step in two.plan.session.step] == [0.6, 1.0, 1.6]


def test_adding_and_its_volume_are_one_change(two: Desk) -> None:
    do(two, "pane-3", "add")
    write(two, "1")
    do(two, "undo")
    assert two.store.text == TWO


def test_a_feeding_whose_volume_is_not_typed_is_not_added(two: Desk) -> None:
    do(two, "pane-3", "add")
    assert two.entry is not None
    write(two, "a bucket")
    assert two.entry is not None
    assert len(two.plan.session.step) == 3
    typed.press(two, two.entry, "escape", None)
    assert two.store.text == TWO
    assert len(two.plan.session.step) == 2


@pytest.mark.parametrize("pane", ["pane-1", "pane-3"])
def test_what_is_emptied_and_kept_is_not_added_either(two: Desk, pane: str) -> None:
    do(two, pane, "add")
    write(two, "")
    assert (two.entry, two.store.text) == (None, TWO)


def test_a_feeding_is_removed_and_comes_back(two: Desk) -> None:
    do(two, "pane-3", "remove")
    assert [step.wort_l for step in two.plan.session.step] == [1.6]
    do(two, "undo")
    assert [step.wort_l for step in two.plan.session.step] == [0.6, 1.6]
    do(two, "redo")
    assert [step.wort_l for step in two.plan.session.step] == [1.6]
    assert two.store.path.read_text("utf-8") == TWO  # the saver has not been asked yet
    two.store.flush()
    assert '"0.6 L"' not in two.store.path.read_text("utf-8")


def test_feedings_change_places_and_the_cursor_goes_along(two: Desk) -> None:
    do(two, "pane-3", "later")
    assert [step.wort_l for step in two.plan.session.step] == [1.6, 0.6]
    assert two.row().id == "step.1.wort"  # type: ignore[union-attr]
    do(two, "later")
    assert two.said == "it is the last already"
    do(two, "earlier")
    assert [step.wort_l for step in two.plan.session.step] == [0.6, 1.6]


def test_the_feeding_considered_is_one_for_all_panes(two: Desk) -> None:
    do(two, "pane-2", "step-on", "step-on")
    assert two.step == 1
    assert "2 of 2" in pane_text(two)
    assert "feeding 2 of 2" in pane_text(two, 2)
    do(two, "step-back", "step-back")
    assert two.step == 0


def test_a_value_can_be_left_out_again(two: Desk) -> None:
    do(two, "down", "default")
    assert not two.plan.session.is_given("beer.volume")
    do(two, "default")
    assert two.said.startswith("this is not typed")


def test_a_lot_is_added_by_what_it_is_and_when_it_was_made(two: Desk) -> None:
    before = len(two.store.session.yeast)
    do(two, "pane-1", "add")
    write(two, "dry")  # not keys that act by themselves
    assert two.entry is not None
    assert two.entry.key == f"yeast.{before}.made_on"
    write(two, "6 weeks")
    assert two.entry.key == f"yeast.{before}.mass"
    write(two, "11.5 g")
    assert two.entry is None
    lot = two.store.session.yeast[before]
    assert (lot.kind, lot.mass_g) == ("dry", 11.5)


def test_enter_keeps_a_pack_and_esc_takes_it_out_again(two: Desk) -> None:
    before = len(two.store.session.yeast)
    do(two, "pane-1", "add")
    write(two, "", clear=False)
    assert two.entry is not None
    assert two.entry.key == f"yeast.{before}.made_on"
    typed.press(two, two.entry, "escape", None)
    assert [lot.kind for lot in two.store.session.yeast[before:]] == ["pack"]
    do(two, "undo", "add")
    assert two.entry is not None
    typed.press(two, two.entry, "escape", None)
    assert len(two.store.session.yeast) == before


@pytest.mark.parametrize(
    ("made", "said"),
    [
        (SetValue("beer.volume", "21 L"), "beer volume"),
        (AddTable("step", 0, {"wort": "1 L"}), "step 1"),
        (AddTable("event", 0, {"at": NOW, "step": 1, "what": "yeast-in"}), "yeast in"),
        (
            Several((SetValue("beer.volume", "21 L"), SetValue("beer.gravity", "1.050"), Unset("flask.size"))),
            "and 1 more",
        ),
    ],
)
def test_undo_and_redo_say_of_what(two: Desk, made: Edit, said: str) -> None:
    two.store.apply(made)
    do(two, "undo")
    assert two.said.startswith("undone: ")
    assert said in two.said
    do(two, "redo")
    assert two.said.startswith("made again: ")
    assert said in two.said


def test_undo_of_a_stamp_taken_out_says_which(two: Desk) -> None:
    two.store.apply(AddTable("event", 0, {"at": NOW, "step": 1, "what": "yeast-in"}))
    two.store.apply(RemoveTable("event", 0))
    do(two, "undo")
    assert two.said.startswith("undone: yeast in taken out; ")


def test_below_the_line_of_a_feeding_are_its_own_details(two: Desk) -> None:
    do(two, "pane-3", "first", "down")
    assert two.row().id == "step.1.wort"  # type: ignore[union-attr]
    assert two.step == 0
    do(two, "down")
    assert two.step == 1
    assert two.row().id.startswith("step.1.")  # type: ignore[union-attr]
    assert "feeding 2 of 2" in pane_text(two)
    do(two, "up", "up", "down", "down")
    assert two.step == 1


def test_undo_with_nothing_to_undo_says_so(two: Desk) -> None:
    assert do(two, "undo").said == "nothing to undo"
    assert do(two, "redo").said == "nothing to make again"


def test_a_reading_can_be_removed(tmp_path: Path) -> None:
    desk = desk_on(tmp_path / "a.toml", ONE + READING)
    do(desk, "pane-2", "last", "remove")
    assert desk.plan.session.reading == ()


def test_why_opens_the_reason_and_any_way_out_closes_it(two: Desk) -> None:
    do(two, "pane-2", "down", "down", "why")
    assert two.page is not None
    text = "\n".join("".join(t for t, _ in line) for line in two.page.lines(60))
    assert "powder" in text
    assert "(published)" in text
    do(two, "back")
    assert two.page is None
    do(two, "why", "down", "up", "pane-3")
    assert two.page is None
    assert two.pane == 2


def test_a_warning_is_told_in_full_on_the_page_of_its_figure(tmp_path: Path) -> None:
    desk = desk_on(tmp_path / "a.toml", ONE.replace("1.6 L", "2.4 L"))
    do(desk, "pane-2", "last", "why")
    assert desk.page is not None
    assert "scald" in "\n".join("".join(t for t, _ in line) for line in desk.page.lines(200))


def test_help_names_the_keys_of_this_pane(two: Desk) -> None:
    do(two, "pane-2", "help")
    assert two.finder is not None
    told = [choice.help for choice in two.finder.choices]
    assert any("note what was just measured" in text for text in told)
    assert not any("add a lot" in text for text in told)


def test_a_typed_value_says_what_it_means(two: Desk) -> None:
    do(two, "down", "why")
    assert two.page is not None
    text = "\n".join("".join(t for t, _ in line) for line in two.page.lines(60))
    assert "beer in the fermenter" in text
    assert "19–25 L (common practice, no source)" in text


def test_nothing_to_add_or_measure_does_no_harm(tmp_path: Path) -> None:
    desk = desk_on(tmp_path / "a.toml", EMPTY)
    do(desk, "pane-6", "remove", "earlier", "turn", "why", "pane-2", "measure", "step-on")
    assert desk.entry is None
    assert desk.store.text == EMPTY


def test_gallons_and_ounces(two: Desk) -> None:
    do(two, "units")
    assert "6.08 gal" in pane_text(two)  # 23 L / 3.785411784
    do(two, "units")
    assert "23 L" in pane_text(two)


def test_a_first_feeding(tmp_path: Path) -> None:
    desk = desk_on(tmp_path / "a.toml", AMBER.replace("23 L", "5 L"))
    do(desk, "pane-3", "add")
    write(desk, "1,6 l")
    assert [step.wort_l for step in desk.plan.session.step] == [1.6]


def test_begin_stamps_the_next_feeding_and_can_be_taken_back(two: Desk) -> None:
    do(two, "pane-3", "begin")
    (event,) = two.plan.session.event
    assert (event.at, event.step, event.what) == (NOW, 1, "yeast-in")
    assert two.said == "feeding 1: yeast in at 08:00; u takes it back"
    assert two.plan.steps[0].start == NOW
    do(two, "begin")
    assert two.said == "feeding 1 began at 08:00: too soon for the next"
    assert len(two.plan.session.event) == 1
    two.clock = lambda: Mark(NOW + timedelta(hours=20))
    do(two, "begin")
    assert [event.step for event in two.plan.session.event] == [1, 2]
    do(two, "begin")
    assert two.said == "every feeding has begun already"
    assert len(two.plan.session.event) == 2
    do(two, "undo", "undo")
    assert two.store.text == TWO


def test_nothing_begins_where_there_is_no_feeding(tmp_path: Path) -> None:
    small = AMBER.replace("23 L", "5 L")
    desk = do(desk_on(tmp_path / "a.toml", small), "pane-6", "begin")
    assert desk.said == "no feeding yet: + in pane 3 adds one"
    assert desk.store.text == small


def test_a_proposal_begun_is_written_into_the_file_and_one_undo_takes_both_back(tmp_path: Path) -> None:
    desk = do(desk_on(tmp_path / "a.toml", AMBER), "pane-3", "begin")
    assert [step.wort_l for step in desk.store.session.step] == [1.6]
    assert [event.what for event in desk.store.session.event] == ["yeast-in"]
    assert desk.plan.planned_by == "brewer"
    do(desk, "undo")
    assert desk.store.text == AMBER
    assert desk.plan.planned_by == "planner"


def test_the_hour_of_a_task_has_its_reason(tmp_path: Path) -> None:
    desk = do(desk_on(tmp_path / "a.toml", ONE), "pane-6", "why")
    assert desk.page is not None
    text = "\n".join("".join(t for t, _ in line) for line in desk.page.lines(80))
    assert text.startswith(" when\n\n make the wort, yeast out: Fri 17:00 - 75 min to weigh")
    assert "earlier than Fri 03:26 it waits for nothing" in text
