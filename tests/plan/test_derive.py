"""A plan of any session at all: nothing is raised, every number is finite, every figure has its reason."""

from __future__ import annotations

import json
import math
from datetime import UTC, date, datetime

import pytest
from hypothesis import given

from tests.examples import at_most
from tests.plan.sessions import (
    LAGER_IN_TWO_STEPS,
    PACK,
    PITCH_AT,
    STIRRED_ALE,
    SWIRLED_JAR,
    W_1034,
    WORT,
    figures,
    happened,
    parts,
    plan_of,
    read,
    replace,
    session,
    small_ale,
)
from tests.plan.strategies import sessions
from workbench.plan.derive import derive
from workbench.plan.export import as_data
from workbench.session.model import Batch, Beer, Day, Flask, Keep, Lot, Session, Step

STATUSES = {"quoted", "published", "computed", "memory", "common practice", "recommended", "typed", "missing"}


@at_most(300)
@given(sessions)
def test_any_session_has_a_plan(any_session):
    plan = derive(any_session, PITCH_AT)
    for path, part in parts(plan):
        assert not isinstance(part, float) or math.isfinite(part), path
    for path, figure in figures(plan):
        assert figure.why.says, path
        assert figure.why.source.cite, path
        assert figure.why.source.status in STATUSES, path
        if figure.low is not None:
            assert figure.low <= figure.value <= figure.high, path
    assert all(warning.text and warning.key for warning in plan.warnings)
    json.dumps(as_data(plan), allow_nan=False)


@at_most(50)
@given(sessions)
def test_a_plan_depends_on_nothing_but_the_session_and_now(any_session):
    assert derive(any_session, PITCH_AT) == derive(any_session, PITCH_AT)


@pytest.mark.parametrize("scenario", [STIRRED_ALE, LAGER_IN_TWO_STEPS, SWIRLED_JAR])
def test_a_whole_plan_leaves_no_estimate_without_a_range(scenario):
    plan = plan_of(**scenario)
    estimates = [plan.hand.cells_b, plan.final.cells_b, plan.final.pitched_b]
    estimates += [lot.cells_b for lot in plan.hand.lots] + [step.cells_out_b for step in plan.steps]
    assert all(estimate.low < estimate.value < estimate.high for estimate in estimates)
    assert 0.0 < plan.final.chance.value < 1.0


def test_an_empty_session_has_a_plan():
    plan = derive(Session(), PITCH_AT)
    assert (plan.planned_by, plan.starter_needed, plan.steps, plan.moments) == ("none", None, (), ())
    assert plan.need.cells_b.value is None
    assert plan.hand.cells_b.value is None
    assert plan.final.chance.value is None


@pytest.mark.parametrize(("steps", "by"), [((), "planner"), ((Step(),), "brewer")])
def test_who_planned_the_feedings(steps, by):
    assert plan_of(step=steps).planned_by == by


def test_nobody_plans_where_no_starter_is_needed():
    plan = plan_of(beer=small_ale(), step=())
    assert (plan.planned_by, plan.starter_needed, plan.steps) == ("none", False, ())


def test_where_nothing_fits_the_limit_and_the_changes_are_told():
    plan = plan_of(flask=Flask(size_l=0.5), step=())
    assert (plan.planned_by, plan.starter_needed, plan.steps) == ("none", True, ())
    (warning,) = [w for w in plan.warnings if w.code == "no-plan"]
    assert warning.level == "caution"
    assert "limit binds" in warning.text
    assert "a flask of 1 L" in warning.text


def test_the_moments_come_in_their_order():
    plan = plan_of(**LAGER_IN_TWO_STEPS)
    first, second = plan.steps
    told = {(moment.step, moment.what): moment.at for moment in plan.moments}
    assert told[1, "yeast in"] == first.start
    assert told[1, "chill feeding 1 to settle"] == first.end
    assert told[2, "pour off, feed 2"] == second.start
    assert told[2, "chill feeding 2 to settle"] == second.end
    assert told[0, "pour off, into the beer"] == PITCH_AT
    assert (first.start - told[1, "yeast out; warm, swell as labelled"]).total_seconds() == 75 * 60


def test_a_feeding_on_top_asks_for_no_rest():
    plan = plan_of(step=(Step(0.5), Step(0.5)))
    assert "feed 2, on top" in [moment.what for moment in plan.moments]
    assert not any("chill" in moment.what for moment in plan.moments)


def test_a_build_for_the_shelf_goes_into_the_fridge():
    plan = plan_of(beer=None, keep=Keep(cells_b=150.0))
    assert plan.moments[-1].what == "into the fridge"


BEYOND_THE_CALENDAR = {
    "ages of growing": {"step": (Step(1.0, hours_s=1e12),)},
    "ages of rest": {"batch": Batch("x", PITCH_AT, "decanted"), "wort": replace(WORT, rest_s=1e12)},
    "ages of preparing": {"day": Day(prepare_s=1e12)},
    "pitched in the year 1": {"batch": Batch("x", datetime(1, 1, 1, tzinfo=UTC))},
}


@pytest.mark.parametrize("tables", BEYOND_THE_CALENDAR.values(), ids=BEYOND_THE_CALENDAR)
def test_hours_beyond_the_calendar_have_a_plan(tables):
    json.dumps(as_data(derive(session(**tables), PITCH_AT)), allow_nan=False)


EXTREMES = {
    "a huge step": {"step": (Step(1e300),)},
    "a tiny step": {"step": (Step(1e-300),)},
    "a huge beer": {"beer": Beer(1e300, 0.35)},
    "a tiny pack": {"yeast": (replace(PACK, cells_b=1e-300),)},
    "a pack of the year 1": {"yeast": (Lot("pack", date(1, 1, 1), cells_b=100.0),)},
    "a pack kept at the boil": {"yeast": (replace(PACK, stored_at_c=110.0),)},
    "a dead pack": {"yeast": (replace(PACK, viability=0.0),)},
    "a pack of no cells": {"yeast": (replace(PACK, cells_b=0.0),)},
    "a sample larger than the wort": {
        "keep": Keep(volume_l=0.5),
        "event": (happened("boil-done", 31),),
        "reading": (read("gravity", W_1034, 30, discarded_ml=2000.0),),
    },
    "walls that leave no room": {"flask": Flask(3.0, wall_mm=93.5)},
    "a neck that leaves no room": {"flask": Flask(3.0, neck_mm=4.4), "step": (Step(3.1),)},
    "a kept jar of no cells": {"yeast": (replace(PACK, kind="kept", cells_b=0.0),)},
    "all of it kept": {"keep": Keep(cells_b=1e9)},
    "nothing kept": {"keep": Keep(volume_l=0.0)},
}


@pytest.mark.parametrize("tables", EXTREMES.values(), ids=EXTREMES)
def test_extremes_have_a_plan(tables):
    json.dumps(as_data(derive(session(**tables), PITCH_AT)), allow_nan=False)
