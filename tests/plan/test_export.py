"""The plan as plain data: exactly the format's keys, full precision, null for what cannot be said."""

from __future__ import annotations

import json
from datetime import date, datetime, timedelta, timezone
from zoneinfo import ZoneInfo

import pytest

from tests.plan.sessions import (
    LAGER_IN_TWO_STEPS,
    PACK,
    PITCH_AT,
    RAW,
    STIRRED_ALE,
    SWIRLED_JAR,
    before,
    happened,
    plan_of,
    replace,
    session,
)
from workbench.brewing import density
from workbench.plan.derive import derive
from workbench.plan.export import as_data
from workbench.plan.habits import Habits
from workbench.session.model import Batch, Keep, Reading, Session

TOP = "batch need hand starter_needed planned_by steps final chain schedule clock warnings"
STEP = """wort_l gravity_sg plato powder_g water_l top_up_l boil_off_ml extract_g decant motion temperature_c boil_in
    flask_l fill_fraction headroom_ml surface_rise_factor fill_fits hot_boil_l boil_fits
    cells_in_b cells_out_b hours hours_range hours_planned start end
    foam_drops silicone_mg_per_l boil_c heat_kj ice_kg wort_level_mm float_depth_mm"""
FINAL = "cells_b kept_b pitched_b meets_need chance beer_gravity_sg silicone_mg_per_l"

SPRING = datetime(2027, 3, 28, 15, tzinfo=timezone(timedelta(hours=2)))  # Berlin put its clocks on in the night before
SESSIONS = [
    STIRRED_ALE,
    LAGER_IN_TWO_STEPS,
    SWIRLED_JAR,
    {"yeast": (RAW,)},
    {"yeast": ()},
    {"batch": Batch("x")},
    {"beer": None},
]


@pytest.mark.parametrize("tables", SESSIONS)
def test_the_keys_are_exactly_the_formats(tables):
    data = as_data(plan_of(**tables))
    assert set(data) == set(TOP.split())
    assert set(data["batch"]) == {"name", "pitch_at"}
    assert set(data["need"]) == {"cells_b", "plato", "rate"}
    assert set(data["hand"]) == {"cells_b", "lots"}
    assert set(data["final"]) == set(FINAL.split())
    assert set(data["clock"]) == {"boil_s", "boil_left_s", "holds", "cool"}
    for lot in data["hand"]["lots"]:
        assert set(lot) == {"kind", "cells_b", "viability", "age_days"}
    for step in data["steps"]:
        assert set(step) == set(STEP.split())
    for task in data["schedule"]:
        assert set(task) == {"at", "earliest", "latest", "task", "step"}
    for warning in data["warnings"]:
        assert set(warning) == {"code", "level", "text", "key"}


@pytest.mark.parametrize("tables", SESSIONS)
def test_it_is_json_without_nan_and_reads_back_the_same(tables):
    data = as_data(plan_of(**tables))
    assert json.loads(json.dumps(data, allow_nan=False)) == data


def test_figures_keep_their_full_precision():
    plan = plan_of(**STIRRED_ALE)
    data = json.loads(json.dumps(as_data(plan)))
    (step,) = data["steps"]
    assert step["powder_g"] == plan.steps[0].powder_g.value
    assert step["gravity_sg"] == density.sg(plan.steps[0].gravity_w.value)
    assert step["plato"] == 100.0 * plan.steps[0].gravity_w.value
    assert data["final"]["chance"] == plan.final.chance.value
    assert data["final"]["beer_gravity_sg"] == density.sg(plan.final.beer_gravity_w.value)


def test_an_estimate_is_low_likely_high():
    plan = plan_of(**STIRRED_ALE)
    pitched = plan.final.pitched_b
    assert as_data(plan)["final"]["pitched_b"] == {"low": pitched.low, "likely": pitched.value, "high": pitched.high}


