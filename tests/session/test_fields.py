"""The table of keys: complete, consistent, and the same for the file and the keyboard."""

from __future__ import annotations

import tomllib
from datetime import UTC, date, datetime, time
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

import pytest

from workbench.brewing.density import extract_from_sg
from workbench.errors import QuantityError
from workbench.session import model
from workbench.session.fields import READING_VALUES, TABLE_ORDER, TABLES, field_of
from workbench.session.literal import literal

if TYPE_CHECKING:
    from workbench.session.field import Field

BERLIN = ZoneInfo("Europe/Berlin")
NOW = datetime(2026, 11, 26, 19, 30, tzinfo=UTC)
FIELDS = [(table.name, field) for table in TABLES.values() for field in table.fields]


def test_every_attribute_of_the_model_has_one_key_and_each_key_one_attribute() -> None:
    for table in TABLES.values():
        assert sorted(field.attr for field in table.fields) == sorted(table.cls._fields)
        assert len({field.key for field in table.fields}) == len(table.fields)
    assert set(TABLE_ORDER) == set(model.Session._fields) - {"given", "format"}


@pytest.mark.parametrize(("table", "field"), FIELDS, ids=[f"{t}.{f.key}" for t, f in FIELDS])
def test_the_example_typed_is_what_the_file_says(table: str, field: Field) -> None:
    value, toml = field.from_typed(field.value.example, NOW, BERLIN)
    back = field.from_toml(tomllib.loads(f"x = {literal(toml)}")["x"])
    assert back == value
    assert field.means
    assert field.means.isprintable()


@pytest.mark.parametrize(
    ("key", "typed", "value", "toml"),
    [
        ("beer.volume", "23", 23.0, "23 L"),
        ("beer.volume", " 5 gal ", 5 * 3.785411784, "5 gal"),
        ("beer.volume", "1,6 l", 1.6, "1,6 l"),
        ("beer.gravity", "1041", extract_from_sg(1.041), "1.041"),
        ("beer.gravity", "41", extract_from_sg(1.041), "1.041"),
        ("beer.gravity", "1.041", extract_from_sg(1.041), "1.041"),
        ("beer.gravity", "10.2 °P", 0.102, "10.2 °P"),
        ("beer.type", "l", "lager", "lager"),
        ("beer.type", "ALE", "ale", "ale"),
        ("beer.pitch_rate", "0,75", 0.75, 0.75),
        ("batch.chance", "80 %", 0.8, 0.8),
        ("batch.pitch_at", "Sat 15:00", datetime(2026, 11, 28, 14, tzinfo=UTC), datetime(2026, 11, 28, 14, tzinfo=UTC)),
        ("batch.note", "  two jars ", "two jars", "two jars"),
        ("yeast.0.made_on", "19 Oct", date(2026, 10, 19), date(2026, 10, 19)),
        ("yeast.0.made_on", "12 d ago", date(2026, 11, 14), date(2026, 11, 14)),
        ("yeast.3.kind", "p", "pack", "pack"),
        ("yeast.0.viability", "92%", 0.92, 0.92),
        ("yeast.0.count", "2", 2, 2),
        ("yeast.0.volume", "150", 0.15, "150 mL"),
        ("yeast.0.density", "1.2", 1.2, "1.2 B/mL"),
        ("yeast.0.squares", " 42, 38 51  47,40 ", (42, 38, 51, 47, 40), "42, 38 51  47,40"),
        ("yeast.0.squares", "0", (0,), "0"),
        ("yeast.0.square", "0.004", 0.004, "0.004 µL"),
        ("yeast.0.square", "0,1 ul", 0.1, "0,1 ul"),
        ("yeast.0.dilution", "10", 10.0, 10),
        ("yeast.0.stained", "12", 12, 12),
        ("wort.boil_off", "80", 80.0, "80 mL"),
        ("wort.boil_off", "0.08 L", 80.0, "0.08 L"),
        ("foam.drop", "50", 50.0, "50 mg"),
        ("step.0.decant", "y", True, True),
        ("step.0.decant", "n", False, False),
        ("step.0.hours", "24", 86400.0, "24 h"),
        ("day.prepare", "75", 4500.0, "75 min"),
        ("day.awake", "7-22:30", (time(7), time(22, 30)), "07:00-22:30"),
        ("day.awake", "6:30 – 11 pm", (time(6, 30), time(23)), "06:30-23:00"),
        ("place.altitude", "-3", -3.0, "-3 m"),
        ("flask.base", "6.5 in", 165.1, "6.5 in"),
        ("reading.0.at", "20:00", datetime(2026, 11, 26, 19, tzinfo=UTC), datetime(2026, 11, 26, 19, tzinfo=UTC)),
    ],
)
def test_what_is_typed_is_understood_and_written_as_it_was_typed(
    key: str, typed: str, value: object, toml: object
) -> None:
    assert field_of(key).from_typed(typed, NOW, BERLIN) == (value, toml)


