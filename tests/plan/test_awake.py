"""Waking hours by the clock on the wall, and what would bring a task into them: tried out, not taken on trust."""

from __future__ import annotations

from datetime import UTC, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest

from tests.plan.sessions import LAGER_IN_TWO_STEPS, PITCH_AT, happened, replace, session
from workbench.plan.awake import is_awake, next_waking_hour
from workbench.plan.derive import derive
from workbench.plan.habits import Habits
from workbench.session.model import Batch, Day, Keep, Step

BERLIN, NEW_YORK = ZoneInfo("Europe/Berlin"), ZoneInfo("America/New_York")
DAY, NIGHT = (time(7), time(22, 30)), (time(22), time(6))
CET = Habits(tz=BERLIN)


@pytest.mark.parametrize(
    ("utc", "tz", "hours", "up"),
    [
        # Berlin puts its clocks on at 01:00 UTC of 28 March 2027 and back at 01:00 UTC of 25 October 2026
        ("2027-03-27T06:00", BERLIN, DAY, True),  # 07:00
        ("2027-03-28T05:00", BERLIN, DAY, True),  # 07:00, an hour earlier by the sun
        ("2027-03-28T04:59", BERLIN, DAY, False),
        ("2026-10-24T05:00", BERLIN, DAY, True),
        ("2026-10-25T05:00", BERLIN, DAY, False),  # 06:00 now
        ("2026-10-25T00:30", BERLIN, (time(2), time(2, 45)), True),  # 02:30, the first time
        ("2026-10-25T01:30", BERLIN, (time(2), time(2, 45)), True),  # and the second
        ("2026-10-25T03:30", BERLIN, NIGHT, True),  # 04:30, awake over midnight
        ("2026-10-25T05:30", BERLIN, NIGHT, False),
        # New York at 07:00 UTC of 14 March 2027 and at 06:00 UTC of 1 November 2026
        ("2027-03-14T10:59", NEW_YORK, DAY, False),  # 06:59
        ("2027-03-14T11:00", NEW_YORK, DAY, True),
        ("2026-11-01T11:30", NEW_YORK, DAY, False),  # 06:30
        ("2026-11-01T12:00", NEW_YORK, DAY, True),
        ("2026-11-01T10:59", NEW_YORK, NIGHT, True),  # 05:59
        ("2026-11-01T11:01", NEW_YORK, NIGHT, False),
    ],
)
def test_awake_is_by_the_clock_of_that_hour(utc, tz, hours, up):
    assert is_awake(datetime.fromisoformat(utc).replace(tzinfo=UTC), hours, tz) is up


@pytest.mark.parametrize(
    ("at", "hours", "found"),
    [
        ("2026-11-27T15:10+01:00", DAY, "2026-11-27T16:00+01:00"),
        ("2026-11-27T16:00+01:00", DAY, "2026-11-27T16:00+01:00"),
        ("2026-11-27T22:31+01:00", DAY, "2026-11-28T07:00+01:00"),
        ("2026-10-24T23:10+02:00", DAY, "2026-10-25T07:00+01:00"),
        ("2027-03-27T23:10+01:00", DAY, "2027-03-28T07:00+02:00"),
        ("2026-11-27T07:10+01:00", NIGHT, "2026-11-27T22:00+01:00"),
        ("2026-11-27T12:10+01:00", (time(7, 10), time(7, 20)), "2026-11-27T13:00+01:00"),  # never up at a full hour
    ],
)
def test_the_next_waking_hour(at, hours, found):
    assert next_waking_hour(datetime.fromisoformat(at), hours, BERLIN).isoformat()[:16] == found[:16]


def asleep(own, now=PITCH_AT - timedelta(days=9)):
    """What falls into the night, by task."""
    return {w.key: w.text for w in derive(own, now, CET).warnings if w.code == "outside-awake"}


ONE = {"step": (Step(1.6, hours_s=12 * 3600.0),)}  # yeast in at 03:00, weighing at 01:45


def test_each_task_in_the_night_is_told_once_with_rule_and_hour():
    told = asleep(session(**ONE))
    assert set(told) == {"step.0.weigh", "step.0.start"}
    assert told["step.0.weigh"].startswith("weighing at 01:45 is outside 07:00–22:30: ")
    assert told["step.0.start"].startswith("yeast in at 03:00 is outside 07:00–22:30: ")


