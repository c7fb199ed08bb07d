"""Too late to start as planned: each way on holds what it says, and its edits make it so in the file."""

from __future__ import annotations

import tomllib
from datetime import UTC, datetime, time, timedelta
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.examples import at_most
from tests.panes.scenes import AMBER, CET
from tests.plan.sessions import PITCH_AT, codes, happened, replace
from tests.plan.strategies import sessions
from workbench.plan.chance import chance_text
from workbench.plan.derive import derive
from workbench.plan.habits import Habits
from workbench.plan.late import options
from workbench.session.edits import Several
from workbench.session.model import Batch
from workbench.session.read import read
from workbench.session.store import Store

if TYPE_CHECKING:
    from pathlib import Path

HABITS = Habits(tz=CET)
NO_STARTER = Batch(pitch_at=PITCH_AT, starter=False)
ONE = AMBER + '[[step]]\nwort = "1.6 L"\n'  # yeast in 22 h before pitching, weighed 75 min before that
TWO = AMBER.replace("[beer]", 'pitch = "decanted"\n[beer]') + (
    '[[step]]\nwort = "0.8 L"\n[[step]]\nwort = "1.6 L"\ndecant = true\nboil_in = "pot"\n'
)
SACHETS = ONE.replace('kind = "pack"', 'kind = "dry"').replace('cells = "100 B"', 'mass = "5 g"')


def before(hours):
    return PITCH_AT - timedelta(hours=hours)


def session_of(text):
    outcome = read(tomllib.loads(text), text)
    assert not outcome.faults
    return outcome.session


def ways(text, hours, **changed):
    own = replace(session_of(text), **changed)
    return {option.code: option for option in options(own, derive(own, before(hours), HABITS), before(hours), HABITS)}


def too_late(text, hours, **changed):
    plan = derive(replace(session_of(text), **changed), before(hours), HABITS)
    return next(w.text for w in plan.warnings if w.code == "too-late")


# ---- when ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("hours", "late"), [(24.0, False), (23.0, True), (21.0, True), (0.5, True), (-1.0, False)])
def test_there_are_ways_on_from_the_hour_of_weighing_to_pitching(hours, late):
    assert bool(ways(ONE, hours)) is late


def test_none_once_anything_has_begun():
    assert ways(ONE, 10, event=(happened("yeast-in", 20),)) == {}


def test_none_without_a_feeding():
    assert ways(AMBER.replace("23 L", "5 L"), 10) == {}


# ---- start now -------------------------------------------------------------------------------------------------


def test_starting_now_grows_for_the_time_there_is():
    way = ways(ONE, 18)["start-now"]
    assert way.says == "start now: 16.75 h"  # 18 h less 75 min to weigh, boil and cool
    plan = derive(way.session, before(18), HABITS)
    assert plan.steps[0].start == before(16.75)
    assert not {"too-late", "late"} & set(codes(plan))


def test_hours_are_rounded_so_that_there_is_time_to_prepare():
    way = ways(ONE, 18.1)["start-now"]
    assert way.says == "start now: 16.75 h"
    assert "late" not in codes(derive(way.session, before(18.1), HABITS))


@pytest.mark.parametrize(
    ("stamps", "says", "later"),
    [
        (("boil-on",), "start now: 19.5 h", "pitch Sat 18:00"),
        (("boil-on", "boil-done"), "start now: 20.25 h", "pitch Sat 17:00"),  # half of 75 min is left: to cool it
        (("boil-on", "boil-done", "cool-on", "cool-done"), "start now: 20.75 h", "pitch Sat 17:00"),
        (("boil-done", "cool-done", "boil-on"), "start now: 19.5 h", "pitch Sat 18:00"),  # boiled again
    ],
)
def test_what_is_done_of_the_wort_need_not_be_waited_for(stamps, says, later):
    events = tuple(happened(what, 23 - index / 2) for index, what in enumerate(stamps))
    found = ways(ONE, 20.9, event=events)
    assert (found["start-now"].says, found["pitch-later"].says) == (says, later)


def test_the_rest_before_a_decanted_pitch_is_kept():
    text = TWO.replace("decant = true\n", "")
    way = ways(text, 50)["start-now"]
    plan = derive(way.session, before(50), HABITS)
    assert plan.final.pitch == "decanted"
    assert plan.steps[-1].end == before(24)
    first, second = (step.hours_planned for step in plan.steps)
    planned = [step.hours_planned for step in derive(session_of(text), before(500), HABITS).steps]
    assert first / second == pytest.approx(planned[0] / planned[1], abs=0.05)
    assert 24.0 < first + second <= 24.75


def test_where_the_rest_leaves_no_time_it_is_pitched_whole():
    text = TWO.replace("decant = true\n", "")
    way = ways(text, 24)["start-now"]
    assert "pitched whole" in way.says
    plan = derive(way.session, before(24), HABITS)
    assert (plan.final.pitch, plan.steps[-1].end) == ("whole", PITCH_AT)


def test_where_the_rests_between_leave_no_time_one_feeding_is_left():
    way = ways(TWO, 25)["start-now"]  # two rests of 24 h
    assert way.says == "start now with feeding 2 alone, pitched whole: 22 h"
    plan = derive(way.session, before(25), HABITS)
    assert [step.wort_l.value for step in plan.steps] == [1.6]
    assert way.session.is_given("step.0.boil_in")


