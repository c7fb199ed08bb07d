"""The batches to come: the arithmetic by hand, cells that neither come from nowhere nor get lost, the level feeding."""

from __future__ import annotations

import json
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.plan.sessions import JAR, PACK, PITCH_AT, STIRRED_ALE, W_1034, ale, codes, figures, plan_of, small_ale
from tests.plan.strategies import sessions
from workbench.brewing import density
from workbench.brewing.starter import Feeding
from workbench.plan.chain import Repeat, _level, follow, level_l
from workbench.plan.derive import derive
from workbench.plan.export import as_data
from workbench.session.model import Batch, Keep, Step

DAY_S = 86400.0
LEFT_AFTER_28_D = math.exp(-0.0075 * 28.0)
EXTRACT_G = W_1034 * 1.6 * density.wort(W_1034, 20.0)
GROWN_B = 0.95 * 1.4 * EXTRACT_G  # stirred, below the dense start, left for 95 % of its growth
DECANTED = Batch("x", PITCH_AT, "decanted")


def test_each_batch_grows_from_what_the_one_before_kept():
    found = plan_of(**STIRRED_ALE, keep=Keep(cells_b=60.0)).chain
    assert [batch.number for batch in found.batches] == [1, 2, 3, 4]
    for batch in found.batches:
        assert batch.start_b.value == pytest.approx(60.0 * LEFT_AFTER_28_D)
        assert batch.grown_b.value == pytest.approx(60.0 * LEFT_AFTER_28_D + GROWN_B)
        assert batch.kept_b.value == 60.0
        assert batch.pitched_b.value == pytest.approx(60.0 * LEFT_AFTER_28_D + GROWN_B - 60.0)
    assert found.runs_down is True
    assert found.batches[0].meets_need is False


def test_a_volume_is_its_share_of_jar_and_wort_each_time():
    plan = plan_of(**STIRRED_ALE, keep=Keep(volume_l=0.4))
    first, second, *_ = plan.chain.batches
    assert first.start_b.value == pytest.approx(LEFT_AFTER_28_D * plan.final.kept_b.value)
    assert first.kept_b.value == pytest.approx(first.grown_b.value * 0.4 / 2.0)
    assert second.start_b.value == pytest.approx(LEFT_AFTER_28_D * first.kept_b.value)


def test_a_first_feeding_that_decants_pours_the_jars_liquid_off():
    poured = plan_of(**{**STIRRED_ALE, "step": (Step(1.6, decant=True),)}, keep=Keep(volume_l=0.4)).chain.batches[0]
    assert poured.kept_b.value == pytest.approx(poured.grown_b.value * 0.4 / 1.75)  # 150 mL of 3 L are left
    assert poured.grown_b.value == pytest.approx(0.95 * poured.start_b.value + GROWN_B)


def test_the_days_between_batches_are_the_brewers():
    soon, late = (
        plan_of(**STIRRED_ALE, keep=Keep(60.0, every_s=days * DAY_S)).chain.batches[0].start_b.value
        for days in (7.0, 70.0)
    )
    assert (soon, late) == pytest.approx((60.0 * math.exp(-0.0525), 60.0 * math.exp(-0.525)))


def test_of_a_build_for_the_shelf_all_goes_into_the_fridge():
    plan = plan_of(beer=None, keep=Keep(cells_b=100.0))
    first = plan.chain.batches[0]
    assert first.start_b.value == pytest.approx(LEFT_AFTER_28_D * plan.final.pitched_b.value)
    assert (first.kept_b.value, first.pitched_b.value) == (first.grown_b.value, 0.0)
    assert first.meets_need is True


def test_too_few_cells_to_tell_what_grows_end_the_chain():
    plan = plan_of(**STIRRED_ALE, keep=Keep(cells_b=0.1))
    (only,) = plan.chain.batches
    assert (only.grown_b.value, only.pitched_b.value, only.holds) == (None, None, False)
    assert plan.chain.runs_down is True
    assert "left at its start" in next(w.text for w in plan.warnings if w.code == "runs-down")


@pytest.mark.parametrize(
    "tables",
    [
        {},
        {"keep": Keep()},
        {"keep": Keep(cells_b=0.0)},
        {"keep": Keep(volume_l=0.0)},
        {"keep": Keep(20.0), "beer": small_ale(), "step": ()},
        {"keep": Keep(60.0), "step": (Step(),)},
        {"keep": Keep(60.0), "yeast": ()},
        {"keep": Keep(60.0), "batch": Batch("x")},
    ],
)
def test_there_is_none_where_nothing_is_kept_or_not_known_how_much(tables):
    assert plan_of(**tables).chain is None


def test_without_a_need_there_is_no_verdict():
    found = plan_of(beer=ale()._replace(gravity_w=None), keep=Keep(cells_b=60.0)).chain
    assert (found.runs_down, found.level_g.value) == (None, None)
    assert "need is not known" in found.level_g.why.says


def test_what_holds_level_says_so_and_earns_no_warning():
    short = plan_of(**STIRRED_ALE, keep=Keep(cells_b=60.0))
    assert "176 B pitched of 238 B" in next(w.text for w in short.warnings if w.code == "runs-down")
    enough = {**STIRRED_ALE, "step": (Step(short.chain.level_l.value),)}
    level = plan_of(**enough, keep=Keep(cells_b=60.0))
    assert level.chain.runs_down is False
    assert "runs-down" not in codes(level)
    assert level.chain.batches[3].pitched_b.value == pytest.approx(level.need.cells_b.value)


