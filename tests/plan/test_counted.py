"""A raw count as figures: the numbers in their reasons, the limits, and what a count makes of the plan."""

from __future__ import annotations

import pytest
from scipy.stats import binomtest, chi2

from tests.brewing.yeast_tables import FIELDS
from tests.plan.sessions import PACK, RAW, plan_of, replace

LOW_B, HIGH_B = 0.2 * chi2.ppf(0.025, 350), 0.2 * chi2.ppf(0.975, 352)  # half of them are of cells, each 0.4 B


def lot_of(**changes):
    return plan_of(yeast=(replace(RAW, **changes),)).hand.lots[0]


def test_the_cells_of_the_jar_with_the_limits_of_the_count():
    count = lot_of().raw_count
    assert count.found == 175
    assert count.density.value == pytest.approx(0.35)
    assert (count.cells_b.low, count.cells_b.value, count.cells_b.high) == pytest.approx((LOW_B, 70.0, HIGH_B))
    assert (count.density.low, count.density.high) == pytest.approx((LOW_B / 200.0, HIGH_B / 200.0))


def test_the_range_of_the_lot_is_that_of_the_count():
    # over the draws low and high of an input are its 5 and 95 % points; here the loss in eight days adds little
    live = lot_of().cells_b
    assert live.low / live.value == pytest.approx(LOW_B / 70.0, rel=0.04)
    assert live.high / live.value == pytest.approx(HIGH_B / 70.0, rel=0.04)


def test_the_reason_has_the_count_its_limits_and_their_source():
    why = lot_of(stained=14).raw_count.cells_b.why
    assert "175/5/0.004 µL × 40 × 200 mL = 70 B" in why.says
    assert "175 cells found may stand for 150 to 202.9 (Garwood, 95 %)" in why.says
    assert "Garwood" in why.source.cite
    assert why.source.status == "memory"


def test_the_reason_of_the_live_cells_too():
    why = lot_of(stained=14).cells_b.why
    assert why.says.startswith("175/5/0.004 µL × 40 × 200 mL × 0.92 × exp(")
    assert "Garwood's limits of the count" in why.unsure
    assert "from memory" in why.source.cite


def test_an_undiluted_sample_is_not_multiplied():
    assert "175/5/0.004 µL × 200 mL" in lot_of(dilution=1.0).raw_count.cells_b.why.says


def test_an_uneven_count_says_how_far_its_limits_were_moved():
    count = lot_of(squares=FIELDS).raw_count
    assert "√2.7 times as far apart" in count.cells_b.why.says
    assert "times as far" not in lot_of().raw_count.cells_b.why.says


def test_limits_typed_stand_instead():
    count = lot_of(cells_low_b=66.0, cells_high_b=75.0).raw_count
    assert (count.cells_b.low, count.cells_b.high) == (66.0, 75.0)
    assert "limits typed" in count.cells_b.why.says


def test_the_live_share_has_wilsons_limits():
    lot = lot_of(stained=14)
    share, limits = lot.raw_count.viability, binomtest(161, 175).proportion_ci(method="wilson")
    assert (share.low, share.value, share.high) == pytest.approx((limits.low, 0.92, limits.high))
    assert share.why.says == "1 - 14/175 = 0.920; 0.870 to 0.952 (Wilson, 95 %)"
    assert (share.why.source.status, lot.viability_made) == ("memory", 0.92)
    assert lot_of().raw_count.viability.value is None


def test_without_the_jar_the_density_is_known_and_the_cells_are_not():
    count = lot_of(volume_l=None, made_on=None).raw_count
    assert count.density.value == pytest.approx(0.35)
    assert count.cells_b.value is None
    assert "jar" in count.cells_b.why.says


def test_cells_typed_outright_win():
    lot = lot_of(cells_b=50.0)
    assert lot.raw_count.cells_b.value is None
    assert lot.cells_b.why.says.startswith("50 B × 1 × exp(")
    assert "Garwood" not in lot.cells_b.why.source.cite


@pytest.mark.parametrize("lot", [PACK, replace(RAW, squares=()), replace(RAW, kind="kept")])
def test_other_lots_have_no_raw_count(lot):
    assert plan_of(yeast=(lot,)).hand.lots[0].raw_count is None


def test_a_count_grows_like_the_same_cells_typed():
    counted, typed = plan_of(yeast=(RAW,)), plan_of(yeast=(replace(RAW, cells_b=70.0, squares=()),))
    assert counted.final.cells_b.value == pytest.approx(typed.final.cells_b.value)
    assert counted.hand.cells_b.low > typed.hand.cells_b.low  # the usual 0.8 to 1.25 is wider than 175 cells leave it
