"""The mass balance of powder, water, boil-off and top-up against worked tables, and every pair against the others."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from tests.brewing.wort_tables import POUND_IN_A_GALLON, POWDER_FOR_GRAVITY, POWDER_IN_WATER
from workbench.brewing import density, wort
from workbench.errors import UnderdeterminedWort, WortImpossible

POUND_G = 453.59237  # by definition
US_GALLON_L = 3.785411784  # by definition
PAIRS = list(combinations(("powder_g", "water_l", "gravity_w", "wort_l"), 2))


@pytest.mark.parametrize(("powder_g", "water_l", "boil_off_ml", "f", "sg", "plato", "volume_ml"), POWDER_IN_WATER)
def test_powder_in_water(powder_g, water_l, boil_off_ml, f, sg, plato, volume_ml):
    made = wort.solve(powder_g=powder_g, water_l=water_l, boil_off_ml=boil_off_ml, extract_fraction=f)
    assert density.sg(made.gravity_w) == pytest.approx(sg, abs=3e-5)
    assert 100.0 * made.gravity_w == pytest.approx(plato, abs=0.001)
    assert 1000.0 * made.wort_l == pytest.approx(volume_ml, abs=0.06)


@pytest.mark.parametrize(("sg", "f", "per_litre_of_wort", "per_litre_of_water"), POWDER_FOR_GRAVITY)
def test_powder_for_a_gravity(sg, f, per_litre_of_wort, per_litre_of_water):
    w = density.extract_from_sg(sg)
    finished = wort.solve(gravity_w=w, wort_l=1.0, extract_fraction=f)
    assert finished.powder_g == pytest.approx(per_litre_of_wort, abs=0.05)
    put_in = wort.solve(gravity_w=w, water_l=1.0, extract_fraction=f)
    assert put_in.powder_g == pytest.approx(per_litre_of_water, abs=0.05)


@pytest.mark.parametrize(("f", "points", "plato"), POUND_IN_A_GALLON)
def test_a_pound_in_a_gallon(f, points, plato):
    made = wort.solve(powder_g=POUND_G, wort_l=US_GALLON_L, extract_fraction=f)
    assert 1000.0 * (density.sg(made.gravity_w) - 1.0) == pytest.approx(points, abs=0.01)
    assert 100.0 * made.gravity_w == pytest.approx(plato, abs=0.001)


@pytest.mark.parametrize("f", [0.95, 0.96, 0.97])
def test_the_trades_100_g_per_litre_lands_at_1036_to_1040(f):
    # common practice, no source; true of a litre of finished wort, not of a litre of water put in
    made = wort.solve(powder_g=100.0, wort_l=1.0, extract_fraction=f)
    assert 1.036 <= density.sg(made.gravity_w) <= 1.040
    put_in = wort.solve(powder_g=100.0, water_l=1.0, extract_fraction=f)
    assert density.sg(put_in.gravity_w) < 1.036


def test_the_trades_100_g_on_1200_ml_with_a_short_boil_is_about_1030():
    made = wort.solve(powder_g=100.0, water_l=1.2, boil_off_ml=50.0)  # common practice, no source
    assert density.sg(made.gravity_w) == pytest.approx(1.030, abs=0.0005)


def test_hot_wort_stands_higher_by_the_trades_4_percent():
    # 10 °P from 100 to 20 °C: 3.993 % of the hot volume (computed from the ICUMSA polynomial)
    hot_l = wort.hot_volume_l(wort.finished_mass_g(1.0, 0.10), 0.10 * wort.finished_mass_g(1.0, 0.10))
    assert 100.0 * (1.0 - 1.0 / hot_l) == pytest.approx(3.993, abs=0.001)


@st.composite
def recipes(draw):
    """A possible wort, with any boil-off, top-up and extract fraction: the arguments held and the answer."""
    f = draw(st.floats(0.5, 1.0))
    held = {
        "boil_off_ml": draw(st.floats(0.0, 2000.0)),
        "top_up_l": draw(st.floats(0.0, 3.0)),
        "extract_fraction": f,
    }
    gravity_w, wort_l = draw(st.floats(0.002, 0.35)), draw(st.floats(0.05, 30.0))
    mass_g = wort.finished_mass_g(wort_l, gravity_w)
    begun_g = mass_g * (1.0 - gravity_w / f) + held["boil_off_ml"] - 1000.0 * held["top_up_l"]
    assume(begun_g > 20.0)
    assume(gravity_w * mass_g < 0.99 * min(f, 0.365) * (mass_g - 1000.0 * held["top_up_l"]))  # it has to stay wort
    return held, wort.solve(gravity_w=gravity_w, wort_l=wort_l, **held)


@given(recipes(), st.sampled_from(PAIRS))
def test_any_two_terms_give_the_other_two(recipe, pair):
    held, made = recipe
    found = wort.solve(**{term: getattr(made, term) for term in pair}, **held)
    for term in ("powder_g", "water_l", "gravity_w", "wort_l", "extract_g", "mass_g"):
        assert getattr(found, term) == pytest.approx(getattr(made, term), rel=1e-9, abs=1e-9)


@given(recipes())
def test_mass_is_conserved(recipe):
    held, made = recipe
    grams = made.powder_g + wort.water_mass_g(made.water_l + made.top_up_l - made.boil_off_ml / 1000.0)
    assert grams == pytest.approx(made.mass_g, rel=1e-12)
    assert made.extract_g == pytest.approx(held["extract_fraction"] * made.powder_g, rel=1e-12)
    assert made.mass_g == pytest.approx(wort.finished_mass_g(made.wort_l, made.gravity_w), rel=1e-12)


@given(recipes(), st.floats(1.1, 10.0))
def test_twice_the_wort_is_twice_everything(recipe, times):
    held, made = recipe
    more = {**held, "boil_off_ml": times * held["boil_off_ml"], "top_up_l": times * held["top_up_l"]}
    scaled = wort.solve(gravity_w=made.gravity_w, wort_l=times * made.wort_l, **more)
    assert scaled.powder_g == pytest.approx(times * made.powder_g, rel=1e-12)
    assert scaled.water_l == pytest.approx(times * made.water_l, rel=1e-9)


@given(st.floats(0.01, 0.2), st.floats(0.5, 5.0), st.floats(0.0, 300.0))
def test_boil_off_changes_the_water_but_not_the_powder(gravity_w, wort_l, boil_off_ml):
    calm = wort.solve(gravity_w=gravity_w, wort_l=wort_l)
    boiled = wort.solve(gravity_w=gravity_w, wort_l=wort_l, boil_off_ml=boil_off_ml)
    assert boiled.powder_g == calm.powder_g
    assert 1000.0 * (boiled.water_l - calm.water_l) == pytest.approx(boil_off_ml, abs=1e-9)


TERMS = {"powder_g": 100.0, "water_l": 1.0, "gravity_w": 0.085, "wort_l": 1.05}


@pytest.mark.parametrize("count", [0, 1, 3, 4])
def test_too_few_or_too_many_terms(count):
    for chosen in combinations(TERMS, count):
        with pytest.raises(UnderdeterminedWort, match=r"two of powder, water, gravity and volume.*: give two$"):
            wort.solve(**{term: TERMS[term] for term in chosen})


IMPOSSIBLE = {
    "stronger than the powder": ({"gravity_w": 0.5, "wort_l": 1.0, "extract_fraction": 0.5}, "give a lower gravity"),
    "stronger than any wort": ({"gravity_w": 0.4, "wort_l": 1.0}, "give a lower gravity"),
    "thinner than water": ({"gravity_w": -0.01, "wort_l": 1.0}, "give a gravity above 1.000"),
    "water of a gravity": ({"gravity_w": 0.0, "water_l": 1.0}, "give a gravity above 1.000"),
    "powder in plain water": ({"gravity_w": 0.0, "powder_g": 10.0}, "give a gravity above 1.000"),
    "all boiled off": ({"gravity_w": 0.1, "water_l": 0.05, "boil_off_ml": 80.0}, "give more water or less boil-off"),
    "mostly top-up": ({"gravity_w": 0.08, "wort_l": 1.0, "top_up_l": 2.0}, "use less top-up or make more wort"),
    "top-up over powder": ({"gravity_w": 0.08, "powder_g": 50.0, "top_up_l": 2.0}, "use less top-up or make more wort"),
    "nothing left to top up": (
        {"gravity_w": 0.0001, "wort_l": 1.0, "boil_off_ml": 251.0, "top_up_l": 1.25},
        "use less top-up or make more wort",
    ),
    "boiled down to sugar": (
        {"gravity_w": 0.2, "wort_l": 1.0, "boil_off_ml": 700.0, "top_up_l": 0.6},
        "use less top-up or make more wort",
    ),
    "more powder than wort": ({"powder_g": 5000.0, "wort_l": 1.0}, "change one of them"),
    "more water than wort": ({"water_l": 2.0, "wort_l": 1.0}, "change one of them"),
}


@pytest.mark.parametrize(("terms", "right"), IMPOSSIBLE.values(), ids=IMPOSSIBLE)
def test_what_no_wort_answers_says_what_would_be_right(terms, right):
    with pytest.raises(WortImpossible) as refusal:
        wort.solve(**terms)
    assert str(refusal.value).endswith(right)
    assert ": " in str(refusal.value)


@pytest.mark.parametrize("boil_off_ml", [0.0, 200.0])
def test_too_little_water_for_the_powder_says_so(boil_off_ml):
    with pytest.raises(WortImpossible, match=r"more water|less powder"):
        wort.solve(powder_g=100.0, water_l=0.05, boil_off_ml=boil_off_ml)