def test_the_level_feeding_by_hand():
    """Stirred: x + 0.95·1.4·E = keep + need, with x the keep after 28 days."""
    plan = plan_of(**STIRRED_ALE, keep=Keep(cells_b=60.0))
    by_hand_g = (60.0 + plan.need.cells_b.value - 60.0 * LEFT_AFTER_28_D) / (0.95 * 1.4)
    assert plan.chain.level_g.value == pytest.approx(by_hand_g)
    assert plan.chain.level_l.value == pytest.approx(1.6 * by_hand_g / EXTRACT_G)


def repeat(**changes):
    """One stirred litre for 200 B, 60 B kept for 28 days."""
    usual = Repeat(
        (Feeding(100.0, decant=False, motion="stirred", rate=0.2),), W_1034, 200.0, 60.0, 0.0, 1.0, 0.0, 28.0, 1.0,
        shelf=False,
    )  # fmt: skip
    return usual._replace(**changes)


def fed_with(asked, litres):
    """The same chain on one feeding of so many litres."""
    grams = W_1034 * litres * density.wort(W_1034, 20.0)
    one = asked.feedings[0]._replace(extract_g=grams)
    return asked._replace(feedings=(one,), content_l=asked.before_l + litres)


@st.composite
def repeats(draw):
    motion = draw(st.sampled_from(["stirred", "swirled", "still"]))
    feeding = Feeding(100.0, draw(st.booleans()), motion, draw(st.floats(0.1, 0.4)))
    keep_b, keep_l = draw(st.tuples(st.floats(5.0, 300.0), st.just(0.0)) | st.tuples(st.none(), st.floats(0.05, 1.5)))
    return repeat(
        feedings=(feeding,),
        need_b=draw(st.floats(20.0, 600.0)),
        keep_b=keep_b,
        keep_l=keep_l,
        before_l=min(keep_l, 0.15) if feeding.decant else keep_l,
        days=draw(st.floats(5.0, 150.0)),  # what loses under 2 % needs growth so slight that its hours cannot be told
        through=draw(st.sampled_from([1.0, 0.95])),
        shelf=draw(st.booleans()),
    )


@given(repeats())
def test_the_level_feeding_holds_batch_after_batch(asked):
    litres = level_l(asked)
    if litres is None:
        return
    *_, settled = follow(fed_with(asked, litres), 5000.0, 300)
    assert all(batch.holds for batch in follow(fed_with(asked, litres), settled.kept_b.value))


@given(repeats().filter(lambda asked: asked.keep_b is not None or asked.shelf))
def test_a_smaller_feeding_does_not_hold(asked):
    litres = level_l(asked)
    if litres is None or litres < 0.01:
        return
    kept_b = asked.need_b if asked.shelf else asked.keep_b
    assert not all(batch.holds for batch in follow(fed_with(asked, 0.97 * litres), kept_b))


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"feedings": (Feeding(100.0, decant=False, motion="stirred", rate=0.0),)}, "nothing grows"),
        ({"days": 700.0}, "nothing that was kept is alive"),
        ({"keep_b": 0.4}, "keep more"),
        ({"need_b": 5000.0}, "up to 20 L"),
    ],
)
def test_where_no_feeding_holds_it_the_reason_is_told(changes, says):
    assert level_l(repeat(**changes)) is None
    assert says in _level(repeat(**changes))[0].why.says


@given(repeats(), st.floats(1.0, 500.0))
def test_cells_neither_come_from_nowhere_nor_get_lost(asked, jar_b):
    for batch in follow(asked, jar_b):
        assert batch.start_b.value == pytest.approx(jar_b * math.exp(-0.0075 * asked.days))
        if batch.grown_b.value is None:
            return
        used_b = batch.kept_b.value + batch.pitched_b.value / asked.through
        assert used_b == pytest.approx(batch.grown_b.value * (asked.through if asked.shelf else 1.0))
        jar_b = batch.kept_b.value


@given(sessions, st.floats(0.5, 500.0), st.floats(1.0, 1e9))
def test_any_session_that_keeps_something_has_a_chain_of_numbers(any_session, kept_b, every_s):
    fed = tuple(step._replace(wort_l=step.wort_l or 1.0, hours_s=step.hours_s or 86400.0) for step in any_session.step)
    usual = {"batch": Batch("x", PITCH_AT), "yeast": (PACK,), "keep": Keep(kept_b, every_s=every_s), "step": fed}
    plan = derive(any_session._replace(**usual), PITCH_AT)
    told = plan.chain is not None
    assert told == bool(fed and plan.final.cells_b.value)
    json.dumps(as_data(plan)["chain"], allow_nan=False)
    for path, figure in figures(plan):
        assert figure.value is None or math.isfinite(figure.value), path


def test_a_jar_is_filled_before_the_decant():
    jar = plan_of(yeast=(JAR,), keep=Keep(volume_l=0.3), batch=DECANTED)
    assert jar.chain.batches[0].start_b.value == pytest.approx(LEFT_AFTER_28_D * jar.final.kept_b.value)
