"""Feedings that stay: what is over keeps the hours it had and the cold that came after, and those count as gone."""

from __future__ import annotations

import pytest

from tests.plan.kitchens import session_of
from workbench.plan import fixed, planner
from workbench.plan.kitchen import kitchen

THREE = """
format = 1
[batch]
pitch_at = 2026-12-01T18:00:00Z
[beer]
volume = "23 L"
gravity = "1.070"
[[yeast]]
kind = "pack"
made_on = 2026-09-01
[flask]
size = "3 L"
[[step]]
wort = "0.8 L"
[[step]]
wort = "2.0 L"
decant = true
[[step]]
wort = "2.0 L"
decant = true
"""


def stamps(*whats: str) -> str:
    """Events from `"1 yeast-in 26T06"`: step, what, day of November 2026 and hour."""
    parted = (what.split() for what in whats)
    return "".join(
        f'[[event]]\nat = 2026-11-{day}:00:00Z\nstep = {step}\nwhat = "{what}"\n' for step, what, day in parted
    )


def test_locked_ones_and_begun_ones_stand():
    begun = session_of(THREE.replace('"0.8 L"', '"0.8 L"\nlocked = true') + stamps("2 yeast-in 28T06"))
    assert fixed.places(begun) == (0, 1)


def test_what_is_over_keeps_its_hours_and_the_next_the_cold_it_stood_in():
    # in on the 24th at 6, chilled 20 h later, fed on the 28th at 2: three days cold, of which one is the planned rest
    session = session_of(THREE + stamps("1 yeast-in 24T06", "1 chill-on 25T02", "2 yeast-in 28T02"))
    first, second = fixed.portions(session, (0, 1)).values()
    assert first.feeding.hours == pytest.approx(20.0)
    assert second.feeding.hours is None
    assert second.feeding.cold_days == pytest.approx(2.0)
    assert fixed.idle_h(session) == pytest.approx(48.0)
    # from the 24th at 6 to pitching 180 h, less what was idle
    assert kitchen(session).most_hours == pytest.approx(180.0 - 48.0)


def test_while_only_the_first_has_begun_nothing_is_over():
    session = session_of(THREE + stamps("1 yeast-in 24T06"))
    (first,) = fixed.portions(session, (0,)).values()
    assert (first.feeding.hours, first.feeding.cold_days) == (None, 0.0)
    assert fixed.idle_h(session) == 0.0


def test_a_feeding_cut_short_makes_the_rest_larger():
    grown = session_of(THREE + stamps("1 yeast-in 24T06", "2 yeast-in 27T06"))
    short = session_of(THREE + stamps("1 yeast-in 27T02", "2 yeast-in 27T06"))
    worts = [sum(step.wort_l for step in planner.propose(each, keep=(0, 1))[2:]) for each in (grown, short)]
    assert worts[0] < worts[1]


def test_one_whose_wort_is_not_known_does_not_stand():
    assert fixed.portions(session_of(THREE.replace('wort = "0.8 L"\n', "")), (0, 1)).keys() == {1}


BESIDE = """
format = 1
[batch]
pitch_at = 2026-12-01T18:00:00Z
pitch = "decanted"
[beer]
volume = "23 L"
gravity = "1.056"
[[yeast]]
kind = "pack"
made_on = 2026-10-22
[flask]
size = "3 L"
fill_limit = "2.7 L"
[[step]]
wort = "0.5 L"
[[step]]
wort = "1 L"
locked = true
"""


def test_beside_a_locked_one_the_planner_fills_no_flask_beyond_its_limit():
    free, locked = planner.propose(session_of(BESIDE), keep=(1,))
    assert free.wort_l + locked.wort_l <= 2.7
    # in a smaller flask it takes a third, and what was grown is poured off before it
    *both, third = planner.propose(session_of(BESIDE.replace('"3 L"', '"2 L"').replace("2.7 L", "1.8 L")), keep=(1,))
    assert sum(step.wort_l for step in both) <= 1.8
    assert third.decant


def test_one_that_overfills_the_flask_by_itself_stands_beside_the_smallest_there_is():
    locked = BESIDE.replace('"1 L"', '"2.8 L"')
    lots = locked.replace("2026-10-22", '2026-10-22\ncells = "20 B"')
    assert [step.wort_l for step in planner.propose(session_of(lots), keep=(1,))[:2]] == [0.2, 2.8]
