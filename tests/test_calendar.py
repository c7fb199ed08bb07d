"""The calendar, held against RFC 5545 (September 2009) by rules written out here, and by a reader that is not ours."""

from __future__ import annotations

import re
import tomllib
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from icalendar import Calendar

from tests.examples import at_most
from tests.panes.scenes import AMBER, CET, NOW, ONE, TWO
from workbench import data
from workbench.calendar import as_icalendar
from workbench.errors import NothingPlanned
from workbench.plan.derive import derive
from workbench.plan.habits import Habits
from workbench.session.read import read
from workbench.units.plainly import harmless

if TYPE_CHECKING:
    from datetime import tzinfo

    from icalendar import Event

    from workbench.plan.model import Plan

DECANTS = TWO.replace('motion = "swirled"', "decant = true")
KEEPS = ONE + '[keep]\ncells = "60 B"\n'
DEMOS = [path.read_text(encoding="utf-8") for path in sorted(data.folder("demo").glob("*.toml"))]
SOME = [ONE, TWO, DECANTS, KEEPS, AMBER, *DEMOS]


def plan(text: str, tz: tzinfo = CET, now: datetime = NOW) -> Plan:
    outcome = read(tomllib.loads(text), text)
    assert not outcome.faults
    return derive(outcome.session, now, Habits(tz=tz))


def written(text: str, file: str = "amber.toml", **how: object) -> str:
    return as_icalendar(plan(text), file, **how)  # type: ignore[arg-type]


def events(calendar: str) -> list[Event]:
    return list(Calendar.from_ical(calendar).walk("VEVENT"))


def summaries(calendar: str) -> list[str]:
    return [str(event["SUMMARY"]).partition(": ")[2] for event in events(calendar)]


def unfolded(calendar: str) -> list[str]:
    """§3.1: content lines are unfolded by taking out CRLF and the one white space after it."""
    return calendar.replace("\r\n ", "").removesuffix("\r\n").split("\r\n")


def named(text: str) -> Plan:
    """The plan of a batch with this name, whatever a file could say."""
    one = plan(ONE)
    return one._replace(session=one.session._replace(batch=one.session.batch._replace(name=text)))


TEXTS = st.text(st.characters(), max_size=200)


@pytest.mark.parametrize("text", SOME, ids=range(len(SOME)))
def test_every_line_is_a_content_line_of_at_most_75_octets(text: str) -> None:
    raw = written(text).encode()
    assert raw.endswith(b"\r\n")
    lines = raw.split(b"\r\n")[:-1]
    assert all(len(line) <= 75 for line in lines)  # §3.1, line break not counted
    assert not any(re.search(rb"[\x00-\x08\x0a-\x1f\x7f]", line) for line in lines)  # §3.1: no CONTROL but HTAB
    for line in lines:
        line.decode()  # §3.1: "SHOULD NOT be split" within a character
    # §3.1: contentline = name *(";" param ) ":" value; none of ours has parameters
    assert all(re.fullmatch(r"[A-Z-]+:.+", line) for line in unfolded(raw.decode()))


@pytest.mark.parametrize("text", SOME, ids=range(len(SOME)))
def test_the_properties_that_must_be_there_are_there_once(text: str) -> None:
    lines = unfolded(written(text))
    # §3.4, §3.6: one object; PRODID and VERSION "are REQUIRED, but MUST NOT occur more than once"
    assert lines[0] == "BEGIN:VCALENDAR"
    assert lines[-1] == "END:VCALENDAR"
    assert lines.count("VERSION:2.0") == sum(line.startswith("PRODID:") for line in lines) == 1
    # §3.6: "an iCalendar object MUST include … at least one calendar component"
    blocks = "\n".join(lines).split("BEGIN:VEVENT\n")[1:]
    assert blocks
    for block in blocks:
        event, *alarms = block.partition("END:VEVENT")[0].split("BEGIN:VALARM\n")
        names = [line.partition(":")[0] for line in event.splitlines()]
        assert len(set(names)) == len(names)
        assert {"UID", "DTSTAMP", "DTSTART"} <= set(names)  # §3.6.1; DTSTART as there is no METHOD
        for line in event.splitlines():
            if line.startswith("DT"):
                assert re.fullmatch(r"[A-Z]+:\d{8}T\d{6}Z", line)  # §3.3.5 form 2, UTC; DTSTAMP MUST be so, §3.8.7.2
        for alarm in alarms:  # §3.6.6, dispprop: ACTION, DESCRIPTION, TRIGGER, each once
            names = [line.partition(":")[0] for line in alarm.splitlines()]
            assert sorted(names) == ["ACTION", "DESCRIPTION", "END", "TRIGGER"]
            assert re.search(r"^TRIGGER:-PT\d+M$", alarm, re.MULTILINE)  # §3.3.6
            assert "ACTION:DISPLAY\n" in alarm


