"""Every fault of a file: its line, its key, what is wrong, what would be right; and all of them at once."""

from __future__ import annotations

import tomllib
from datetime import UTC, date, datetime, time
from typing import TYPE_CHECKING

import pytest

from tests.session.samples import COMMENTED
from workbench.brewing.density import extract_from_sg
from workbench.session.model import Batch, Flask, Keep, Lot, Reading, Session, Step, WortHabits
from workbench.session.read import Outcome, read

if TYPE_CHECKING:
    from workbench.session.faults import Fault


def outcome(text: str) -> Outcome:
    return read(tomllib.loads(text), text)


def faults(text: str) -> tuple[Fault, ...]:
    return outcome(text).faults


# What stands under "format = 1", so that its first line is line 2; then line, key, and words of the message.
FAULTS = [
    ('[beer]\nvolume = 23', 3, "beer.volume", "23 is a number without unit", 'as text with a unit, for example "23 L"'),
    ('[beer]\nvolume = "23"', 3, "beer.volume", '"23" has no unit', '"23 L"'),
    ('[beer]\nvolume = "23 kg"', 3, "beer.volume", '"23 kg" is no volume', "for example"),
    ('[beer]\nvolume = "0 L"', 3, "beer.volume", "out of range", "above 0"),
    ('[beer]\nvolume = "-3 L"', 3, "beer.volume", "out of range", "above 0"),
    ('[beer]\nvolume = "1e400 L"', 3, "beer.volume", "too large", ""),
    ('[beer]\nvolume = "1e12 L"', 3, "beer.volume", "too large", "above 0"),
    ('[beer]\nvolume = true', 3, "beer.volume", "true is no text", "text with a unit"),
    ('[beer]\nvolume = ["23 L"]', 3, "beer.volume", "a list is no text", "text with a unit"),
    ('[beer]\nvolume = { l = 23 }', 3, "beer.volume", "a table is no text", "text with a unit"),
    ('[beer]\nvolume = inf', 3, "beer.volume", "inf is a number without unit", "text with a unit"),
    ('[beer]\ngravity = 1.056', 3, "beer.gravity", "1.056 is a number without unit", '"1.056"'),
    ('[beer]\ngravity = "56"', 3, "beer.gravity", '"56" is no specific gravity', '"1.056"'),
    ('[beer]\ngravity = "36 °P"', 3, "beer.gravity", "out of range", "0 to 35 °P"),
    ('[beer]\ngravity = "0.998"', 3, "beer.gravity", "out of range", "0 to 35 °P"),
    ('[beer]\ntype = "stout"', 3, "beer.type", '"stout" is no word for this', "ale or lager"),
    ('[beer]\ntype = "Ale"', 3, "beer.type", '"Ale" is no word for this', "ale or lager"),
    ('[beer]\ntype = 1', 3, "beer.type", "1 is no text", "ale or lager"),
    ('[beer]\npitch_rate = "0.75"', 3, "beer.pitch_rate", '"0.75" is no number', "without quotes"),
    ('[beer]\npitch_rate = 0.04', 3, "beer.pitch_rate", "0.04 is out of range", "0.05 to 10"),
    ('[beer]\npitch_rate = nan', 3, "beer.pitch_rate", "nan is not finite", "0.05 to 10"),
    ('[beer]\npitch_rate = -inf', 3, "beer.pitch_rate", "-inf is not finite", "0.05 to 10"),
    ('[beer]\npitch_rate = 1e400', 3, "beer.pitch_rate", "inf is not finite", "0.05 to 10"),
    ('[beer]\npitch_rate = 18446744073709551616', 3, "beer.pitch_rate", "a number of 16 digits and more", "0.05 to 10"),
    ('[beer]\npitch_rate = true', 3, "beer.pitch_rate", "true is no number", "0.75"),
    ('[batch]\nname = 3', 3, "batch.name", "3 is no text", "in quotes"),
    ('[batch]\nchance = 0.99', 3, "batch.chance", "0.99 is out of range", "0.5 to 0.95"),
    ('[batch]\npitch = "poured"', 3, "batch.pitch", '"poured" is no word for this', "whole or decanted"),
    ('[batch]\npitch_at = 2026-11-28T15:00:00', 3, "batch.pitch_at", "the time has no offset", "offset from UTC"),
    ('[batch]\npitch_at = 2026-11-28', 3, "batch.pitch_at", "2026-11-28 is no date with a time", "without quotes"),
    ('[batch]\npitch_at = "2026-11-28T15:00:00Z"', 3, "batch.pitch_at", "is no date with a time", "without quotes"),
    ('[batch]\npitch_at = 0001-11-28T15:00:00Z', 3, "batch.pitch_at", "the year 1 is out of range", "1900"),
    ('[batch]\npitch_at = 9999-12-31T23:59:59-12:00', 3, "batch.pitch_at", "the year 9999 is out of range", "2199"),
    ('[[yeast]]\nmade_on = "2026-10-19"', 3, "yeast.0.made_on", "is no date", "without quotes, for example 2026-10-19"),
    ('[[yeast]]\nmade_on = 2026-10-19T10:00:00Z', 3, "yeast.0.made_on", "is no date", "2026-10-19"),
    ('[[yeast]]\nkind = "jar"', 3, "yeast.0.kind", '"jar" is no word', "pack, dry, slurry, kept or counted"),
    ('[[yeast]]\ncount = 0', 3, "yeast.0.count", "0 is out of range", "1 or more"),
    ('[[yeast]]\ncount = 1.5', 3, "yeast.0.count", "1.5 is no whole number", "for example 1"),
    ('[[yeast]]\ncount = true', 3, "yeast.0.count", "true is no whole number", "for example 1"),
    ('[[yeast]]\ncount = 18446744073709551616', 3, "yeast.0.count", "too large", "1 or more"),
    ('[[yeast]]\n\n[[yeast]]\ncells = "-1 B"', 5, "yeast.1.cells", "out of range", "0 or more"),
    ('[[yeast]]\nviability = 1.01', 3, "yeast.0.viability", "1.01 is out of range", "0 to 1"),
    ('[[yeast]]\nstored_at = "-21 °C"', 3, "yeast.0.stored_at", "out of range", "-20 to 110 °C"),
    ('[[yeast]]\ndensity = "0 B/mL"', 3, "yeast.0.density", "out of range", "above 0"),
    ('[[yeast]]\ngeneration = -1', 3, "yeast.0.generation", "-1 is out of range", "0 or more"),
    ('[[yeast]]\ncells = "90 B"\ncells_low = "91 B"', 4, "yeast.0.cells_low", "above cells (90 B)", "rising order"),
    ('[[yeast]]\ncells = "90 B"\ncells_high = "80 B"', 4, "yeast.0.cells_high", "cells (90 B) is", "rising order"),
    ('[[yeast]]\ncells_low = "9 B"\ncells_high = "8 B"', 4, "yeast.0.cells_high", "cells_low (9 B)", "rising order"),
    ('[[yeast]]\nsquares = "42 some"', 3, "yeast.0.squares", '"some" is no count of cells', "whole numbers"),
    ('[[yeast]]\nsquares = ""', 3, "yeast.0.squares", "no square is counted", "42 38 51 47 40"),
    ('[[yeast]]\nsquares = [42, 38]', 3, "yeast.0.squares", "a list is no text", '"42 38 51 47 40"'),
    ('[[yeast]]\nsquares = 42', 3, "yeast.0.squares", "42 is no text", '"42 38 51 47 40"'),
    ('[[yeast]]\nsquare = "0.1 L"', 3, "yeast.0.square", '"0.1 L" is no small volume', "0.1 µL"),
    ('[[yeast]]\nsquare = "11 µL"', 3, "yeast.0.square", "out of range", "up to 10 µL"),
    ('[[yeast]]\nsquare = 0.1', 3, "yeast.0.square", "0.1 is a number without unit", '"0.1 µL"'),
    ('[[yeast]]\ndilution = 0', 3, "yeast.0.dilution", "0 is out of range", "1 or more"),
    ('[[yeast]]\nstained = -1', 3, "yeast.0.stained", "-1 is out of range", "0 or more"),
    (
        '[[yeast]]\nsquares = "42 38"\nstained = 81', 4, "yeast.0.stained",
        "81 stained are more than the 80 cells in all squares", "how many of all these cells were stained",
    ),
    ('[flask]\nsize = "2 L"\nfill_limit = "2.1 L"', 4, "flask.fill_limit", "above the flask's size (2 L)", "at most"),
    ('[flask]\nboil_limit = "3.1 L"', 3, "flask.boil_limit", "3 L, taken where no size is given", "at most the size"),
    ('[flask]\nglass = "0 g"', 3, "flask.glass", "out of range", "above 0"),
    ('[wort]\ngravity = "1.000"', 3, "wort.gravity", "out of range", "above 0, up to 35 °P"),
    ('[wort]\nextract_fraction = 0.4', 3, "wort.extract_fraction", "0.4 is out of range", "0.5 to 1"),
    ('[wort]\nboil_time = "0 min"', 3, "wort.boil_time", "out of range", "above 0"),
    ('[wort]\ntemperature = "111 °C"', 3, "wort.temperature", "out of range", "-20 to 110 °C"),
    ('[foam]\ndrops = 1.0', 3, "foam.drops", "1.0 is no whole number", "for example 2"),
    ('[foam]\nactive = -0.1', 3, "foam.active", "-0.1 is out of range", "0 to 1"),
    ('[bath]\nwater = "-1 L"', 3, "bath.water", "out of range", "0 or more"),
    ('[place]\naltitude = "9001 m"', 3, "place.altitude", "out of range", "-500 to 9000 m"),
    ('[day]\nawake = "all day"', 3, "day.awake", '"all day" is no pair of times', '"07:00-22:30"'),
    ('[day]\nawake = "07:00-25:00"', 3, "day.awake", "25:00", "15:00"),
    ('[day]\nawake = "07:00-07:00"', 3, "day.awake", "both times are the same", "07:00-22:30"),
    ('[[step]]\ndecant = "yes"', 3, "step.0.decant", '"yes" is neither true nor false', "without quotes"),
    ('[[step]]\ndecant = 1', 3, "step.0.decant", "1 is neither true nor false", "without quotes"),
    ('[[step]]\nhours = 24', 3, "step.0.hours", "24 is a number without unit", '"24 h"'),
    ('[[step]]\nhours = "0 h"', 3, "step.0.hours", "out of range", "above 0"),
    ('[[step]]\nmotion = "shaken"', 3, "step.0.motion", '"shaken"', "stirred, swirled or still"),
    ('[keep]\ncells = "60 B"\nvolume = "0.5 L"', 4, "keep.volume", "keep.cells is given too", "one of the two"),
    ('[[reading]]\nkind = "gravity"\nvalue = "1.161"', 4, "reading.0.value", '"1.161"', "1.160"),
    ('[[reading]]\nkind = "gravity"\nvalue = "0.9895"', 4, "reading.0.value", "out of range", "0.990 to 1.160"),
    ('[[reading]]\nvalue = "24 L"\nkind = "temperature"', 3, "reading.0.value", "is no temperature", ""),
    ('[[reading]]\nstep = 0', 3, "reading.0.step", "0 is out of range", "1 or more"),
    ("[[reading]]\nvalue = nan", 3, "reading.0.value", "nan is no text", "as text"),
    ("[[reading]]\nvalue = true", 3, "reading.0.value", "true is no text", "as text"),
    ('[[reading]]\nkind = ["gravity"]\nvalue = "1.030"', 3, "reading.0.kind", "a list is no text", "in quotes"),
    ('[[event]]\nat = 2026-11-27T15:02:00', 3, "event.0.at", "the time has no offset", "offset from UTC"),
    ('[step]\nwort = "1 L"', 2, "step", "[step] stands for a single table", "[[step]], in double brackets"),
    ('[yeast]', 2, "yeast", "[yeast] stands for a single table", "[[yeast]]"),
    ('[reading]', 2, "reading", "[reading] stands for a single table", "[[reading]]"),
    ('[event]', 2, "event", "[event] stands for a single table", "[[event]]"),
    ('[[flask]]\nsize = "3 L"', 2, "flask", "[[flask]] stands for one of several", "[flask], in single brackets"),
    ('step = 3', 2, "step", "3 is no list of tables", "[[step]]"),
    ('beer = "ale"', 2, "beer", '"ale" is no table', "[beer]"),
    ('step = [\n  { wort = "1 L" },\n  3,\n]', 4, "step.1", "3 is no table", "[[step]]"),
    ('step = [\n  { wort = "1 L" },\n  { wort = 3 },\n]', 4, "step.1.wort", "3 is a number without unit", "1.6 L"),
    ('beer = { type = "stout" }', 2, "beer.type", '"stout" is no word', "ale or lager"),
    ('flask.count = 0', 2, "flask.count", "0 is out of range", "1 or more"),
    (
        '[batch]\npitch_at = 2026-11-28T15:00:00+01:00\n[[yeast]]\nmade_on = 2026-11-29',
        5, "yeast.0.made_on", "2026-11-29 is after batch.pitch_at", "the day it was packed",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("text", "line", "key", "what", "right"), FAULTS, ids=[f[0] for f in FAULTS])
def test_one_fault_is_told_with_its_line_key_and_remedy(text: str, line: int, key: str, what: str, right: str) -> None:
    (fault,) = faults(f"format = 1\n{text}\n")
    assert (fault.line, fault.key) == (line, key)
    assert what in fault.what
    assert right in fault.right


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("", "is missing"),
        ("[format]\nx = 1", "a table is no whole number"),
        ("format = true", "true is no whole number"),
        ('format = "1"', '"1" is no whole number'),
        ("format = 1.0", "1.0 is no whole number"),
        ("format = 0", "there is no format 0"),
        ("format = -1", "there is no format -1"),
    ],
)
def test_the_format_must_be_one(text: str, what: str) -> None:
    (fault,) = faults(text)
    assert fault.key == "format"
    assert fault.line == 1
    assert what in fault.what


