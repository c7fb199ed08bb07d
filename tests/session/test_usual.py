"""What is typical of every key: there, right in itself, in either system of units."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from workbench.session.fields import READING_VALUES, TABLES, field_of
from workbench.session.usual import NONE, PRACTICE, USUAL, source, usual
from workbench.session.values import Flag, Words
from workbench.units.kinds import KINDS
from workbench.units.parse import parse

NOW = datetime(2026, 11, 26, tzinfo=UTC)
KEYS = [f"{table.name}.{field.key}" for table in TABLES.values() for field in table.fields]


@pytest.mark.parametrize("key", KEYS)
def test_every_key_has_its_meaning_and_what_is_usual_or_why_nothing_is(key: str) -> None:
    field = field_of(key)
    assert 8 <= len(field.means) <= 75, "one line at 80 columns"
    has_words = isinstance(field.value, Words | Flag)
    assert [key in USUAL, key in NONE, has_words].count(True) == 1
    assert bool(usual(key)) is (key not in NONE)
    assert bool(source(key)) is (key in USUAL)


def test_nothing_else_is_in_the_tables() -> None:
    assert set(USUAL) | set(NONE) <= set(KEYS)


@pytest.mark.parametrize("key", [key for key in USUAL if USUAL[key].low])
def test_a_range_may_be_typed_and_rises_and_has_one_unit(key: str) -> None:
    ends = [field_of(key).from_typed(text, NOW, UTC)[0] for text in (USUAL[key].low, USUAL[key].high)]
    assert ends == sorted(ends)  # type: ignore[type-var]
    assert ends[0] != ends[1]
    assert USUAL[key].low.partition(" ")[2] == USUAL[key].high.partition(" ")[2]


@pytest.mark.parametrize("kind", READING_VALUES)
def test_a_reading_has_what_is_usual_of_its_kind(kind: str) -> None:
    for text in usual("reading.0.value", kind=kind).split("–"):
        READING_VALUES[kind].from_typed(text, NOW, UTC)
    assert source("reading.0.value", kind)


@pytest.mark.parametrize(
    ("key", "metric", "us"),
    [
        ("beer.volume", "19–25 L", "5–6.6 gal"),
        ("step.0.wort", "0.5–3 L", "0.53–3.2 qt"),
        ("yeast.1.volume", "100–500 mL", "3.4–17 fl oz"),
        ("step.0.temperature", "18–24 °C", "64–75 °F"),
        ("place.altitude", "0–1500 m", "0–4900 ft"),
        ("beer.gravity", "1.035–1.080", "1.035–1.080"),
        ("yeast.0.cells", "100–200 B", "100–200 B"),
        ("beer.pitch_rate", "ale 0.75, lager 1.5", "ale 0.75, lager 1.5"),
        ("batch.pitch_at", "", ""),
        ("beer.type", "ale or lager", "ale or lager"),
    ],
)
def test_it_is_told_in_the_units_that_are_shown(key: str, metric: str, us: str) -> None:
    assert usual(key) == metric
    assert usual(key, "us") == us


def test_the_decimal_mark_is_the_brewers() -> None:
    assert usual("step.0.wort", comma=True) == "0,5–3 L"
    assert usual("beer.gravity", "us", comma=True) == "1,035–1,080"


@pytest.mark.parametrize("key", [key for key in USUAL if " " in USUAL[key].low])
def test_the_us_range_is_the_metric_one_within_a_twentieth(key: str) -> None:
    """Two digits are kept: what is lost is at most half a step of the second one."""
    low, high = USUAL[key].low, USUAL[key].high
    kind = next(kind for kind in KINDS if kind.name == field_of(key).value.kind.name)  # type: ignore[attr-defined]
    numbers, _, unit = usual(key, "us").partition(" ")
    for text, number in zip((low, high), numbers.split("–"), strict=True):
        wanted = parse(text, kind)
        assert parse(f"{number} {unit}", kind) == pytest.approx(wanted, rel=0.05, abs=0.3)


def test_what_has_a_source_names_it() -> None:
    assert source("beer.volume") == PRACTICE
    assert "2010" in source("beer.pitch_rate")
