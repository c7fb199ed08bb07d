"""What is late, and what falls into the night."""

from __future__ import annotations

from datetime import time, timedelta

import pytest

from tests.plan.sessions import PITCH_AT, STIRRED_ALE, before, happened, session
from workbench.plan.derive import derive
from workbench.plan.habits import Habits
from workbench.session.model import Day, Step


def told(hours_before: float, **tables):
    own = session(**{"step": (Step(1.6, hours_s=20 * 3600.0),), "day": Day(awake=(time(0), time(23, 59))), **tables})
    plan = derive(own, PITCH_AT - timedelta(hours=hours_before), Habits(tz=PITCH_AT.tzinfo))
    return [w.code for w in plan.warnings if w.code in {"late", "too-late", "outside-awake"}]


@pytest.mark.parametrize(
    ("hours_before", "codes"),
    [(48.0, []), (21.5, []), (21.0, ["late"]), (19.0, ["too-late"]), (1.0, ["too-late"]), (-1.0, [])],
)
def test_a_start_that_went_by_is_told(hours_before, codes):
    assert told(hours_before) == codes


def test_a_stamped_start_is_not_late():
    assert told(1.0, event=(happened("yeast-in", 20),)) == []


def test_a_task_in_the_night_is_told():
    # pitching at 15:00, so yeast in at 19:00 and weighing at 17:45 the day before
    assert told(48.0, day=Day(awake=(time(7), time(18)))) == ["outside-awake"]
    assert told(48.0, day=Day(awake=(time(7), time(17)))) == ["outside-awake"] * 2
    assert told(48.0, day=Day(awake=(time(15), time(2)))) == []


def test_nothing_is_late_once_it_is_pitched():
    assert told(1.0, event=(happened("pitched", 2, step=0),)) == []


@pytest.mark.parametrize(
    ("boiled_h", "now_h", "level", "says"),
    [
        (24.0, 23.0, None, ""),  # two hours to the yeast: nothing to say
        (34.0, 33.0, "note", "the wort waits 12 h for its yeast: cold and covered"),
        (60.0, 59.0, "caution", "boil it again after 24 h"),
        (60.0, 30.0, "caution", "over 24 h: boil it again first"),
    ],
)
def test_wort_without_its_yeast_waits_a_day_at_most(boiled_h, now_h, level, says):
    plan = derive(session(**STIRRED_ALE, event=(happened("boil-done", boiled_h),)), before(hours=now_h))
    found = [w for w in plan.warnings if w.code == "wort-waits"]
    assert [w.level for w in found] == ([level] if level else [])
    assert all(says in w.text for w in found)


@pytest.mark.parametrize(
    ("event", "codes"),
    [
        ((), []),  # of a batch that nobody stepped through nothing is known
        ((happened("boil-done", 22.0),), ["pitch-gone-by", "wort-waits"]),
        ((happened("yeast-in", 22.0),), ["pitch-gone-by"]),
        ((happened("yeast-in", 22.0), happened("pitched", -1.0, step=0)), []),
    ],
)
def test_an_hour_of_pitching_that_went_by_is_told(event, codes):
    plan = derive(session(**STIRRED_ALE, event=event), before(hours=-26.0))
    found = {w.code: w for w in plan.warnings if w.code in {"pitch-gone-by", "wort-waits"}}
    assert sorted(found) == codes
    if codes:
        assert found["pitch-gone-by"].key == "batch.pitch_at"
        assert "went into the beer 1 d 02 h ago; if not, set the hour" in found["pitch-gone-by"].text


def test_wort_that_has_its_yeast_waits_for_nothing():
    events = (happened("boil-done", 60.0), happened("yeast-in", 50.0))
    plan = derive(session(**STIRRED_ALE, event=events), before(hours=30.0))
    assert "wort-waits" not in [w.code for w in plan.warnings]