@pytest.mark.parametrize("form", [2, 2**64])
def test_a_newer_format_is_read_as_far_as_it_goes_and_to_be_looked_at_only(form: int) -> None:
    outcome = read({"format": form, "beer": {"volume": "23 L", "colour": 9}}, f"format = {form}\n")
    assert outcome.faults == ()
    assert outcome.session.beer is not None
    assert outcome.session.beer.volume_l == 23.0
    assert outcome.session.format == form
    assert outcome.newer == outcome.notes[0]
    assert "is newer than this program, which reads format 1: use a newer version" in str(outcome.read_only)


def test_of_a_newer_format_nothing_else_is_judged() -> None:
    assert [fault.key for fault in faults("format = 2\n[beer]\nvolume = 23\n")] == ["format"]
    assert [fault.key for fault in faults('format = 2\n[flask]\nfill_limit = "9 L"\n')] == ["format"]


def test_all_faults_of_a_file_are_told_at_once_in_its_order() -> None:
    text = 'format = true\n[beer]\nvolume = 3\ntype = "stout"\n[[step]]\n\n[[step]]\nwort = 3\n[bath]\nwater = "x"\n'
    assert [(fault.line, fault.key) for fault in faults(text)] == [
        (1, "format"),
        (3, "beer.volume"),
        (4, "beer.type"),
        (8, "step.1.wort"),
        (10, "bath.water"),
    ]


