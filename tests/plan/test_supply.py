"""Need and on hand: worked examples of the trade, defaults, and the verdict on a starter."""

from __future__ import annotations

import pytest

from tests.plan.sessions import JAR, PACK, PITCH_AT, SACHET, ale, codes, lager, plan_of, replace, small_ale
from workbench.brewing import density
from workbench.session.model import Batch, Beer, Keep, Lot

# L, °P, million per mL and °P, billions
WORKED_NEEDS = (
    (20.0, 10.0, 0.75, 150.0),  # worked example in a public Q&A, read
    (20.0, 10.0, 1.5, 300.0),  # the same for a lager, read
    (18.927, 12.0, 0.5, 113.5),  # BYO magazine, "Homebrew Yeast Pitching Rates", read: 6 million per mL in 18.927 L
)


@pytest.mark.parametrize(("volume_l", "plato", "rate", "need_b"), WORKED_NEEDS)
def test_the_need_of_worked_examples(volume_l, plato, rate, need_b):
    need = plan_of(beer=Beer(volume_l, plato / 100.0, pitch_rate=rate)).need
    assert need.cells_b.value == pytest.approx(need_b, rel=0.001)
    assert need.plato.value == pytest.approx(plato)


def test_need_at_a_gravity_by_the_asbc_cubic():
    # 20 L of 1.048 at 0.75: 178.68 B with 11.9121 °P by the cubic fit of the ASBC (computed)
    need = plan_of(beer=Beer(20.0, density.extract_from_sg(1.048))).need
    assert need.cells_b.value == pytest.approx(178.68, rel=0.002)


@pytest.mark.parametrize(
    ("beer", "lot", "rate"),
    [
        (ale(), PACK, 0.75),  # S. Terrill, "Aeration and Yeast Starters", 2010, read
        (lager(), PACK, 1.5),  # the same
        (ale(), SACHET, 0.4),  # common practice, no source
        (lager(), SACHET, 0.8),  # common practice, no source
    ],
)
def test_the_usual_rates(beer, lot, rate):
    need = plan_of(beer=beer, yeast=(lot,), step=()).need
    assert need.rate.value == rate
    assert need.cells_b.value == pytest.approx(rate * beer.volume_l * 100.0 * beer.gravity_w)


def test_one_liquid_lot_beside_the_dry_asks_for_the_liquid_rate():
    assert plan_of(yeast=(SACHET, PACK)).need.rate.value == 0.75


def test_a_rate_in_the_file_stands_even_for_dry_yeast():
    assert plan_of(beer=replace(ale(), pitch_rate=1.1), yeast=(SACHET,), step=()).need.rate.value == 1.1


def test_for_the_shelf_the_need_is_what_is_kept():
    need = plan_of(beer=None, keep=Keep(cells_b=150.0)).need
    assert (need.cells_b.value, need.shelf, need.plato.value, need.rate.value) == (150.0, True, None, None)


@pytest.mark.parametrize("beer", [None, Beer(), Beer(volume_l=20.0), Beer(gravity_w=0.12)])
def test_without_the_beer_there_is_no_need(beer):
    plan = plan_of(beer=beer)
    assert plan.need.cells_b.value is None
    assert plan.starter_needed is None
    assert plan.final.meets_need is None
    assert plan.final.chance.value is None
    assert plan.final.cells_b.value > 0.0


def test_each_lot_and_all_together():
    hand = plan_of(yeast=(PACK, JAR)).hand
    assert [lot.kind for lot in hand.lots] == ["pack", "kept"]
    assert hand.cells_b.value == pytest.approx(sum(lot.cells_b.value for lot in hand.lots))
    for lot in hand.lots:
        assert lot.cells_b.low < lot.cells_b.value < lot.cells_b.high
        assert lot.viability.low < lot.viability.value < lot.viability.high


def test_a_pack_forty_days_old():
    # 100 B at 0.0075 a day (recommended): exp(-0.0075 × 40.583) = 0.7376
    hand = plan_of(beer=small_ale(), step=()).hand
    assert hand.lots[0].age_days.value == pytest.approx(40.0 + 14.0 / 24.0)
    assert hand.cells_b.value == pytest.approx(73.76, abs=0.01)


UNKNOWN = {
    "no kind": replace(PACK, kind=None),
    "no day": replace(PACK, made_on=None),
    "dry without a mass": replace(SACHET, mass_g=None),
    "slurry without a volume": Lot(kind="slurry", made_on=PACK.made_on),
    "kept without cells": replace(JAR, cells_b=None),
    "counted without cells": Lot(kind="counted", made_on=PACK.made_on),
}


@pytest.mark.parametrize("lot", UNKNOWN.values(), ids=UNKNOWN)
def test_without_known_cells_the_wort_is_given_all_the_same(lot):
    plan = plan_of(yeast=(lot,))
    assert plan.hand.cells_b.value is None
    assert plan.hand.lots[0].cells_b.value is None
    assert plan.starter_needed is None
    assert (plan.final.cells_b.value, plan.final.pitched_b.value, plan.final.chance.value) == (None, None, None)
    assert (plan.final.meets_need, plan.steps[0].cells_in_b.value, plan.steps[0].hours.value) == (None, None, None)
    assert plan.steps[0].powder_g.value > 0.0
    assert plan.steps[0].hot_boil_l.value > 0.0
    assert "needs-yeast" in codes(plan)


def test_a_lot_of_unknown_cells_beside_a_known_one_is_left_out():
    plan = plan_of(yeast=(PACK, UNKNOWN["kept without cells"]))
    assert plan.hand.cells_b.value == plan.hand.lots[0].cells_b.value
    assert plan.hand.lots[1].cells_b.value is None
    assert plan.hand.lots[1].viability.value > 0.5
    assert "lot-unknown" in codes(plan)


@pytest.mark.parametrize(("litres", "needed"), [(5.0, False), (8.1, False), (8.4, True), (30.0, True)])
def test_a_starter_is_needed_where_the_pack_falls_short(litres, needed):
    # one pack holds 73.8 B at pitching; 8.25 L of 1.048 at 0.75 want as much
    assert plan_of(beer=ale(litres), step=()).starter_needed is needed


def test_what_is_to_be_kept_counts_as_wanted():
    assert plan_of(beer=ale(5.0), step=(), keep=Keep(cells_b=20.0)).starter_needed is False
    assert plan_of(beer=ale(5.0), step=(), keep=Keep(cells_b=40.0)).starter_needed is True


@pytest.mark.parametrize("litres", [20.0, 200.0])
def test_dry_yeast_needs_no_starter(litres):
    # common practice, no source
    assert plan_of(beer=ale(litres), yeast=(SACHET,), step=()).starter_needed is False


def test_without_a_pitching_hour_the_verdict_waits():
    assert plan_of(batch=Batch("x", None)).starter_needed is None


def test_the_verdict_is_about_the_yeast_as_it_is_not_as_it_grows():
    plan = plan_of()
    assert plan.final.meets_need is True
    assert plan.starter_needed is True
    assert plan.hand.at < PITCH_AT
