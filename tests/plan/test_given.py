"""What a value of the file means, and whose word it is where it is left out."""

from __future__ import annotations

import tomllib

import pytest
from hypothesis import given as any_of

from tests.examples import at_most
from tests.plan.strategies import sessions
from workbench.plan import given
from workbench.session.fields import TABLES
from workbench.session.read import read

FILE = """\
format = 1
[batch]
pitch_at = 2026-11-28T15:00:00+01:00
[beer]
volume = "23 L"
gravity = "1.056"
[[yeast]]
kind = "pack"
made_on = 2026-10-19
[[yeast]]
kind = "counted"
made_on = 2026-10-19
cells = "60 B"
[[yeast]]
kind = "dry"
[[yeast]]
kind = "kept"
[flask]
size = "4 L"
[wort]
boil_off = "100 mL"
temperature = "22 °C"
[[step]]
wort = "1.6 L"
boil_time = "15 min"
[[step]]
wort = "2 L"
[[reading]]
step = 1
kind = "brix"
value = "8.7 °Bx"
"""


def told(key, text=FILE):
    outcome = read(tomllib.loads(text), text)
    assert not outcome.faults
    return given.reason(outcome.session, key)


def keys(session):
    """Every key that the session's tables have or could have."""
    for name, table in TABLES.items():
        many = range(len(getattr(session, name))) if table.array else [None]
        for index in many:
            for field in table.fields:
                yield f"{name}.{field.key}" if index is None else f"{name}.{index}.{field.key}"


@at_most(50)
@any_of(sessions)
def test_every_key_of_any_session_has_its_meaning_and_source(any_session):
    for key in keys(any_session):
        why = given.reason(any_session, key)
        assert why.says, key
        assert why.valid, key
        assert why.source.cite, key
        assert why.source.status in {"typed", "missing"} or "Left out: " in why.says, key


@pytest.mark.parametrize("key", ["beer.colour", "step.0.wart", "shopping.list"])
def test_a_key_that_the_format_has_not_is_refused(key):
    with pytest.raises(KeyError):
        told(key)


def test_a_typed_value_is_the_brewers_own():
    why = told("beer.volume")
    assert why.says == "beer in the fermenter"
    assert (why.source.status, why.valid) == ("typed", "above 0")


@pytest.mark.parametrize("key", ["batch.name", "yeast.2.made_on", "yeast.2.mass", "yeast.3.cells"])
def test_what_has_no_default_is_yet_to_be_typed(key):
    assert told(key).source.status == "missing"
    assert told(key).says.endswith("Not typed yet")


@pytest.mark.parametrize(
    ("key", "says", "status"),
    [
        ("batch.chance", "0.5", "recommended"),
        ("batch.pitch", "whole, as usual for an ale. Pouring off wants 24 h", "common practice"),
        ("beer.type", "ale", "common practice"),
        ("beer.pitch_rate", "0.75 for an ale", "published"),
        ("yeast.0.cells", "100 B in a pack", "common practice"),
        ("yeast.1.cells_low", "0.80 × 60 B = 48 B, as counted", "recommended"),
        ("yeast.1.cells_high", "1.25 × 60 B = 75 B, as counted", "recommended"),
        ("yeast.3.cells_low", "it follows from the cells", "recommended"),
        ("yeast.3.volume", "no liquid comes along", "recommended"),
        ("yeast.0.stored_at", "4 °C", "common practice"),
        ("yeast.0.density", "1.2 B/mL", "quoted"),
        ("flask.fill_limit", "90 % of 4.00 L while growing, with foam control = 3.60 L", "common practice"),
        ("flask.boil_limit", "70 % of 4.00 L while boiling, with foam control = 2.80 L", "common practice"),
        ("flask.glass", "that of a typical flask of 4.00 L", "computed"),
        ("wort.gravity", "SG 1.034", "quoted"),
        ("wort.extract_fraction", "0.95", "computed"),
        ("wort.rest", "24 h for an ale", "common practice"),
        ("wort.left_after_decant", "the larger of 100 mL and 5 % of 4.00 L = 200 mL", "recommended"),
        ("foam.drop", "50 mg", "common practice"),
        ("foam.drops", "by the rule, 2 per US gallon", "common practice"),
        ("place.altitude", "0 m", "common practice"),
        ("day.prepare", "75 min", "recommended"),
        ("day.awake", "07:00-22:30", "common practice"),
        ("step.0.gravity", "as [wort] says, 1.034", "quoted"),
        ("step.0.temperature", "as [wort] says, 22 °C", "typed"),
        ("step.0.motion", "as [wort] says, stirred", "common practice"),
        ("step.0.boil_off", "by boil_off of [wort], 150 mL in 15 min", "typed"),  # 100 mL in 10 min
        ("step.1.boil_off", "by boil_off_pot of [wort], 200 mL in 10 min", "recommended"),
        ("step.0.boil_in", "the flask, by [wort]", "common practice"),
        ("step.1.boil_in", "a pot, for the flask holds yeast by then", "common practice"),
        ("step.1.decant", "no. Pouring off wants 24 h of cold rest before, takes 5 % of the cells", "common practice"),
        ("step.0.hours", "as long as 95 % of the growth takes", "computed"),
        ("keep.cells", "0 B: nothing is kept", "recommended"),
        ("reading.0.discarded", "0 L", "common practice"),
        ("reading.0.temperature", "that of the scale", "recommended"),
    ],
)
def test_a_default_says_where_it_comes_from(key, says, status):
    why = told(key)
    assert f". Left out: {says}" in why.says
    assert why.source.status == status


def test_defaults_that_hang_on_the_beer_follow_it():
    lager = FILE.replace("[beer]", '[beer]\ntype = "lager"')
    assert "decanted, as usual for a lager" in told("batch.pitch", lager).says
    assert "1.5 for a lager" in told("beer.pitch_rate", lager).says
    assert "48 h for a lager" in told("wort.rest", lager).says


def test_dry_yeast_has_a_rate_of_its_own():
    dry = 'format = 1\n[beer]\nvolume = "20 L"\n[[yeast]]\nkind = "dry"\n'
    why = told("beer.pitch_rate", dry)
    assert "0.4 for an ale and dry yeast" in why.says
    assert why.source.status == "common practice"


def test_without_foam_control_the_limits_are_lower():
    plain = FILE + "[foam]\ndrops_per_gallon = 0\n"
    assert "75 % of 4.00 L while growing, without foam control = 3.00 L" in told("flask.fill_limit", plain).says


def test_several_flasks_may_boil_every_wort():
    assert (
        "Left out: the flask, by [wort]" in told("step.1.boil_in", FILE.replace("[flask]", "[flask]\ncount = 2")).says
    )


def test_the_range_of_a_reading_is_that_of_its_kind():
    assert told("reading.0.value").valid == "-3 to 37 °Bx"
