"""Lots as the science takes them: cells when made, by kind, with the range that kind has."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest

from tests.plan.sessions import JAR, PACK, PITCH_AT, RAW, SACHET, replace
from workbench.brewing.counts import poisson_limits
from workbench.brewing.spread import Range
from workbench.brewing.viability import LOSS_PER_DAY
from workbench.plan.lots import days_in_store, made_at, stored, viability
from workbench.session.model import Lot

COUNTED = Lot(kind="counted", made_on=date(2026, 11, 20), cells_b=50.0)
SLURRY = Lot(kind="slurry", made_on=date(2026, 11, 20), volume_l=0.15)

# all of these ranges are recommended
CELLS = {
    "pack by its label": (PACK, (90.0, 100.0, 110.0)),
    "pack without a label": (replace(PACK, cells_b=None), (70.0, 100.0, 200.0)),
    "three packs": (replace(PACK, packs=3), (270.0, 300.0, 330.0)),
    "two sachets of 11.5 g": (SACHET, (115.0, 230.0, 460.0)),
    "slurry of the usual density": (SLURRY, (0.6 * 180.0, 180.0, 1.5 * 180.0)),
    "thick slurry": (replace(SLURRY, density_b_per_ml=2.0), (180.0, 300.0, 450.0)),
    "kept, with its range": (JAR, (40.0, 60.0, 90.0)),
    "kept, without": (replace(JAR, cells_low_b=None, cells_high_b=None), (42.0, 60.0, 84.0)),
    "counted": (COUNTED, (40.0, 50.0, 62.5)),
    "counted, with its limits": (replace(COUNTED, cells_low_b=44.0, cells_high_b=57.0), (44.0, 50.0, 57.0)),
    "a raw count": (RAW, tuple(0.4 * cells for cells in (poisson_limits(175)[0], 175, poisson_limits(175)[1]))),
    "a raw count with limits of the brewer's own": (
        replace(RAW, cells_low_b=66.0, cells_high_b=75.0),
        (66.0, 70.0, 75.0),
    ),
    "cells typed beside a raw count": (replace(RAW, cells_b=50.0), (40.0, 50.0, 62.5)),
    "an uneven count": (
        replace(RAW, squares=(16, 38, 52, 49, 20)),
        (45.64699, 70.0, 105.61979),
    ),  # by scipy, index 7.71
    "nothing found": (replace(RAW, squares=(0, 0)), (0.0, 0.0, poisson_limits(0)[1])),
    "a range that misses the count": (replace(JAR, cells_low_b=70.0, cells_high_b=80.0), (60.0, 60.0, 80.0)),
}


@pytest.mark.parametrize(("lot", "cells_b"), CELLS.values(), ids=CELLS)
def test_cells_when_made(lot, cells_b):
    found = stored(lot).cells_b
    assert (found.low, found.likely, found.high) == pytest.approx(cells_b)


@pytest.mark.parametrize("lot", [PACK, SACHET, SLURRY, JAR, COUNTED])
def test_the_loss_is_that_of_the_kind(lot):
    assert stored(lot).loss_per_day is LOSS_PER_DAY[lot.kind]
    assert stored(lot).viability == (1.0 if lot.viability is None else lot.viability)
    assert stored(lot).stored_at_c == lot.stored_at_c


@pytest.mark.parametrize(
    "lot",
    [
        Lot(),
        replace(PACK, kind=None),
        replace(PACK, made_on=None),
        replace(JAR, cells_b=None),
        replace(RAW, volume_l=None),
        replace(RAW, squares=()),
        replace(RAW, kind="kept"),
    ],
)
def test_a_lot_that_is_not_known(lot):
    assert stored(lot) is None


@pytest.mark.parametrize("lot", [PACK, replace(JAR, cells_low_b=None, cells_high_b=None), COUNTED])
@pytest.mark.parametrize("z", [-2.0, 0.0, 2.0])
def test_a_lot_of_no_cells_is_known_to_hold_none(lot, z):
    assert stored(replace(lot, cells_b=0.0)).cells_b.at(z) == 0.0


@pytest.mark.parametrize(
    ("lot", "share"),
    [
        (RAW, 1.0),
        (replace(RAW, stained=0), 1.0),
        (replace(RAW, stained=14), 0.92),
        (replace(RAW, stained=175), 0.0),
        (replace(RAW, stained=14, viability=0.5), 0.5),
        (replace(RAW, stained=14, viability=0.0), 0.0),
        (replace(RAW, stained=14, cells_b=50.0), 0.92),  # cells typed outright leave the stain what it says
        (replace(RAW, stained=14, kind="kept"), 1.0),
        (replace(RAW, stained=0, squares=(0, 0)), 1.0),
        (replace(RAW, stained=14, squares=()), 1.0),
    ],
)
def test_the_live_share_is_the_brewers_or_the_stains(lot, share):
    assert viability(lot) == pytest.approx(share)


def test_losses_a_day_at_4_c():
    # recommended, between a brewery's counts and those at home
    assert LOSS_PER_DAY["pack"] == Range(0.002, 0.0075, 0.012)
    assert LOSS_PER_DAY["slurry"] == Range(0.002, 0.018, 0.03)
    assert LOSS_PER_DAY["dry"] == Range(0.00003, 0.0001, 0.0003)
    assert LOSS_PER_DAY["kept"] == LOSS_PER_DAY["counted"] == LOSS_PER_DAY["pack"]


def test_days_run_from_midnight_utc():
    assert made_at(PACK) == datetime(2026, 10, 19, tzinfo=UTC)
    assert days_in_store(PACK, PITCH_AT) == pytest.approx(40.0 + 14.0 / 24.0)
    assert days_in_store(PACK, datetime(2026, 10, 18, 12, tzinfo=UTC)) == -0.5
    assert days_in_store(replace(PACK, made_on=None), PITCH_AT) == 0.0
