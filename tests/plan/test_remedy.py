"""What is advised for a dense start does what it says."""

from __future__ import annotations

import re

import pytest

from tests.plan.sessions import PACK, PITCH_AT, ale, lager, plan_of, replace
from workbench.session.model import Batch, Flask, Keep, Step

FOUR_PACKS = (replace(PACK, packs=4),)
ON_TOP = (Step(1.0), Step(0.3))
DECANTED = Batch("x", PITCH_AT, "decanted")


def advice(plan):
    return [warning.text for warning in plan.warnings if warning.code == "dense-start"][-1]


def advised_l(plan):
    return float(re.search(r"(\d+\.\d+) L at this gravity", advice(plan))[1])


CROWDED = {
    "a first feeding": {"yeast": FOUR_PACKS, "beer": ale(50.0), "step": (Step(0.8),)},
    "a feeding on top": {"beer": ale(35.0), "step": ON_TOP, "batch": DECANTED},
    "a lager": {"beer": lager(), "yeast": FOUR_PACKS, "step": (Step(0.5),)},
    "part of it kept": {"yeast": FOUR_PACKS, "beer": ale(40.0), "step": (Step(0.5),), "keep": Keep(cells_b=80.0)},
}


@pytest.mark.parametrize("tables", CROWDED.values(), ids=CROWDED)
def test_the_feeding_named_reaches_the_need(tables):
    plan = plan_of(**tables)
    assert plan.final.meets_need is False
    *earlier, last = tables["step"]
    larger = replace(last, wort_l=advised_l(plan), decant=bool(earlier))
    assert plan_of(**{**tables, "step": (*earlier, larger)}).final.meets_need is True


@pytest.mark.parametrize("tables", CROWDED.values(), ids=CROWDED)
def test_much_less_would_not_reach_it(tables):
    # the need is met by a hair at the litres named; a fifth less falls short even with the lead that rounding gives
    *earlier, last = tables["step"]
    smaller = replace(last, wort_l=0.8 * advised_l(plan_of(**tables)), decant=bool(earlier))
    assert plan_of(**{**tables, "step": (*earlier, smaller)}).final.meets_need is False


def test_the_feeding_named_reaches_the_need_where_a_volume_is_kept():
    tables = {"yeast": FOUR_PACKS, "beer": ale(40.0), "keep": Keep(volume_l=0.3)}
    litres = advised_l(plan_of(**tables, step=(Step(0.8),)))
    assert plan_of(**tables, step=(Step(litres),)).final.meets_need is True


def test_a_first_feeding_is_not_told_to_be_decanted():
    assert "decant" not in advice(plan_of(**CROWDED["a first feeding"]))


def test_a_bigger_flask_is_asked_for_where_this_one_is_too_small():
    tables = CROWDED["a feeding on top"]
    assert "in a bigger flask" not in advice(plan_of(**tables, flask=Flask(5.0)))
    assert "in a bigger flask" in advice(plan_of(**tables, flask=Flask(1.5)))


def test_where_no_feeding_would_reach_the_need_more_yeast_is_advised():
    assert advice(plan_of(yeast=FOUR_PACKS, beer=ale(500.0))).endswith("more yeast at the start would")


def test_where_the_need_is_met_only_the_range_is_told():
    plan = plan_of(yeast=FOUR_PACKS)
    out = plan.steps[0].cells_out_b
    assert plan.final.meets_need is True
    assert advice(plan).endswith(f"{out.low:.0f}–{out.high:.0f} B from {plan.hand.cells_b.value:.0f} B")