@pytest.mark.parametrize("text", SOME, ids=range(len(SOME)))
def test_another_reader_finds_no_fault_and_no_event_twice(text: str) -> None:
    found = events(written(text))
    assert not any(event.errors for event in found)
    identities = [str(event["UID"]) for event in found]
    assert len(set(identities)) == len(identities)  # §3.8.4.7
    for event in found:
        assert event["DTSTAMP"].dt == NOW
        if "DTEND" in event:
            assert event["DTEND"].dt > event["DTSTART"].dt  # §3.8.2.2: "MUST be later"


@given(TEXTS)
@example("a\\b;c,d\ne:f\"g'h")
@example("ends in a backslash\\")
@example("\\n is no line end, \\N neither")
@example("\u202eright to left\u2066\x1b[2J\x00\r\n BEGIN:VEVENT")
@example("é" * 60)
@example("🍺" * 40)
@at_most(60)
def test_a_name_comes_back_as_it_is_shown_and_never_as_something_else(name: str) -> None:
    text = as_icalendar(named(name), "amber.toml")
    assert all(len(line.encode()) <= 75 for line in text.split("\r\n"))
    shown = harmless(name) or "amber.toml"
    found = events(text)
    assert len(found) == 3
    assert str(found[-1]["SUMMARY"]) == f"{shown}: yeast into the beer"
    # and by §3.3.11 read without a library: only \\ \; \, \n stand for something else
    line = next(line for line in unfolded(text) if line.startswith("SUMMARY:") and line.endswith("beer"))
    plain = re.sub(r"\\([\\;,])", r"\1", line.removeprefix("SUMMARY:"))
    assert plain == f"{shown}: yeast into the beer"
    assert re.fullmatch(r"(?:[^\\;,]|\\[\\;,])*", line.removeprefix("SUMMARY:"))


def test_an_event_for_each_wort_and_each_hour_at_which_the_yeast_moves() -> None:
    assert summaries(written(ONE)) == ["make the wort", "yeast in", "yeast into the beer"]
    assert summaries(written(KEEPS)) == ["make the wort", "yeast in", "keep part of it back", "yeast into the beer"]
    assert summaries(written(DECANTS)) == [
        "make the wort of feeding 1",
        "yeast in",
        "chill feeding 1 to settle",
        "make the wort of feeding 2",
        "pour off, feed 2",
        "yeast into the beer",
    ]


def test_the_wort_takes_from_its_first_task_to_yeast_in_and_the_rest_is_an_hour_each() -> None:
    wort, start, pitch = events(written(ONE))
    assert wort["DTSTART"].dt == datetime(2026, 11, 27, 14, 45, tzinfo=UTC)
    assert wort["DTEND"].dt == start["DTSTART"].dt == datetime(2026, 11, 27, 16, 0, tzinfo=UTC)
    assert pitch["DTSTART"].dt == datetime(2026, 11, 28, 14, 0, tzinfo=UTC)
    assert "DTEND" not in start  # growth is no event
    assert "DTEND" not in pitch


def test_small_tasks_figures_and_cautions_stand_in_the_description() -> None:
    wort, start, pitch = (str(event["DESCRIPTION"]).splitlines() for event in events(written(ONE)))
    assert "15:54 weigh powder into cold water: powder 149 g, water 1.59 L" in wort
    assert "- Hot wort scalds in seconds: at 60 °C in 5 or 6, at 65 °C in 2. Keep children and pets away." in wort
    assert wort[-1].startswith("- Where these differ")
    assert len(set(wort)) == len(wort)
    assert start[0] == "17:00 yeast in: cells 74 B, wort at 21 °C"
    assert "Sun 07:00 look and smell: does it work?" not in start
    assert "Sat 07:00 look and smell: does it work?" in start
    assert pitch[:2] == ["13:00 bring near the beer's temperature", "15:00 yeast into the beer: cells 263 B"]


def test_figures_are_in_the_brewers_units_and_with_the_brewers_mark() -> None:
    wort = str(events(written(ONE, system="us", comma=True))[0]["DESCRIPTION"])
    assert "powder 5,2 oz, water 1,68 qt" in wort
    assert "69,8 °F" in wort


