"""The two terms typed last, solved with this feeding's boil-off and top-up."""

from __future__ import annotations

from itertools import combinations

import pytest

from tests.plan.sessions import W_1034, WORT, session
from workbench.errors import UnderdeterminedWort, WortImpossible
from workbench.plan.solver import TERMS, solve_feeding
from workbench.session.model import Step

FIELDS = {"powder": "powder_g", "water": "water_l", "gravity": "gravity_w", "wort": "wort_l"}
MADE = session(step=(Step(1.0), Step(1.5, top_up_l=0.3, boil_time_s=900.0)), wort=WORT)


@pytest.mark.parametrize("pair", list(combinations(TERMS, 2)), ids="-".join)
def test_any_two_terms_give_the_same_wort(pair):
    whole = solve_feeding(MADE, 1, {"gravity": W_1034, "wort": 1.5})
    found = solve_feeding(MADE, 1, {term: getattr(whole, FIELDS[term]) for term in pair})
    for field in FIELDS.values():
        assert getattr(found, field) == pytest.approx(getattr(whole, field), rel=1e-9)


def test_the_feedings_own_boil_and_top_up_count():
    first, second = (solve_feeding(MADE, index, {"gravity": W_1034, "wort": 1.5}) for index in (0, 1))
    assert (first.boil_off_ml, first.top_up_l) == (80.0, 0.0)
    assert (second.boil_off_ml, second.top_up_l) == (300.0, 0.3)  # a pot, for 15 min
    assert first.powder_g == second.powder_g


@pytest.mark.parametrize("count", [0, 1, 3, 4])
def test_two_terms_are_asked_for(count):
    typed = dict(list({"powder": 150.0, "water": 1.5, "gravity": W_1034, "wort": 1.5}.items())[:count])
    with pytest.raises(UnderdeterminedWort, match="give two"):
        solve_feeding(MADE, 0, typed)


def test_what_cannot_be_is_said():
    with pytest.raises(WortImpossible):
        solve_feeding(MADE, 0, {"powder": 5000.0, "wort": 1.0})
