"""The file of the next batch: it reads without fault, counts on, and holds what the batch before really kept."""

from __future__ import annotations

import math
import tomllib
from datetime import UTC, date, datetime, timedelta, timezone
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.errors import NothingKept, QuantityError
from workbench.plan import happened
from workbench.plan.derive import derive
from workbench.plan.next_batch import next_text
from workbench.session.read import read

NOW = datetime(2026, 12, 7, 9, 0, tzinfo=UTC)
CET = timezone(timedelta(hours=1))
WINE = (Path(__file__).parents[2] / "demo" / "long-night-barley-wine.toml").read_text(encoding="utf-8")
SHELF = """\
format = 1
[batch]
pitch_at = 2026-11-28T15:00:00+01:00
[keep]
cells = "60 B"
[[yeast]]
kind = "kept"
made_on = 2026-11-01
cells = "60 B"
generation = 3
cycle = 2
[[step]]
wort = "1 L"
"""


def plan_of(text):
    outcome = read(tomllib.loads(text), text)
    assert not outcome.faults
    return derive(outcome.session, NOW)


def made_from(text, **options):
    """The session of the file made from such a batch."""
    out = next_text(plan_of(text), tomllib.loads(text), "After", "before.toml", tz=CET, **options)
    outcome = read(tomllib.loads(out), out)
    assert (outcome.faults, outcome.notes) == ((), ())
    return outcome.session


def lot_from(text, **options):
    (lot,) = made_from(text, **options).yeast
    return lot


def test_the_lot_is_what_is_kept_with_its_range_its_liquid_and_its_day():
    final, lot = plan_of(WINE).final, lot_from(WINE)
    assert (lot.kind, lot.made_on, lot.from_file) == ("kept", date(2026, 12, 5), "before.toml")
    assert lot.cells_b == final.kept_b.value == 60.0
    assert (lot.cells_low_b, lot.cells_high_b) == pytest.approx((final.kept_b.low, final.kept_b.high), rel=1e-3)
    assert lot.volume_l == pytest.approx(final.kept_l.value, rel=1e-3)
    assert (lot.generation, lot.cycle) == (1, 1)


def test_a_volume_kept_is_the_liquid():
    assert lot_from(WINE.replace('cells = "60 B"', 'volume = "0.4 L"')).volume_l == 0.4


def test_the_kitchen_is_copied_letter_for_letter_and_the_beer_is_open():
    text = WINE.replace(
        "[wort]", '[foam]\ndrops = 3\n[place]\naltitude = "1200 ft"\n[day]\nawake = "6:30-22:00"\n[wort]'
    )
    out = next_text(plan_of(text), tomllib.loads(text), "After", "before.toml")
    data, before = tomllib.loads(out), tomllib.loads(text)
    assert {name: data[name] for name in ("flask", "wort", "foam", "place", "day")} == {
        name: before[name] for name in ("flask", "wort", "foam", "place", "day")
    }
    assert data["beer"] == {}
    assert "step" not in data
    assert data["batch"] == {"name": "After"}


def test_the_bath_the_prices_and_what_is_kept_go_on_and_the_powder_is_what_is_left():
    text = WINE.replace(
        "[wort]",
        '[bath]\nwater = "8 L"\n[supplies]\npowder = "1 kg"\npowder_price = 11\npack_price = 8.5\n[wort]',
    )
    plan = plan_of(text)
    data = tomllib.loads(next_text(plan, tomllib.loads(text), "After", "before.toml"))
    used_g = sum(step.powder_g.value for step in plan.steps)
    assert data["bath"] == {"water": "8 L"}
    assert data["supplies"] == {"powder": f"{1000 - used_g:.0f} g", "powder_price": 11, "pack_price": 8.5}
    assert data["keep"] == {"cells": "60 B"}
    shelf = tomllib.loads(next_text(plan, tomllib.loads(text), "After", "before.toml", shelf=True))
    assert shelf["keep"] == {"cells": "60 B"}


def test_keys_that_the_format_has_not_are_left_behind():
    assert made_from(WINE.replace("[flask]", '[flask]\ncolour = "green"')).flask.size_l == 5.0


def test_of_a_build_for_the_shelf_the_lot_is_all_that_went_into_the_fridge():
    final, lot = plan_of(SHELF).final, lot_from(SHELF)
    assert final.pitched_b.value > 60.0
    assert lot.cells_b == pytest.approx(final.pitched_b.value, rel=1e-3)
    assert lot.volume_l == 1.0
    decanted = lot_from(SHELF.replace("[batch]", '[batch]\npitch = "decanted"'))
    assert decanted.volume_l == 0.15
    assert decanted.cells_b == pytest.approx(0.95 * final.pitched_b.value, rel=0.01)  # a day younger


@pytest.mark.parametrize(("keep", "wanted_b"), [('cells = "60 B"', 60.0), ('volume = "0.4 L"', None)])
def test_for_the_shelf_as_much_is_asked_for_as_was_to_be_kept(keep, wanted_b):
    text = WINE.replace('cells = "60 B"', keep)
    session = made_from(text, shelf=True)
    assert session.beer is None
    assert session.keep.cells_b == pytest.approx(wanted_b or plan_of(text).final.kept_b.value, rel=1e-3)


def test_slurry_is_of_today_and_begins_a_new_row_of_cycles():
    lot = lot_from(SHELF, slurry="7 fl oz")
    assert (lot.kind, lot.made_on, lot.generation, lot.cycle) == ("slurry", date(2026, 12, 7), 4, 0)
    assert lot.volume_l == pytest.approx(0.207, abs=1e-3)
    assert lot.from_file == "before.toml"
    with pytest.raises(QuantityError):
        lot_from(SHELF, slurry="7 oz of it")


