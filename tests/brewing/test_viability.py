"""Loss of yeast in store against computed rows and against what breweries and homes have counted."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.brewing.yeast_tables import PACK_AFTER_STORE
from workbench.brewing.spread import Deviates, Range
from workbench.brewing.viability import (
    CELLS_PER_GRAM_DRY,
    LOSS_PER_DAY,
    Q10,
    SPENT_BELOW,
    Lot,
    Stock,
    alive,
    left_after_cold,
    together,
)

# McCaig & Bendiak, MBAA Technical Quarterly 1985, abstract read: °C and the share of a slurry lost in 6 days. The 25 °C
# value is the worst of a series at 10 to 25 °C, taken here as that at 25 °C.
SLURRY_LOST_IN_6_DAYS = ((1.0, 0.07), (5.0, 0.14), (25.0, 0.68))

DEVIATES = st.builds(Deviates, *(st.floats(-3.0, 3.0) for _ in range(4)))
KINDS = st.sampled_from(sorted(LOSS_PER_DAY))


def lot(kind="pack", cells_b=100.0, viability=1.0, stored_at_c=4.0):
    return Lot(Range(0.9 * cells_b, cells_b, 1.1 * cells_b), viability, LOSS_PER_DAY[kind], stored_at_c)


@pytest.mark.parametrize(("days", "stored_at_c", "likely", "best", "worst"), PACK_AFTER_STORE)
def test_a_pack_after_some_days(days, stored_at_c, likely, best, worst):
    pack = lot(stored_at_c=stored_at_c)
    for z, expected in ((0.0, likely), (-1.645, best), (1.645, worst)):
        assert alive(pack, days, Deviates(loss=z)).viability == pytest.approx(expected, rel=1e-9)


def test_a_pack_loses_20_to_25_percent_in_its_first_month():
    # common practice as told in a web article (read there, no source named)
    assert 0.75 <= alive(lot(), 30.0).viability <= 0.80


@pytest.mark.parametrize(("stored_at_c", "lost"), SLURRY_LOST_IN_6_DAYS)
def test_slurry_lies_within_its_range_of_a_brewerys_counts(stored_at_c, lost):
    slurry = lot("slurry", stored_at_c=stored_at_c)
    best, likely, worst = (1.0 - alive(slurry, 6.0, Deviates(loss=z)).viability for z in (-1.645, 0.0, 1.645))
    assert best < lost < worst
    assert likely == pytest.approx(lost, rel=0.25)


def test_the_temperature_factor_lies_between_those_of_the_same_counts():
    k = {t: -math.log(1.0 - lost) / 6.0 for t, lost in SLURRY_LOST_IN_6_DAYS}
    assert k == pytest.approx({1.0: 0.012095, 5.0: 0.025137, 25.0: 0.189906}, rel=1e-4)  # computed from the read losses
    assert (k[25.0] / k[5.0]) ** (10.0 / 20.0) < Q10 < (k[25.0] / k[1.0]) ** (10.0 / 24.0)


def test_the_best_slurry_is_that_of_home_counts():
    # home microscopy of 7 chilled slurries over a month, web article 2012, read: mean loss 0.002 a day
    assert LOSS_PER_DAY["slurry"].low == 0.002


def test_dry_yeast_holds_at_least_what_its_makers_promise():
    # 5 B/g promised by a maker (read); about 10 counted, up to 20 (common practice, no source)
    assert Range(5.0, 10.0, 20.0) == CELLS_PER_GRAM_DRY


def test_dry_yeast_loses_about_4_percent_a_year_in_the_fridge():
    # common practice, no source
    assert 1.0 - alive(lot("dry"), 365.0).viability == pytest.approx(0.04, abs=0.01)


@given(KINDS, st.floats(0.0, 400.0), st.floats(0.01, 100.0), st.floats(-20.0, 40.0), DEVIATES)
def test_older_is_never_livelier(kind, days, more, stored_at_c, z):
    stored = lot(kind, stored_at_c=stored_at_c)
    young, old = alive(stored, days, z), alive(stored, days + more, z)
    assert old.live_b <= young.live_b
    assert old.viability <= young.viability


@given(KINDS, st.floats(0.1, 400.0), st.floats(-20.0, 40.0), st.floats(0.1, 20.0), DEVIATES)
def test_warmer_is_never_livelier(kind, days, stored_at_c, warmer, z):
    cold = alive(lot(kind, stored_at_c=stored_at_c), days, z)
    warm = alive(lot(kind, stored_at_c=stored_at_c + warmer), days, z)
    assert warm.live_b <= cold.live_b
    assert warm.viability <= cold.viability


@given(KINDS, st.floats(0.0, 300.0), st.floats(0.0, 300.0))
def test_two_spells_lose_as_much_as_one(kind, first, second):
    stored = lot(kind)
    one = alive(stored, first + second).viability
    assert alive(stored, first).viability * alive(stored, second).viability == pytest.approx(one, rel=1e-9)


@pytest.mark.parametrize(("viability", "spent"), [(SPENT_BELOW, False), (0.999 * SPENT_BELOW, True), (0.0, True)])
def test_a_lot_under_one_percent_alive_counts_as_none(viability, spent):
    stock = alive(lot(viability=viability), 0.0)
    assert stock.viability == viability
    assert (stock.live_b == 0.0) is spent


def test_fresh_yeast_is_as_it_was_counted():
    assert alive(lot(cells_b=80.0, viability=0.9), 0.0) == Stock(72.0, 0.9)


def test_lots_together_add_up_and_weigh_viability_by_live_cells():
    assert together([Stock(30.0, 0.9), Stock(10.0, 0.5)]) == Stock(40.0, (30.0 * 0.9 + 10.0 * 0.5) / 40.0)


@pytest.mark.parametrize("stocks", [[], [Stock(0.0, 0.004)]])
def test_nothing_alive_has_no_viability(stocks):
    assert together(stocks) == Stock(0.0, 0.0)


def test_a_grown_culture_loses_in_the_cold_as_a_kept_lot_does():
    # 0.0075 a day at 4 °C, 0.002 to 0.012 (recommended)
    assert left_after_cold(0.0) == 1.0
    assert left_after_cold(10.0) == pytest.approx(math.exp(-0.075))
    for z, rate in ((-1.645, 0.002), (1.645, 0.012)):
        assert left_after_cold(10.0, Deviates(loss=z)) == pytest.approx(math.exp(-10.0 * rate))
    kept = lot("kept")
    assert left_after_cold(10.0) == pytest.approx(alive(kept, 10.0).viability / alive(kept, 0.0).viability)
