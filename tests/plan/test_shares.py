"""Which inputs a range comes from: against products of powers, and against random draws."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.plan.draws import at_draws
from tests.plan.sessions import LAGER_IN_TWO_STEPS, PACK, STIRRED_ALE, SWIRLED_JAR, ale, figures, plan_of, replace
from workbench.brewing.spread import LIKELY, Deviates
from workbench.plan.shares import ENDS, INPUTS, in_words, shares
from workbench.session.model import Step

RANDOM_DRAWS, BINS = 10_000, 40


def test_every_deviate_has_its_ends_and_its_name():
    assert tuple(INPUTS) == Deviates._fields
    assert len(ENDS) == 8
    for index, (low, high) in enumerate(zip(ENDS[::2], ENDS[1::2], strict=True)):
        assert (low[index], high[index]) == (-1.645, 1.645)
        assert all(z == 0.0 for end in (low, high) for j, z in enumerate(end) if j != index)


@given(st.lists(st.floats(-2.0, 2.0), min_size=4, max_size=4).filter(lambda powers: max(map(abs, powers)) > 0.01))
def test_a_product_of_powers_is_shared_out_by_their_squares(powers):
    at_ends = [math.exp(sum(a * z for a, z in zip(powers, end, strict=True))) for end in ENDS]
    found = dict(shares(at_ends))
    total = sum(a * a for a in powers)
    for name, a in zip(INPUTS.values(), powers, strict=True):
        assert found.get(name, 0.0) == pytest.approx(a * a / total, abs=1e-6)


@given(st.lists(st.floats(1e-6, 1e6), min_size=8, max_size=8))
def test_parts_add_up_to_one_the_largest_first(at_ends):
    found = [part for _, part in shares(at_ends)]
    assert found == sorted(found, reverse=True)
    assert not found or sum(found) == pytest.approx(1.0, abs=1e-8)


@pytest.mark.parametrize("at_ends", [[], [5.0] * 8, [0.0, *[5.0] * 7], [*[5.0] * 7, 0.0]])
def test_without_a_spread_or_with_nothing_at_an_end_there_are_no_shares(at_ends):
    assert shares(at_ends) == ()


def first_order(z, outcome):
    """The share of each input in the variance of ln f, all shares together 1.

    First-order indices (Sobol) as correlation ratios, Var(E[ln f | z_j]) / Var(ln f): the draws are sorted by z_j and
    cut into bins of equal size, whose means stand for the conditional expectation. Method from memory.
    """
    logs = np.log(outcome)
    explained = [
        np.var([part.mean() for part in np.array_split(logs[np.argsort(z[:, j])], BINS)]) for j in range(z.shape[1])
    ]
    return np.array(explained) / sum(explained)


SCENARIOS = {
    "stirred": STIRRED_ALE,
    "lager in two steps": LAGER_IN_TWO_STEPS,
    "kept jar, swirled": SWIRLED_JAR,
    "short of time": {**STIRRED_ALE, "step": (Step(1.6, hours_s=12 * 3600.0),)},
    "an old pack without its cells": {
        "beer": ale(),
        "yeast": (replace(PACK, cells_b=None, viability=0.6),),
        "step": (Step(0.5),),
    },
}


@pytest.mark.parametrize("scenario", SCENARIOS.values(), ids=SCENARIOS)
def test_shares_are_near_those_of_random_draws(scenario):
    # not nearer where a range lies askew or the yield bends: one at a time from the likely values sees neither
    plan = plan_of(**scenario)
    z = np.random.default_rng(20261128).standard_normal((RANDOM_DRAWS, 4))
    hand_b, out_b = at_draws(plan, z).T
    for figure, outcome in ((plan.hand.cells_b, hand_b), (plan.final.cells_b, out_b)):
        found = dict(figure.shares)
        for name, part in zip(INPUTS.values(), first_order(z, outcome), strict=True):
            assert found.get(name, 0.0) == pytest.approx(part, abs=0.15), (name, figure.why.says)


@pytest.mark.parametrize("scenario", SCENARIOS.values(), ids=SCENARIOS)
def test_every_estimate_over_the_draws_has_its_shares(scenario):
    plan = plan_of(**scenario)
    step, final = plan.steps[-1], plan.final
    estimates = [plan.hand.cells_b, step.cells_out_b, final.cells_b, final.pitched_b, final.chance]
    estimates += [figure for lot in plan.hand.lots for figure in (lot.cells_b, lot.viability)]
    assert all(sum(part for _, part in figure.shares) == pytest.approx(1.0) for figure in estimates)
    assert final.chance.shares == final.pitched_b.shares


def test_a_lot_in_store_knows_neither_growth_nor_time():
    (lot,) = plan_of().hand.lots
    assert {name for name, _ in lot.cells_b.shares} == {"cells when made", "loss in store"}
    assert lot.viability.shares == (("loss in store", 1.0),)


def test_a_count_with_a_wide_range_weighs_more():
    narrow, wide = (
        dict(plan_of(yeast=(replace(PACK, kind="counted", cells_low_b=low, cells_high_b=high),)).hand.cells_b.shares)
        for low, high in ((95.0, 105.0), (40.0, 250.0))
    )
    assert wide["cells when made"] > narrow["cells when made"]


def test_a_lot_that_may_be_spent_has_no_shares():
    old = replace(PACK, made_on=PACK.made_on.replace(year=2025))
    (lot,) = plan_of(yeast=(old,)).hand.lots
    assert lot.cells_b.value > 0.0
    assert lot.cells_b.shares == ()


def test_a_feeding_cut_short_hangs_on_time():
    times = [
        dict(plan_of(**{**STIRRED_ALE, "step": (Step(1.6, hours_s=hours * 3600.0),)}).final.cells_b.shares)["time"]
        for hours in (12, 60)
    ]
    assert times[0] > 0.5 > times[1]


def test_no_figure_without_a_range_has_shares():
    for path, figure in figures(plan_of(**STIRRED_ALE)):
        assert not figure.shares or figure.low is not None or path == "plan.final.chance", path


@pytest.mark.parametrize(
    ("parts", "told"),
    [
        ((), ""),
        ((("growth in the flask", 0.71), ("time", 0.29)), "mostly from growth in the flask (71 %)"),
        ((("time", 0.45), ("loss in store", 0.35), ("x", 0.2)), "from time (45 %) and loss in store (35 %)"),
    ],
)
def test_shares_in_words(parts, told):
    assert in_words(parts) == told


def test_the_likely_draw_is_at_no_end():
    assert LIKELY not in ENDS