def test_slurry_needs_nothing_kept_and_nothing_known():
    assert lot_from("format = 1\n", slurry="200 mL").generation == 1
    assert made_from("format = 1\n", slurry="200 mL", shelf=True).keep.cells_b is None


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (WINE.replace('cells = "60 B"', ""), "keeps nothing: set"),
        (WINE.replace('cells = "60 B"', 'cells = "0 B"'), "keeps nothing: set"),
        (WINE.replace("pitch_at", "# pitch_at"), "set the hour when the yeast goes into the beer"),
        (WINE.replace("made_on", "# made_on"), "set what is missing of lot 1: the day it was made"),
        (WINE.replace('wort = "1.5 L"', ""), "set how much wort"),
        ("format = 1\n", "keeps nothing: set"),
    ],
)
def test_without_anything_kept_it_says_what_to_set(text, says):
    with pytest.raises(NothingKept, match=says):
        lot_from(text)


@pytest.mark.parametrize(
    "event",
    ['what = "pitched"\nstep = 0\n', 'what = "pitched"\nstep = 2\n'],
)
def test_a_stamped_pitch_gives_the_day_and_a_feedings_does_not(event):
    at = "[[event]]\nat = 2026-12-06T23:30:00Z\n"
    assert lot_from(WINE + at + event).made_on == date(2026, 12, 7)  # past midnight there
    assert lot_from(WINE + at + 'what = "yeast-in"\nstep = 2\n').made_on == date(2026, 12, 5)
    assert happened.pitch_at(plan_of(WINE).session) == datetime(2026, 12, 5, 13, 0, tzinfo=UTC)


@pytest.mark.parametrize(("said", "day"), [("task-done", 4), ("task-skipped", 9)])
def test_a_part_held_back_days_before_pitching_is_of_that_day(said, day):
    held = f'[[event]]\nat = 2026-12-04T12:00:00Z\nstep = 2\nwhat = "{said}"\ntask = "keep"\n'
    late = '[[event]]\nat = 2026-12-09T12:00:00Z\nstep = 0\nwhat = "pitched"\n'
    assert lot_from(WINE + held + late).made_on == date(2026, 12, day)


@given(
    st.lists(st.tuples(st.integers(0, 30), st.integers(0, 30)), min_size=1, max_size=4),
    st.floats(0.1, 900.0).map(lambda cells: f'cells = "{cells!r} B"')
    | st.floats(0.01, 3.0).map(lambda litres: f'volume = "{litres!r} L"'),
)
def test_any_file_made_from_another_reads_and_counts_on(counts, keep):
    lots = "".join(
        f'[[yeast]]\nkind = "pack"\nmade_on = 2026-11-01\ngeneration = {generation}\ncycle = {cycle}\n'
        for generation, cycle in counts
    )
    text = (
        SHELF.partition("[keep]")[0] + f'[beer]\nvolume = "20 L"\ngravity = "1.050"\n[[step]]\nwort = "1.4 L"\n{lots}'
    )
    lot = lot_from(f"{text}[keep]\n{keep}\n")
    assert lot.generation == 1 + max(generation for generation, _ in counts)
    assert lot.cycle == 1 + max(cycle for _, cycle in counts)
    assert lot.cells_low_b <= lot.cells_b <= lot.cells_high_b


def test_the_next_batch_starts_with_what_the_chain_says():
    """The jar's day counts from 00:00 UTC, so the two agree to a day's loss."""
    text = SHELF.replace("[keep]", '[beer]\nvolume = "20 L"\ngravity = "1.040"\n[keep]')
    out = next_text(plan_of(text), tomllib.loads(text), "After", "before.toml", tz=CET)
    pitched = out.replace("[batch]", "[batch]\npitch_at = 2026-12-26T15:00:00+01:00")
    assert plan_of(pitched).hand.cells_b.value == pytest.approx(plan_of(text).chain.batches[0].start_b.value, rel=0.01)


def cooled(k, minutes=(2.0, 6.0, 11.0)):
    """A cool-down of the first feeding in ice water, at a rate."""
    start = datetime(2026, 12, 2, 15, 0, tzinfo=UTC)
    text = f'\n[[event]]\nat = {start:%Y-%m-%dT%H:%M:%SZ}\nwhat = "cool-on"\ntemperature = "1 °C"\n'
    for minute in minutes:
        at, celsius = start + timedelta(minutes=minute), 1.0 + 97.0 * math.exp(-k * minute)
        text += f'[[reading]]\nat = {at:%Y-%m-%dT%H:%M:%SZ}\nkind = "temperature"\nvalue = "{celsius:.2f} °C"\n'
    return text


def test_how_fast_the_flask_cools_goes_on():
    first = made_from(WINE + cooled(0.08)).bath
    assert 0.08 < first.rate_per_min < 0.09  # what is usual, 0.13, counts a little
    assert 0.0 < first.rate_error_per_min < 0.5 * first.rate_per_min
    known = WINE + "\n[bath]\nrate = 0.08\nrate_error = 0.01\n"
    again = made_from(known + cooled(0.11)).bath
    assert 0.08 < again.rate_per_min < 0.11


def test_without_a_cool_down_it_is_as_it_was():
    assert made_from(WINE).bath.rate_per_min is None
    known = made_from(WINE + "\n[bath]\nrate = 0.08\nrate_error = 0.01\n").bath
    assert (known.rate_per_min, known.rate_error_per_min) == (0.08, 0.01)
    assert made_from(WINE + cooled(0.08, minutes=(2.0, 6.0))).bath.rate_per_min is None  # two readings have no error