def test_inside_a_single_step_the_faults_are_told_too() -> None:
    text = "format = 1\n[step]\nwort = 3\n"
    assert [(fault.line, fault.key) for fault in faults(text)] == [(2, "step"), (3, "step.wort")]


def test_a_wrong_value_is_not_told_again_as_a_clash() -> None:
    assert [f.key for f in faults('format = 1\n[flask]\nsize = "5"\nfill_limit = "4 L"\n')] == ["flask.size"]


def test_a_fault_is_written_with_file_line_key_what_and_right() -> None:
    (fault,) = faults("format = 1\n[beer]\nvolume = 23\n")
    expected = 'a.toml:3: beer.volume: 23 is a number without unit: write it as text with a unit, for example "23 L"'
    assert fault.of("a.toml") == expected


def test_no_message_can_steer_a_terminal() -> None:
    text = 'format = 1\n[beer]\ntype = "\\u001b[2J\\u009b"\n"\\u001b[31m" = 1\n'
    found = outcome(text)
    told = "".join(fault.of("\x1b.toml") for fault in (*found.faults, *found.notes))
    assert told.isprintable()


def test_unknown_keys_and_tables_are_notes() -> None:
    found = outcome('format = 1\ncolour = 3\n[beer]\nvolum = "23 L"\n[beer.extra]\n[shopping]\nlist = []\n')
    assert found.faults == ()
    assert [(note.line, note.key) for note in found.notes] == [
        (2, "colour"),
        (4, "beer.volum"),
        (5, "beer.extra"),
        (6, "shopping"),
    ]
    assert "did you mean volume?" in found.notes[1].right