def test_the_alarm_comes_before_the_first_thing_to_do() -> None:
    wort, start, pitch = events(written(ONE))
    ahead = [event.walk("VALARM")[0]["TRIGGER"].dt for event in (wort, start, pitch)]
    assert ahead == [timedelta(minutes=-15), timedelta(minutes=-15), timedelta(hours=-2, minutes=-15)]


def test_what_is_gone_by_gives_no_alarm() -> None:
    late = plan(ONE, now=datetime(2026, 11, 28, 13, 50, tzinfo=UTC))
    *_, pitch = events(as_icalendar(late, "amber.toml"))
    assert pitch.walk("VALARM") == []


BOILING = '[[event]]\nat = 2026-11-27T15:14:00Z\nstep = 1\nwhat = "boil-on"\n'
BEGUN = '[[event]]\nat = 2026-11-27T16:10:00Z\nstep = 1\nwhat = "yeast-in"\n'
PITCHED = '[[event]]\nat = 2026-11-28T14:05:00Z\nstep = 0\nwhat = "pitched"\n'


def test_what_is_done_is_left_out() -> None:
    boiling = plan(ONE + BOILING, now=datetime(2026, 11, 27, 15, 16, tzinfo=UTC))
    wort = events(as_icalendar(boiling, "amber.toml"))[0]
    assert "weigh" not in str(wort["DESCRIPTION"])
    assert "heat off" in str(wort["DESCRIPTION"])
    assert wort["DTSTART"].dt == datetime(2026, 11, 27, 15, 24, tzinfo=UTC)
    assert summaries(written(ONE + BEGUN)) == ["yeast into the beer"]


def test_no_event_is_no_calendar() -> None:
    with pytest.raises(NothingPlanned, match="all is done"):
        written(ONE + BEGUN + PITCHED)
    with pytest.raises(NothingPlanned, match="pitch_at"):
        written("format = 1\n")


def test_importing_again_moves_the_same_events() -> None:
    before, moved = (events(written(text)) for text in (ONE, ONE.replace("15:00:00", "18:00:00")))
    assert [event["UID"] for event in before] == [event["UID"] for event in moved]
    assert all(was["DTSTART"].dt < now["DTSTART"].dt for was, now in zip(before, moved, strict=True))
    later = events(as_icalendar(plan(ONE, now=NOW + timedelta(minutes=1)), "amber.toml"))
    assert all(was["SEQUENCE"] < now["SEQUENCE"] for was, now in zip(before, later, strict=True))  # §3.8.7.4
    assert {e["UID"] for e in before}.isdisjoint(e["UID"] for e in events(written(ONE, "porter.toml")))
    renamed = events(written(ONE.replace("Alder Lane Amber", "Amber of Alder Lane")))
    assert [event["UID"] for event in before] == [event["UID"] for event in renamed]


def test_what_is_kept_is_the_same_event_with_another_feeding_before_it() -> None:
    one, two = (events(written(KEEPS + more)) for more in ("", '[[step]]\nwort = "1 L"\n'))
    kept = [next(e["UID"] for e in found if "keep part" in e["SUMMARY"]) for found in (one, two)]
    assert kept[0] == kept[1]


@pytest.mark.parametrize(
    ("pitch_at", "wall", "utc"),
    [
        # the clocks of central Europe go back on 25 October 2026 and forward on 28 March 2027, at 01:00 UTC
        ("2026-10-25T15:00:00+01:00", "18:00", "20261024T160000Z"),
        ("2027-03-28T15:00:00+02:00", "16:00", "20270327T150000Z"),
    ],
)
def test_growth_across_a_change_of_the_clocks_has_its_hours(pitch_at: str, wall: str, utc: str) -> None:
    text = ONE.replace("2026-11-28T15:00:00+01:00", pitch_at).replace("2026-10-19", f"{pitch_at[:7]}-01")
    text = text.replace('wort = "1.6 L"\n', 'wort = "1.6 L"\nhours = "22 h"\n')
    before = datetime.fromisoformat(pitch_at) - timedelta(days=3)
    lines = unfolded(as_icalendar(plan(text, ZoneInfo("Europe/Berlin"), before), "amber.toml"))
    starts = [line.removeprefix("DTSTART:") for line in lines if line.startswith("DTSTART:")]
    assert starts[1] == utc
    pitched = datetime.strptime(starts[2], "%Y%m%dT%H%M%SZ").replace(tzinfo=UTC)
    assert pitched == datetime.fromisoformat(pitch_at)
    assert any(line.startswith(f"DESCRIPTION:{wall} yeast in") for line in lines)