@pytest.mark.parametrize(
    ("kind", "typed", "value", "toml"),
    [
        ("gravity", "33.5 SG", None, None),
        ("gravity", "1033.5", extract_from_sg(1.0335), "1.0335"),
        ("brix", "8.7", 8.7, "8.7 °Bx"),
        ("temperature", "75 °F", 23.8888888888889, "75 °F"),
        ("volume", "1.6", 1.6, "1.6 L"),
        ("count", "160", 160.0, "160 B"),
    ],
)
def test_the_value_of_a_reading_follows_its_kind(kind: str, typed: str, value: object, toml: object) -> None:
    field = field_of("reading.2.value", kind)
    if value is None:
        with pytest.raises(QuantityError):
            field.from_typed(typed, NOW, BERLIN)
    else:
        got, written = field.from_typed(typed, NOW, BERLIN)
        assert got == pytest.approx(value, rel=1e-14)
        assert written == toml
    assert field.value is READING_VALUES[kind]


@pytest.mark.parametrize(
    ("key", "typed", "what"),
    [
        ("beer.volume", "0", "out of range"),
        ("beer.volume", "", "there is no"),
        ("beer.volume", "ten", "is no"),
        ("beer.gravity", "8.5", "could be °P or SG"),
        ("beer.type", "", "is no word for this"),
        ("yeast.0.kind", "x", "is no word for this"),
        ("step.0.motion", "s", "could be several"),
        ("step.0.decant", "perhaps", "is neither yes nor no"),
        ("yeast.0.count", "1.5", "is no whole number"),
        ("yeast.0.count", "0", "out of range"),
        ("yeast.0.viability", "92", "out of range"),
        ("yeast.0.squares", "42 38.5", "is no count of cells"),
        ("yeast.0.squares", "42 -1", "is no count of cells"),
        ("yeast.0.squares", "42 \u0663\u0668", "is no count of cells"),
        ("yeast.0.squares", ", ,", "no square is counted"),
        ("yeast.0.squares", "50001 50000", "is too much"),
        ("yeast.0.squares", "9" * 9000, "is too much"),
        ("yeast.0.squares", "1 " * 401, "is too much"),
        ("yeast.0.square", "0.1 mL", "out of range"),
        ("yeast.0.square", "0 µL", "out of range"),
        ("yeast.0.dilution", "0.5", "out of range"),
        ("yeast.0.stained", "1.5", "is no whole number"),
        ("batch.chance", "0.3", "out of range"),
        ("batch.pitch_at", "1 Jan 1066 12:00", "the year 1066 is out of range"),
        ("day.awake", "always", "is no pair of times"),
        ("day.awake", "7-7", "both times are the same"),
        ("flask.size", "1e10", "too large"),
    ],
)
def test_what_cannot_be_meant_is_refused_with_a_remedy(key: str, typed: str, what: str) -> None:
    with pytest.raises(QuantityError, match=what) as caught:
        field_of(key).from_typed(typed, NOW, BERLIN)
    assert caught.value.right


@pytest.mark.parametrize(
    ("key", "typed"),
    [("yeast.0.count", "5 %"), ("yeast.0.count", "1 2"), ("yeast.0.viability", "x"), ("foam.drops", "")],
)
def test_what_would_be_right_is_right_for_that_key(key: str, typed: str) -> None:
    field = field_of(key)
    with pytest.raises(QuantityError) as caught:
        field.from_typed(typed, NOW, BERLIN)
    assert caught.value.right.endswith(f"for example {field.value.example}")


@pytest.mark.parametrize(
    ("key", "allowed"),
    [
        ("batch.name", "any text"),
        ("batch.pitch_at", "years 1900 to 2199"),
        ("batch.chance", "0.5 to 0.95"),
        ("beer.type", "ale or lager"),
        ("beer.gravity", "0 to 35 °P"),
        ("yeast.0.kind", "pack, dry, slurry, kept or counted"),
        ("yeast.0.made_on", "years 1900 to 2199"),
        ("yeast.0.count", "whole numbers, 1 or more"),
        ("step.0.decant", "yes or no"),
        ("day.awake", "two times of day that differ"),
    ],
)
def test_what_a_value_may_be_in_words(key: str, allowed: str) -> None:
    assert field_of(key).value.allowed == allowed


@pytest.mark.parametrize("key", ["beer.colour", "step.0.wart", "shopping.list", "beer", "step"])
def test_unknown_keys_have_no_field(key: str) -> None:
    with pytest.raises(KeyError):
        field_of(key)