def test_a_reading_without_kind_is_noted() -> None:
    found = outcome('format = 1\n[[reading]]\nvalue = "1.030"\n')
    assert found.faults == ()
    assert [note.key for note in found.notes] == ["reading.0.value"]
    assert found.session.reading[0].value is None


def test_of_an_empty_session_everything_has_its_default() -> None:
    session = outcome("format = 1").session
    assert session == Session(wort=WortHabits(gravity_w=extract_from_sg(1.034)), given=frozenset({"format"}))
    assert session.beer is None
    assert session.keep is None


def test_a_full_session_is_in_base_units() -> None:
    text = (
        'format = 1\n[batch]\nname = "A"\npitch_at = 2026-11-28T15:00:00+01:00\n'
        '[[yeast]]\nkind = "slurry"\nmade_on = 2026-10-19\nvolume = "5 fl oz"\n'
        'density = "1200 M/mL"\nstored_at = "39.2 °F"\n'
        '[flask]\nsize = "1 gal"\nglass = "0.7 kg"\nbase = "16.6 cm"\n'
        '[wort]\nboil_off = "0.08 L"\nrest = "2 d"\n[foam]\ndrop = "0.05 g"\n[day]\nawake = "22:00 - 6:30"\n'
        '[[step]]\nwort = "1,6 l"\ngravity = "8.5 °P"\nhours = "1 d"\ndecant = true\n[keep]\nvolume = "0 L"\n'
        '[[reading]]\nkind = "brix"\nvalue = "8.7"\n'
        '[[reading]]\nkind = "count"\nvalue = "160 B"\ndiscarded = "100 mL"\n'
    )
    session = outcome(text).session
    assert session.batch == Batch("A", datetime(2026, 11, 28, 14, tzinfo=UTC))
    assert session.yeast == (
        Lot("slurry", date(2026, 10, 19), volume_l=5 * 3.785411784 / 128, density_b_per_ml=1.2, stored_at_c=4.0),
    )
    assert session.flask == Flask(size_l=3.785411784, glass_g=700.0, base_mm=166.0)
    assert (session.wort.boil_off_ml, session.wort.rest_s, session.foam.drop_mg) == (80.0, 172800.0, 50.0)
    assert session.day.awake == (time(22), time(6, 30))
    assert session.step == (Step(1.6, 0.085, hours_s=86400.0, decant=True),)
    assert session.keep == Keep(volume_l=0.0)
    assert session.reading == (Reading(kind="brix", value=8.7), Reading(kind="count", value=160.0, discarded_ml=100.0))