def test_the_hours_named_bring_weighing_and_yeast_into_the_evening_before():
    own = session(**ONE)
    assert asleep(own)["step.0.weigh"].endswith("hours of 17 instead of 12 put it at 27 Nov 20:45")
    assert asleep(session(step=(Step(1.6, hours_s=17 * 3600.0),))) == {}
    assert asleep(session(step=(Step(1.6, hours_s=16 * 3600.0),))) != {}  # one hour less leaves the yeast at 23:00


def test_no_hours_are_named_that_have_gone_by():
    own = session(**ONE)
    late = asleep(own, PITCH_AT - timedelta(hours=14))  # 01:00: nothing earlier is left
    assert late["step.0.weigh"].endswith("pitching at Sat 21:00 puts it at Sat 07:45")


def test_what_is_begun_is_not_cut_short_for_the_sake_of_sleep():
    steps = (Step(0.6, hours_s=20 * 3600.0), Step(1.0, hours_s=12 * 3600.0))  # fed on top at 03:00
    for began, mend in ((32, "pitching at Sat 19:00 puts it at Sat 07:00"), (50, "hours of 17 instead of 12 put it")):
        own = session(step=steps, event=(happened("yeast-in", began),))
        assert mend in asleep(own, PITCH_AT - timedelta(hours=began - 1))["step.1.start"]


def test_a_longer_rest_brings_the_chill_into_the_day():
    own = session(**{**LAGER_IN_TWO_STEPS, "wort": replace(session().wort, rest_s=30 * 3600.0)})  # 09:00, then 06:00
    own = replace(own, step=tuple(replace(step, hours_s=21 * 3600.0) for step in own.step))
    told = asleep(own)
    assert "step.1.chill" not in told
    assert told["step.0.chill"].startswith("chilling at 06:00 is outside 07:00–22:30: a rest of ")
    rest_h = float(told["step.0.chill"].split("a rest of ")[1].split()[0])
    mended = replace(own, wort=replace(own.wort, rest_s=rest_h * 3600.0))
    assert "step.0.chill" not in asleep(mended)


def test_what_is_begun_is_chilled_in_the_day_by_pitching_later():
    own = session(
        batch=Batch("x", PITCH_AT, "decanted"),
        wort=replace(session().wort, rest_s=36 * 3600.0),  # chilled at 03:00
        event=(happened("yeast-in", 60),),
    )
    told = asleep(own, PITCH_AT - timedelta(hours=59))
    assert told["step.0.chill"].endswith("pitching at Sat 19:00 puts it at Fri 07:00")


def test_pitching_in_the_night_names_the_hours_before_and_after():
    own = session(batch=Batch("x", PITCH_AT + timedelta(hours=12)), step=(Step(1.6, hours_s=12 * 3600.0),))
    told = asleep(own)
    assert told["batch.pitch_at"] == (
        "pitching at 03:00 is outside 07:00–22:30: 28 Nov 22:00 or 29 Nov 07:00 would be within"
    )


def test_keeping_back_is_a_task_too():
    own = session(
        batch=Batch("x", PITCH_AT + timedelta(hours=12)),
        keep=Keep(cells_b=20.0),
        step=(Step(1.6, hours_s=12 * 3600.0),),
    )
    assert asleep(own)["keep.at"].startswith("keeping back at 03:00 is outside 07:00–22:30: pitching at ")


def test_where_no_hour_would_do_none_is_named():
    own = session(**ONE, day=Day(awake=(time(7), time(7, 5))))
    assert asleep(own)["step.0.weigh"] == "weighing at 01:45 is outside 07:00–07:05"


def test_the_day_of_one_who_wakes_at_night():
    own = session(**ONE, day=Day(awake=(time(22), time(6))))
    assert set(asleep(own)) == {"batch.pitch_at"}  # 15:00


def test_nothing_is_said_of_what_has_happened():
    own = session(**ONE, event=(happened("yeast-in", 12),))
    assert asleep(own, PITCH_AT - timedelta(hours=11)) == {}