def test_without_an_hour_to_grow_there_is_no_starting_now():
    assert "start-now" not in ways(ONE, 2)
    assert "start-now" in ways(ONE, 2.5)


# ---- as it is, and more packs ----------------------------------------------------------------------------------


def test_the_yeast_as_it_is():
    plan = derive(ways(ONE, 10)["as-it-is"].session, before(10), HABITS)
    assert plan.steps == ()
    assert plan.final.pitched_b.value == plan.hand.cells_b.value


@pytest.mark.parametrize(("text", "says"), [(ONE, "3 packs more, no starter"), (SACHETS, "2 sachets more, no starter")])
def test_as_many_more_as_meet_the_need_and_not_one_more_than_that(text, says):
    way = ways(text, 10)["more-packs"]
    assert way.says == says
    assert derive(way.session, before(10), HABITS).final.meets_need is True
    (lot,) = way.session.yeast
    fewer = replace(way.session, yeast=(replace(lot, packs=lot.packs - 1),), batch=NO_STARTER)
    assert derive(fewer, before(10), HABITS).final.meets_need is False


def test_what_is_to_be_kept_is_met_too():
    way = ways(ONE + '[keep]\ncells = "100 B"\n', 10)["more-packs"]
    assert way.says.startswith("4 packs more")
    assert derive(way.session, before(10), HABITS).final.meets_need is True


def test_no_packs_where_all_are_spent_or_there_are_none():
    assert "more-packs" not in ways(ONE.replace("2026-10-19", "2023-10-19"), 10)
    jar = ONE.replace('kind = "pack"', 'kind = "kept"')
    assert "more-packs" not in ways(jar, 10)


# ---- pitch later -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("hours", "says"),
    [(22, "pitch Sat 17:00"), (21.9, "pitch Sat 17:00"), (21, "pitch Sat 18:00"), (14, "pitch Sun 07:00")],
)
def test_the_first_waking_full_hour_at_which_the_plan_stands(hours, says):
    way = ways(ONE, hours)["pitch-later"]
    assert way.says == says
    plan = derive(way.session, before(hours), HABITS)
    assert not {"too-late", "late"} & set(codes(plan))
    assert plan.steps[0].hours_planned == 22.0
    sooner = replace(
        way.session, batch=replace(way.session.batch, pitch_at=way.session.batch.pitch_at - timedelta(hours=1))
    )
    assert {"late", "too-late"} & set(codes(derive(sooner, before(hours), HABITS))) or says == "pitch Sun 07:00"


def test_it_is_an_hour_at_which_this_brewer_is_up():
    nocturnal = replace(session_of(ONE).day, awake=(time(22), time(6)))
    assert ways(ONE, 21, day=nocturnal)["pitch-later"].says == "pitch Sat 22:00"


# ---- in the file -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("text", [ONE, TWO, ONE + 'hours = "30 h"\nmotion = "swirled"\n'], ids=["one", "two", "given"])
@pytest.mark.parametrize("hours", [20, 48, 5])
def test_the_edits_make_the_file_say_what_the_way_is(tmp_path: Path, text: str, hours: float) -> None:
    path = tmp_path / "a.toml"
    for way in ways(text, hours).values():
        path.write_text(text, "utf-8")
        store = Store.open(path)
        session = store.apply(Several(way.edits))
        store.close()
        assert session == way.session


# ---- told ------------------------------------------------------------------------------------------------------


def test_the_caution_says_what_starting_now_still_gives_and_when_else():
    plan = derive(ways(ONE, 18)["start-now"].session, before(18), HABITS)
    grown, chance = plan.final.pitched_b, chance_text(plan.final.chance.value)
    assert too_late(ONE, 18) == (
        f"by this plan the yeast went in 4 h 00 min ago; if not, start now: 16.75 h still give {grown.value:.0f} B "
        f"({grown.low:.0f}–{grown.high:.0f} B), chance {chance}; or pitch Sat 21:00"
    )


def test_where_starting_now_gives_nothing_the_yeast_as_it_is_does():
    assert "if not, pitch the yeast as it is: 73.8 B; or pitch Sun " in too_late(ONE, 2)


def test_a_feeding_overdue_says_how_long_it_still_may_grow():
    on_top = ONE + '[[step]]\nwort = "0.5 L"\nhours = "12 h"\n'
    assert too_late(on_top, 9, event=(happened("yeast-in", 30),)) == (
        "by this plan the yeast was fed 3 h 00 min ago; if not, 9 h are left to grow"
    )


def test_what_is_too_late_and_too_unsure_has_a_plain_way_on():
    own = session_of(ONE.replace("2026-10-19", "2023-10-19"))  # nothing alive
    plan = derive(own, datetime(2026, 11, 28, 11, tzinfo=UTC), HABITS)
    assert all(w.text for w in plan.warnings)


@at_most(200)
@given(sessions, st.floats(0.01, 300.0))
def test_any_way_on_is_in_time(any_session, hours):
    plan = derive(any_session, before(hours), HABITS)
    for way in options(any_session, plan, before(hours), HABITS):
        later = derive(way.session, before(hours), HABITS)
        if later.steps:
            assert not {w.code for w in later.warnings if w.key == "step.0.start"} & {"late", "too-late"}
