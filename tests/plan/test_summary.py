"""What the list shows of a batch: it holds at any hour, whenever it was made."""

from __future__ import annotations

import json
import tomllib
from datetime import UTC, datetime, timedelta

import pytest

from tests.panes.scenes import AMBER, CET, EMPTY, NOW, ONE, TWO
from workbench.plan.derive import derive
from workbench.plan.habits import Habits
from workbench.plan.summary import Summary, next_task, of_record, order, record, state, status, summary
from workbench.session.read import read

FED = '[[event]]\nat = 2026-11-27T16:10:00Z\nstep = 1\nwhat = "yeast-in"\n'
COLD = '[[event]]\nat = 2026-11-28T10:00:00Z\nstep = 1\nwhat = "chill-on"\n'
PITCHED = '[[event]]\nat = 2026-11-28T14:30:00Z\nstep = 0\nwhat = "pitched"\n'
LATER = ONE.replace("2026-11-28T15", "2026-12-02T15")
SHELF = LATER.replace('[beer]\nvolume = "23 L"\ngravity = "1.056"\n', '[keep]\ncells = "60 B"\n')
HOUR = timedelta(hours=1)


def told(text: str, now: datetime = NOW) -> Summary:
    outcome = read(tomllib.loads(text), text)
    assert not outcome.faults
    return summary(derive(outcome.session, now, Habits(tz=CET)))


def at(text: str) -> datetime:
    return datetime.fromisoformat(text).replace(tzinfo=UTC)


@pytest.mark.parametrize("text", [EMPTY, AMBER, ONE, TWO + FED, LATER + FED + COLD, ONE + FED + PITCHED, SHELF])
def test_it_is_the_same_whenever_it_is_made(text: str) -> None:
    assert told(text) == told(text, NOW + timedelta(days=1.4)) == told(text, NOW + timedelta(days=400))


@pytest.mark.parametrize("text", [EMPTY, AMBER, TWO + FED, LATER + FED + COLD, ONE + FED + PITCHED, SHELF])
def test_it_survives_the_index(text: str) -> None:
    assert of_record(json.loads(json.dumps(record(told(text))))) == told(text)
    faulty = Summary(fault="line 3: \x1b[2J \udcff")
    assert of_record(json.loads(json.dumps(record(faulty)))) == faulty
    aside = Summary("a", needs="compare", aside="a.toml")
    assert of_record(json.loads(json.dumps(record(aside)))) == aside


@pytest.mark.parametrize(
    ("text", "now", "word", "left"),
    [
        (EMPTY, "2026-11-26T07:00", "open", ""),
        (ONE, "2026-11-26T07:00", "plan", ""),
        (ONE + FED, "2026-11-27T17:10", "growing", "20 h 50 min"),
        (LATER + FED, "2026-11-30T16:10", "grown", ""),
        (LATER + FED + COLD, "2026-11-28T14:00", "cold", "20 h 00 min"),
        (LATER + FED + COLD, "2026-11-30T10:00", "cold", ""),
        (ONE + FED + PITCHED, "2026-12-01T10:00", "pitched", "28 Nov"),
        (ONE + FED + PITCHED, "2027-01-01T10:00", "pitched", "28 Nov 2026"),
        (SHELF + FED + PITCHED, "2026-12-01T10:00", "stored", "28 Nov"),
        (ONE, "2026-11-29T13:59", "plan", ""),
        (ONE, "2026-11-29T14:01", "past", "28 Nov"),
    ],
)
def test_how_far_it_is(text: str, now: str, word: str, left: str) -> None:
    assert state(told(text), at(now), CET) == (word, left)


def test_growth_ends_where_the_plan_has_it_end() -> None:
    batch = told(ONE + FED)
    assert batch.grown_at is not None
    assert status(batch, batch.grown_at - HOUR).word == "growing"
    assert status(batch, batch.grown_at).word == "grown"


def test_the_next_task_is_the_first_that_is_not_done_late_or_not() -> None:
    batch = told(ONE)
    first = next_task(batch, NOW)
    assert first is not None
    assert first.what == "yeast out; warm, swell as labelled"
    assert first.at == at("2026-11-27T14:45")
    assert next_task(batch, first.at + HOUR) == first
    fed = next_task(told(ONE + FED), NOW)
    assert fed is not None
    assert fed.what == "shake for air"
    rested = next_task(told(ONE + FED), at("2026-11-28T13:00"))
    assert rested is not None
    assert rested.what == "bring near the beer's temperature"


def test_what_is_on_the_stove_or_in_the_bath_is_told() -> None:
    boils = ONE + FED.replace("yeast-in", "boil-on")
    assert state(told(boils), at("2026-11-27T16:15"), CET) == ("boiling", "")
    held = boils + FED.replace("yeast-in", "boil-hold").replace("16:10", "16:12")
    assert state(told(held), at("2026-11-27T16:15"), CET) == ("held", "")
    cools = boils + FED.replace("yeast-in", "boil-done").replace("16:10", "16:20")
    cools += FED.replace("yeast-in", "cool-on").replace("16:10", "16:22")
    assert state(told(cools), at("2026-11-27T16:25"), CET) == ("cooling", "")


def test_what_rings_is_known_whenever_it_is_made() -> None:
    boils = ONE + FED.replace("yeast-in", "boil-on")
    first, later = told(boils, at("2026-11-27T16:10")), told(boils, at("2026-11-27T16:15"))
    assert [(alarm.at, alarm.what) for alarm in first.rings] == [
        (at("2026-11-27T16:19"), "a minute of the boil is left"),
        (at("2026-11-27T16:20"), "boil done: heat off"),
    ]
    assert first.rings == later.rings
    assert of_record(json.loads(json.dumps(record(first)))) == first
    assert told(boils + PITCHED).rings == ()


def test_nothing_is_waited_for_where_it_is_over() -> None:
    assert next_task(told(ONE + FED + PITCHED), NOW) is None
    assert next_task(told(ONE), NOW + timedelta(days=30)) is None


def test_what_is_missing_and_what_is_wrong_is_told() -> None:
    assert told(EMPTY).needs == "set the hour when the yeast goes into the beer"
    assert told(ONE.replace("1.6 L", "0.4 L")).wrong.endswith("under the need")
    assert told(ONE.replace('"1.6 L"', '"6 L"')).wrong
    assert (told(ONE).needs, told(ONE).wrong) == ("", "")


def test_what_wants_something_first_comes_first() -> None:
    soon, later, over, older = (
        told(ONE),
        told(LATER),
        told(ONE + PITCHED),
        told(ONE.replace("2026-11-28", "2026-11-01")),
    )
    faulty, blank = Summary(fault="no"), told(EMPTY)
    mixed = [faulty, older, later, blank, over, soon]
    assert sorted(mixed, key=lambda of: order(of, NOW)) == [soon, later, blank, over, older, faulty]
