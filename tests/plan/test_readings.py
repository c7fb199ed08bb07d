"""Readings put right one by one, with the instrument's own scale and factor."""

from __future__ import annotations

import pytest

from tests.plan.sessions import W_1034, before, codes, happened, plan_of, read, replace, session
from workbench.brewing import density, instruments
from workbench.plan.habits import Habits
from workbench.plan.readings import measured, noted, stamp
from workbench.session.model import Step

W_1050 = density.extract_from_sg(1.050)


def one(*readings, habits=None, **tables):
    plan = plan_of(habits, reading=readings, **tables)
    assert len(plan.readings) == 1
    return plan.readings[0]


def test_a_hydrometer_in_a_warm_sample():
    # 1.050 read at 40 °C on a scale for 20 °C is 1.05651 (computed from IAPWS-95, the ICUMSA polynomial, ISO 1768:1975)
    found = one(read("gravity", W_1050, 5, temperature_c=40.0))
    assert density.sg(found.true_w.value) == pytest.approx(1.05651, abs=5e-5)
    assert (found.place, found.step) == (0, 1)


def test_a_scale_made_for_60_f():
    habits = Habits(hydrometer_reference_c=(60.0 - 32.0) / 1.8)
    w = one(read("gravity", W_1050, 5, temperature_c=40.0), habits=habits).true_w.value
    assert w == instruments.hydrometer_extract(density.sg(W_1050), 40.0, (60.0 - 32.0) / 1.8)
    assert density.sg(w) != pytest.approx(1.05651, abs=5e-4)


def test_without_a_temperature_the_sample_is_taken_as_at_the_scales_own():
    assert one(read("gravity", W_1034, 5)).true_w.value == pytest.approx(W_1034, abs=1e-12)


@pytest.mark.parametrize("sample_c", [-5.0, 61.0, 95.0])
def test_a_sample_out_of_range_stays_as_read_with_a_caution(sample_c):
    plan = plan_of(reading=(read("gravity", W_1034, 5, temperature_c=sample_c),), event=(happened("boil-done", 6),))
    assert plan.readings[0].true_w.value == W_1034
    assert codes(plan) == ["reading-uncorrected"]


def test_a_refractometer_before_the_yeast():
    assert one(read("brix", 8.84, 5)).true_w.value == pytest.approx(0.085)
    assert one(read("brix", 8.84, 5), habits=Habits(brix_per_plato=1.0)).true_w.value == pytest.approx(0.0884)


def test_a_refractometer_after_the_yeast_tells_the_real_extract():
    pitched = (happened("yeast-in", 20),)
    fermenting = one(read("brix", 5.0, 5), event=pitched).true_w.value
    assert fermenting == pytest.approx(instruments.refractometer_real_extract(5.0, W_1034), abs=1e-12)
    assert fermenting < one(read("brix", 5.0, 21), event=pitched).true_w.value


def test_the_original_extract_is_that_of_the_whole_flask():
    steps = (Step(1.0, gravity_w=0.06), Step(1.0, gravity_w=0.10))
    found = one(read("brix", 5.0, 5, step=2), step=steps, event=(happened("yeast-in", 20, step=2),))
    first_g, second_g = density.wort(0.06, 20.0), density.wort(0.10, 20.0)
    original = (0.06 * first_g + 0.10 * second_g) / (first_g + second_g)
    assert found.true_w.value == pytest.approx(instruments.refractometer_real_extract(5.0, original), abs=1e-12)


@pytest.mark.parametrize(("sample_c", "doubted"), [(9.0, True), (10.0, False), (30.0, False), (31.0, True)])
def test_a_refractometer_out_of_its_range_is_doubted(sample_c, doubted):
    plan = plan_of(reading=(read("brix", 8.84, 5, temperature_c=sample_c),), event=(happened("boil-done", 6),))
    assert codes(plan) == (["reading-doubtful"] if doubted else [])


def test_only_gravities_are_put_right():
    others = (read("temperature", 40.0, 5), read("volume", 1.0, 5), read("count", 200.0, 5))
    assert plan_of(reading=others).readings == ()
    last = one(*others, read("gravity", W_1034, 4))
    assert last.place == 3


@pytest.mark.parametrize("step", [0, 2, 9])
def test_a_reading_of_a_feeding_that_is_not_there_is_shown_all_the_same(step):
    assert one(read("brix", 8.84, 5, step=step)).true_w.value == pytest.approx(0.085)


def test_what_is_noted_of_a_wort_is_its_last_by_the_clock_between_boil_and_yeast():
    found = session(
        reading=(
            read("volume", 1.1, 24),
            read("gravity", W_1034, 23, discarded_ml=50.0),
            read("brix", 8.0, 22, step=2),
            read("gravity", W_1050, 25, discarded_ml=30.0),
            read("volume", 1.2, 31),
            read("gravity", W_1050, 5, discarded_ml=70.0),
        ),
        event=(happened("boil-done", 30), happened("yeast-in", 20)),
    )
    assert noted(found, 1) == (1, 1.1, 80.0)
    assert noted(replace(found, event=()), 1) == (5, 1.1, 150.0)
    assert measured(replace(found, event=()), 1, Habits()) == (None, None, 0.0)
    assert measured(found, 1, Habits()) == (pytest.approx(W_1034), 1.1, 80.0)


def test_a_stamp_is_the_last_of_its_kind():
    events = (happened("boil-on", 30), happened("boil-on", 29), happened("boil-on", 1, step=2), happened("lost", 2))
    assert stamp(session(event=events), "boil-on", 1) == before(hours=29)
    assert stamp(session(event=events), "yeast-in", 1) is None
