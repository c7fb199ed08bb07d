"""The feeding that grows: how far it is by the model and by a gravity, and when it rests."""

from __future__ import annotations

import pytest

from tests.plan.sessions import (
    LAGER_IN_TWO_STEPS,
    STIRRED_ALE,
    W_1034,
    before,
    happened,
    plan_of,
    read,
)
from workbench.brewing import attenuation
from workbench.brewing.density import extract_from_sg
from workbench.plan.growing import share_at


def growth(*events, **tables):
    plan = plan_of(**{**STIRRED_ALE, **tables}, event=events)
    return plan.clock.growth


def test_before_the_yeast_is_in_and_after_it_is_pitched_nothing_grows():
    assert growth() is None
    assert growth(happened("yeast-in", 24), happened("pitched", 0, step=0)) is None


def test_the_share_rises_to_what_the_planned_hours_wait_for():
    grown = growth(happened("yeast-in", 24))
    shares = [share_at(grown, before(hours=hours)) for hours in (25, 24, 16, 8, 2, 0)]
    assert shares[:2] == [0.0, 0.0]
    assert shares == sorted(shares)
    plan = plan_of(**STIRRED_ALE, event=(happened("yeast-in", 24),))
    assert share_at(grown, before(hours=24 - plan.steps[0].hours.value)) == pytest.approx(0.95, abs=1e-6)


def test_in_the_cold_nothing_grows_on():
    grown = growth(happened("yeast-in", 80), happened("chill-on", 72), **LAGER_IN_TWO_STEPS)
    assert grown.cold == before(hours=72)
    assert share_at(grown, before(hours=60)) == share_at(grown, before(hours=72)) < 0.95
    assert (
        grown.due
        == plan_of(**LAGER_IN_TWO_STEPS, event=(happened("yeast-in", 80), happened("chill-on", 72))).steps[1].start
    )


def test_a_gravity_at_the_start_is_none_of_the_way_and_one_at_the_end_all():
    start, end = W_1034, attenuation.apparent_extract(W_1034, 0.38 * W_1034)
    events = (happened("boil-done", 25), happened("yeast-in", 24))
    plan = plan_of(**STIRRED_ALE, event=events, reading=(read("gravity", start, 23.9), read("gravity", end, 2)))
    first, last = plan.clock.growth.tests
    assert first.share.value == pytest.approx(0.0, abs=0.02)
    assert last.share.value == pytest.approx(1.0, abs=0.02)
    assert first.model < 0.05
    assert last.model > 0.9
    assert last.end_w == pytest.approx(end, abs=1e-4)
    assert "about 1.0" in last.share.why.says


def test_a_refractometer_sees_real_extract():
    events = (happened("boil-done", 25), happened("yeast-in", 24))
    brix = read("brix", 8.5, 2)
    (told,) = plan_of(**STIRRED_ALE, event=events, reading=(brix,)).clock.growth.tests
    assert 0.0 < told.share.value < 0.2


def test_readings_before_the_yeast_or_of_another_feeding_do_not_count():
    events = (happened("boil-done", 25), happened("yeast-in", 24))
    early = read("gravity", extract_from_sg(1.030), 24.5)
    assert plan_of(**STIRRED_ALE, event=events, reading=(early,)).clock.growth.tests == ()
