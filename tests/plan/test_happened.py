"""What the stamps of a session say has happened."""

from __future__ import annotations

from tests.plan.sessions import PITCH_AT, before, happened, session
from workbench.plan.happened import begun, chilled, last_begun, next_to_begin, pitch_at, pitched
from workbench.session.model import Step

TWO = (Step(0.5), Step(1.0))


def test_nothing_has_happened_yet():
    own = session(step=TWO)
    assert (begun(own, 1), chilled(own, 1), pitched(own)) == (None, None, None)
    assert (next_to_begin(own), pitch_at(own), last_begun(own)) == (1, PITCH_AT, 0)


def test_the_next_to_begin_is_behind_all_that_have():
    assert next_to_begin(session(step=TWO, event=(happened("yeast-in", 40),))) == 2
    assert next_to_begin(session(step=TWO, event=(happened("yeast-in", 20, step=2),))) is None
    assert next_to_begin(session(step=())) is None


def test_what_was_taken_out_of_the_cold_is_not_chilled():
    on, off = happened("chill-on", 30), happened("chill-off", 20)
    assert chilled(session(event=(on,)), 1) == before(hours=30)
    assert chilled(session(event=(on, off)), 1) is None
    assert chilled(session(event=(on, off, happened("chill-on", 10))), 1) == before(hours=10)


def test_what_was_chilled_before_it_began_is_another_chill():
    assert chilled(session(event=(happened("chill-on", 30), happened("yeast-in", 20))), 1) is None


def test_the_stamped_pitching_stands_for_none_or_the_last_feeding():
    for step in (0, 2):
        own = session(step=TWO, event=(happened("pitched", 3, step=step),))
        assert pitched(own) == pitch_at(own) == before(hours=3)
    assert pitched(session(step=TWO, event=(happened("pitched", 3, step=1),))) is None


def test_a_culture_that_stands_cold_is_under_way():
    assert last_begun(session(event=(happened("chill-on", 30),))) == 1
    assert last_begun(session(event=(happened("boil-on", 30),))) == 0
