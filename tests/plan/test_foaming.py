"""Foam control in the plan: drops, silicone through decants and into the beer, and fast foam."""

from __future__ import annotations

import pytest

from tests.plan.sessions import STIRRED_ALE, W_1034, ale, codes, happened, lager, plan_of, read, small_ale
from workbench.session.model import Batch, Foam, Keep, Step


def test_drops_by_the_rule_a_fixed_number_or_none():
    drops = [plan_of(**STIRRED_ALE, foam=foam).steps[0].foam.drops.value for foam in (Foam(), Foam(drops=3), Foam(0.0))]
    assert drops == [1, 3, 0]  # 1.6 L at two a US gallon, rounded up: common practice, no source


def test_without_foam_control_the_limits_tighten():
    limits = [(p.fill_limit_l.value, p.boil_limit_l.value) for p in (plan_of(), plan_of(foam=Foam(0.0)))]
    assert limits == [pytest.approx((2.7, 2.1)), pytest.approx((2.25, 1.5))]


def test_pitched_whole_all_of_it_goes_into_the_beer():
    plan = plan_of(**STIRRED_ALE, foam=Foam(drops=2))
    # 2 drops of 50 mg with 10 % are 10 mg, in 23 L and 1.6 L
    assert plan.steps[0].foam.silicone_mg_per_l.value == pytest.approx(10.0 / 1.6)
    assert plan.final.silicone_mg_per_l.value == pytest.approx(10.0 / 24.6)


def test_what_is_kept_takes_its_share():
    plan = plan_of(**STIRRED_ALE, foam=Foam(drops=2), keep=Keep(volume_l=0.4))
    assert plan.final.silicone_mg_per_l.value == pytest.approx(10.0 * 1.2 / 1.6 / (23.0 + 1.2))


def test_a_decant_leaves_its_share():
    steps = (Step(wort_l=1.0), Step(wort_l=2.0, decant=True))
    plan = plan_of(beer=lager(), step=steps, foam=Foam(drops=2))
    left_l = 0.15  # 5 % of 3 L
    there = 10.0 * left_l / 1.0 + 10.0
    assert plan.steps[1].foam.silicone_mg_per_l.value == pytest.approx(there / (left_l + 2.0))
    assert plan.final.silicone_mg_per_l.value == pytest.approx(there * left_l / (left_l + 2.0) / (20.0 + left_l))


def test_a_sample_not_put_back_takes_its_share():
    sample = {"event": (happened("boil-done", 31),), "reading": (read("gravity", W_1034, 30, discarded_ml=400.0),)}
    plan = plan_of(**STIRRED_ALE, **sample, foam=Foam(drops=2))
    assert plan.final.silicone_mg_per_l.value == pytest.approx(7.5 / 24.2, rel=1e-3)  # 1.2 of 1.6 L


def test_without_a_feeding_there_is_none():
    assert plan_of(beer=small_ale(), step=()).final.silicone_mg_per_l.value == 0.0


def test_over_the_limit_it_says_how_many_drops_stay_below():
    strong = {"beer": ale(1.0, 1.050), "step": (Step(wort_l=1.0),)}
    plan = plan_of(**strong, foam=Foam(drops=6, active=0.3))
    (told,) = [w for w in plan.warnings if w.code == "much-silicone"]
    # 6 × 15 mg in 2 L are 45 mg/L; one drop is 7.5
    assert plan.final.silicone_mg_per_l.value == pytest.approx(45.0)
    assert "1 drop in all stays below" in told.text
    fewer = plan_of(**strong, foam=Foam(drops=1, active=0.3))
    assert "much-silicone" not in codes(fewer)


def test_foam_that_climbs_fast_is_told_at_a_boil_in_the_flask_only():
    full = {"step": (Step(wort_l=2.4),), "beer": ale(23.0, 1.056)}
    assert "foam-climbs" in codes(plan_of(**full))
    in_a_pot = plan_of(beer=ale(23.0, 1.056), step=(Step(wort_l=2.4, boil_in="pot"),))
    assert "foam-climbs" not in codes(in_a_pot)
    assert in_a_pot.steps[0].foam.climb_mm.value is None


def test_not_known_stays_unknown():
    plan = plan_of(batch=Batch("x"), step=(Step(),))
    foam = plan.steps[0].foam
    assert (foam.drops.value, foam.silicone_mg_per_l.value, plan.final.silicone_mg_per_l.value) == (None, None, None)