def test_times_are_rfc_3339_with_their_offset():
    plan = plan_of(**STIRRED_ALE)
    data = as_data(plan)
    assert data["batch"]["pitch_at"] == "2026-11-28T15:00:00+01:00"
    assert datetime.fromisoformat(data["steps"][0]["start"]) == plan.steps[0].start


def test_the_schedule_is_in_the_zone_shown_with_the_offset_of_each_hour():
    own = session(**STIRRED_ALE, yeast=(replace(PACK, made_on=date(2027, 3, 1)),), batch=Batch("x", SPRING))
    schedule = as_data(derive(own, SPRING - timedelta(days=2), Habits(tz=ZoneInfo("Europe/Berlin"))))["schedule"]
    told = {(task["step"], task["task"]): task for task in schedule}
    start, pitch = told[1, "yeast in"], told[0, "yeast into the beer"]
    assert schedule[0]["at"] == "2027-03-27T14:45:00+01:00"
    assert (start["at"], pitch["at"]) == ("2027-03-27T16:00:00+01:00", "2027-03-28T15:00:00+02:00")
    assert told[0, "bring near the beer's temperature"]["at"] == "2027-03-28T13:00:00+02:00"
    assert pitch["earliest"] == pitch["latest"] == pitch["at"]
    assert start["earliest"] < start["at"] < start["latest"]


def test_the_clock_is_read_at_the_plans_own_now():
    begun = happened("boil-on", 30), happened("cool-on", 29.9)._replace(temperature_c=2.0)
    cooled = tuple(
        Reading(before(hours=29.9 - minutes / 60.0), 1, "temperature", celsius)
        for minutes, celsius in ((2, 80.0), (5, 60.0), (9, 43.0))
    )
    running = session(**STIRRED_ALE, event=begun[:1])
    clock = as_data(derive(running, before(hours=30) + timedelta(seconds=90)))["clock"]
    assert (clock["boil_s"], clock["boil_left_s"], clock["holds"], clock["cool"]) == (90.0, 510.0, 0, None)
    assert as_data(derive(running, before(hours=29)))["clock"]["boil_left_s"] == 0.0
    own = session(**STIRRED_ALE, event=begun, reading=cooled)
    clock = as_data(derive(own, before(hours=29)))["clock"]
    assert (clock["boil_s"], clock["boil_left_s"]) == (pytest.approx(360.0), pytest.approx(240.0))
    assert set(clock["cool"]) == {"k_per_min", "k_se", "eta", "eta_band_s"}
    assert clock["cool"]["k_per_min"] == pytest.approx(0.092, abs=0.005)
    assert clock["cool"]["k_se"] > 0.0
    assert clock["cool"]["eta_band_s"] > 0.0


def test_hours_are_hours():
    step = as_data(plan_of(**STIRRED_ALE))["steps"][0]
    low, high = step["hours_range"]
    assert (low, high) == pytest.approx((0.7 * step["hours"], 1.6 * step["hours"]))
    assert step["hours_planned"] == pytest.approx(22.0)


def test_what_cannot_be_said_is_null():
    data = as_data(derive(Session(), PITCH_AT))
    assert data["batch"] == {"name": "", "pitch_at": None}
    assert data["need"] == {"cells_b": None, "plato": None, "rate": None}
    assert data["hand"] == {"cells_b": None, "lots": []}
    assert data["starter_needed"] is None
    assert data["final"]["pitched_b"] is data["final"]["chance"] is data["final"]["meets_need"] is None
    untold = as_data(plan_of(yeast=()))["steps"][0]
    assert untold["cells_in_b"] is untold["cells_out_b"] is untold["hours"] is untold["hours_range"] is None


def test_a_build_for_the_shelf():
    data = as_data(plan_of(beer=None, keep=Keep(cells_b=150.0)))
    assert data["need"] == {"cells_b": 150.0, "plato": None, "rate": None}
    assert data["final"]["beer_gravity_sg"] is None
    assert data["final"]["kept_b"] == 150.0