def test_a_raw_count_is_in_base_units() -> None:
    count = 'squares = "42, 38 51"\nsquare = "0.004 µL"\ndilution = 10\nstained = 3\n'
    (lot,) = outcome(f'format = 1\n[[yeast]]\nkind = "counted"\n{count}').session.yeast
    assert (lot.squares, lot.square_ul, lot.dilution, lot.stained) == ((42, 38, 51), 0.004, 10.0, 3)
    assert lot.viability is None
    (plain,) = outcome("format = 1\n[[yeast]]\n").session.yeast
    assert (plain.squares, plain.square_ul, plain.dilution, plain.stained) == ((), 0.1, 1.0, None)


def test_given_tells_every_key_that_stands_in_the_file() -> None:
    session = outcome(COMMENTED).session
    assert session.is_given("step.1.decant")
    assert session.is_given("step.1.remark.text")
    assert session.is_given("batch.my_own.colour")
    assert session.is_given("shopping.list")
    assert not session.is_given("step.0.decant")
    assert not session.is_given("wort")


@pytest.mark.parametrize(
    "text",
    [
        '[beer]\ngravity = "0 °P"',
        '[beer]\ngravity = "35 °P"',
        '[beer]\ngravity = "1.000"',
        '[wort]\ngravity = "35 °P"',
        "[beer]\npitch_rate = 0.05",
        "[beer]\npitch_rate = 10",
        "[batch]\nchance = 0.5",
        "[batch]\nchance = 0.95",
        "[wort]\nextract_fraction = 0.5",
        "[wort]\nextract_fraction = 1",
        '[wort]\nboil_off = "0 mL"',
        '[wort]\nrest = "0 h"',
        '[wort]\nleft_after_decant = "0 L"',
        "[foam]\ndrops = 0",
        "[foam]\ndrops_per_gallon = 0",
        '[bath]\nwater = "0 L"',
        '[bath]\ntemperature = "-20 °C"',
        '[bath]\ntemperature = "110 °C"',
        '[place]\naltitude = "-500 m"',
        '[place]\naltitude = "9000 m"',
        '[[step]]\ntop_up = "0 L"',
        '[keep]\ncells = "0 B"',
        '[[yeast]]\ncells = "0 B"',
        "[[yeast]]\nviability = 0",
        "[[yeast]]\nviability = 1",
        '[flask]\nsize = "2 L"\nfill_limit = "2 L"',
        '[flask]\nsize = "1 gal"\nboil_limit = "1 gal"',
        '[[reading]]\nkind = "gravity"\nvalue = "0.990"',
        '[[reading]]\nkind = "gravity"\nvalue = "1.160"',
        '[[reading]]\nkind = "gravity"\nvalue = "1.000"',
        '[[yeast]]\nsquares = "42 38"\nstained = 80',
        '[[yeast]]\nsquares = "0 0"\nstained = 0\nsquare = "10 µL"\ndilution = 1',
        '[[yeast]]\nsquares = "100000"',
        "[[yeast]]\nstained = 12",
        '[[yeast]]\ncells_low = "9 B"\ncells = "9 B"\ncells_high = "9 B"',
        "[[event]]\nstep = 0",
        '[[event]]\nwhat = "odd"',
        "[batch]\npitch_at = 2026-11-28T00:30:00+01:00\n[[yeast]]\nmade_on = 2026-11-28",
        "step = []",
        "[keep]",
        "[beer]",
    ],
)
def test_the_ends_of_each_range_belong_to_it(text: str) -> None:
    assert faults(f"format = 1\n{text}\n") == ()
