"""Pitching, or one feeding, at another hour: each way holds what it says, and its edits make it so in the file."""

from __future__ import annotations

import tomllib
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING

import pytest

from tests.panes.scenes import AMBER, CET
from tests.plan.sessions import PITCH_AT
from workbench.plan.habits import Habits
from workbench.plan.moved import feeding_moved, pitch_moved
from workbench.session.edits import Several
from workbench.session.read import read
from workbench.session.store import Store

if TYPE_CHECKING:
    from pathlib import Path

HABITS = Habits(tz=CET)
ONE = AMBER + '[[step]]\nwort = "1.6 L"\n'  # yeast in Fri 17:00
TWO = AMBER.replace("[beer]", 'pitch = "decanted"\n[beer]') + (
    '[[step]]\nwort = "0.8 L"\n[[step]]\nwort = "1.6 L"\ndecant = true\nboil_in = "pot"\n'
)
LATER = PITCH_AT + timedelta(hours=24)


def before(hours: float) -> datetime:
    return PITCH_AT - timedelta(hours=hours)


def stamp(what: str, hours: float, step: int = 1) -> str:
    return f'[[event]]\nat = {before(hours).astimezone(UTC):%Y-%m-%dT%H:%M:%SZ}\nstep = {step}\nwhat = "{what}"\n'


def session_of(text: str):
    outcome = read(tomllib.loads(text), text)
    assert not outcome.faults
    return outcome.session


def ways(text: str, hours: float, at: datetime = LATER):
    return {way.option.code: way for way in pitch_moved(session_of(text), before(hours), HABITS, at)}


def test_with_nothing_begun_all_of_it_moves():
    found = ways(ONE, 40)
    assert list(found) == ["start-later", "anew", "as-is"] or list(found) == ["start-later", "as-is"]
    later = found["start-later"].plan
    assert later.steps[0].start == before(22) + timedelta(hours=24)
    assert found["as-is"].plan.steps == ()
    assert found["as-is"].plan.final.pitched_b.value == pytest.approx(74.6, abs=1.0)


def test_wort_that_is_made_waits_a_day_or_is_boiled_again():
    made = ONE + stamp("boil-done", 30)
    soon = ways(made, 29, PITCH_AT + timedelta(hours=6))
    assert ["cold and covered" in w.text for w in soon["start-later"].plan.warnings if w.code == "wort-waits"] == [True]
    late = ways(made, 29, PITCH_AT + timedelta(hours=48))["start-later"].plan
    assert ["boil it again" in w.text for w in late.warnings if w.code == "wort-waits"] == [True]
    assert "anew" not in soon
    now = soon["yeast-in-now"].plan
    assert now.steps[0].start == before(29)
    assert now.steps[0].end == PITCH_AT + timedelta(hours=6)


def test_what_grows_is_chilled_now_or_stands_warm_or_is_fed_again():
    found = ways(ONE + stamp("yeast-in", 22), 4, PITCH_AT + timedelta(hours=60))
    assert {"stands-warm", "chill-now", "as-is"} <= set(found)
    warm, cold = found["stands-warm"].plan, found["chill-now"].plan
    assert any(w.code == "waits-warm" for w in warm.warnings)
    assert not any(w.code == "waits-warm" for w in cold.warnings)
    assert cold.final.pitched_b.value < warm.final.pitched_b.value  # less grown by then
    assert found["as-is"].plan.steps[0].start == before(22)
    assert found["as-is"].plan.final.pitched_b.value < warm.final.pitched_b.value


def test_between_two_feedings_the_one_not_begun_moves():
    found = ways(TWO + stamp("yeast-in", 120) + stamp("chill-on", 95), 90)
    assert next(iter(found)) == "next-later"
    plan = found["next-later"].plan
    assert plan.steps[0].start == before(120)
    assert plan.steps[1].end == LATER - timedelta(hours=24)


def test_once_it_is_pitched_nothing_moves():
    assert pitch_moved(session_of(ONE + stamp("pitched", 1, 0)), before(0.5), HABITS, LATER) == ()
    assert pitch_moved(session_of(ONE.replace("pitch_at", "# pitch_at")), before(4), HABITS, LATER) == ()


def test_a_feeding_moved_grows_shorter_or_takes_all_behind_it_along():
    found = feeding_moved(session_of(ONE), before(40), HABITS, 1, before(16))
    shorter, along = (way.plan for way in found)
    assert [way.option.code for way in found] == ["hours", "all-later"]
    assert (shorter.steps[0].start, shorter.session.batch.pitch_at) == (before(16), PITCH_AT)
    assert shorter.final.pitched_b.value < along.final.pitched_b.value
    assert along.session.batch.pitch_at == PITCH_AT + timedelta(hours=6)
    assert along.steps[0].start == before(16)


def test_earlier_it_grows_longer():
    (longer, _) = feeding_moved(session_of(ONE), before(60), HABITS, 1, before(30))
    assert longer.option.says.startswith("longer, 30 h")
    assert longer.plan.steps[0].start == before(30)


def test_a_feeding_that_has_begun_does_not_move():
    begun = session_of(ONE + stamp("yeast-in", 22))
    assert feeding_moved(begun, before(20), HABITS, 1, before(10)) == ()


def test_too_late_to_grow_at_all_only_all_of_it_moves():
    assert [w.option.code for w in feeding_moved(session_of(ONE), before(23), HABITS, 1, before(0.5))] == ["all-later"]


CASES = (
    (ONE, 40), (AMBER, 40), (ONE + stamp("boil-done", 30), 29), (ONE + stamp("yeast-in", 22), 4),
    (TWO + stamp("yeast-in", 120) + stamp("chill-on", 95), 90),
)  # fmt: skip


@pytest.mark.parametrize(("text", "hours"), CASES)
def test_its_edits_make_the_file_what_the_way_shows(tmp_path: Path, text: str, hours: float):
    for code, way in ways(text, hours).items():
        path = tmp_path / f"{code}.toml"
        path.write_text(text, "utf-8")
        store = Store.open(path)
        after = store.apply(Several(way.option.edits))
        store.close()
        assert after._replace(given=frozenset()) == way.option.session._replace(given=frozenset()), code


def test_a_feeding_moved_makes_the_file_so_too(tmp_path: Path):
    for way in feeding_moved(session_of(ONE), before(40), HABITS, 1, before(16)):
        path = tmp_path / f"{way.option.code}.toml"
        path.write_text(ONE, "utf-8")
        store = Store.open(path)
        assert store.apply(Several(way.option.edits)).step == way.option.session.step
        store.close()
