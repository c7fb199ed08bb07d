"""Every figure of whole plans: numbers in its reason, a year in what was published, and where it holds."""

from __future__ import annotations

import math
import re
import tomllib
from datetime import timedelta

import pytest

from tests.plan.sessions import (
    JAR,
    LAGER_IN_TWO_STEPS,
    PITCH_AT,
    SACHET,
    STIRRED_ALE,
    SWIRLED_JAR,
    W_1034,
    figures,
    happened,
    plan_of,
    read,
)
from workbench.data import folder
from workbench.plan import sources
from workbench.plan.derive import derive
from workbench.plan.model import Source
from workbench.session.model import Batch, Flask, Keep, Step
from workbench.session.read import read as read_session

MEASURED = {
    **STIRRED_ALE,
    "event": (happened("boil-done", 25), happened("yeast-in", 22)),
    "reading": (
        read("gravity", W_1034, 24, temperature_c=24.0, discarded_ml=100.0),
        read("brix", 8.7, 24),
        read("brix", 4.0, 2),
        read("gravity", W_1034, 23, temperature_c=70.0),
    ),
}
SCENARIOS = {
    "an ale, stirred": STIRRED_ALE,
    "a lager, poured off": LAGER_IN_TWO_STEPS,
    "a jar, swirled, part kept": {**SWIRLED_JAR, "keep": Keep(volume_l=0.2)},
    "two flasks on top, part kept": {"step": (Step(0.5), Step(0.8)), "flask": Flask(3.0, flasks=2), "keep": Keep(40.0)},
    "for the shelf": {"beer": None, "keep": Keep(cells_b=150.0)},
    "dry": {"yeast": (SACHET,), "step": ()},
    "a jar as it is, poured off": {"yeast": (JAR,), "step": (), "batch": Batch("x", PITCH_AT, "decanted")},
    "measured": MEASURED,
}


def demo_plans():
    for path in sorted(folder("demo").glob("*.toml")):
        text = path.read_text("utf-8")
        session = read_session(tomllib.loads(text), text).session
        yield path.stem, derive(session, session.batch.pitch_at - timedelta(days=3))


PLANS = {**dict(demo_plans()), **{name: plan_of(**tables) for name, tables in SCENARIOS.items()}}


@pytest.mark.parametrize("plan", PLANS.values(), ids=PLANS)
def test_a_figure_that_is_known_says_how_with_numbers_and_where_that_holds(plan):
    for path, figure in figures(plan):
        if figure.value is not None:
            as_typed = figure.why.source.status == "typed"  # nothing is worked out
            assert as_typed or re.search(r"\d", figure.why.says), path
            assert figure.why.valid, path
            assert figure.why.source.status != "missing", path


def test_what_is_published_or_quoted_names_its_year():
    named = [source for source in vars(sources).values() if isinstance(source, Source)]
    assert len(named) > 20
    for source in named:
        if source.status == "published":
            assert re.search(r"\b(18|19|20)\d\d\b", source.cite), source


def test_the_reason_of_a_pitch_says_how_much_of_the_need_it_is():
    pitched = plan_of(**STIRRED_ALE).final.pitched_b
    assert pitched.why.says == "263 B, 110 % of the 238 B needed"
    assert pitched.why.unsure == "good odds of the full rate; a tenth under is no drama"


def test_what_is_kept_and_lost_on_the_way_stands_in_the_reason():
    tables = {**STIRRED_ALE, "batch": Batch("x", PITCH_AT, "decanted"), "keep": Keep(cells_b=60.0)}
    assert plan_of(**tables).final.pitched_b.why.says.startswith("(264 B - 60 B kept) × 0.95 (decant) = 194 B, 81 %")


def test_far_from_the_need_nobody_says_it_is_no_drama():
    chance = plan_of(**{**STIRRED_ALE, "keep": Keep(cells_b=60.0)}).final.chance
    assert "85 % of the 238 B needed: " in chance.why.says
    assert "drama" not in chance.why.says


def test_the_shelf_has_a_goal_and_no_rate():
    assert "of all that is to be kept" in plan_of(beer=None, keep=Keep(cells_b=180.0)).final.chance.why.says


@pytest.mark.parametrize(
    ("tables", "says"),
    [
        (
            STIRRED_ALE,
            "73.8 B alive at pitching if nothing is grown, 238 B needed: 165 B short, so a starter is wanted",
        ),
        ({**STIRRED_ALE, "keep": Keep(cells_b=60.0)}, "238 B needed and 60 B to keep: 225 B short"),
        ({"beer": STIRRED_ALE["beer"]._replace(volume_l=5.0)}, "22 B to spare, so no starter is needed"),
        ({"yeast": (SACHET,), "step": ()}, "dry yeast goes in as it is, without a starter"),
        ({"yeast": (SACHET,), "beer": None}, "dry yeast goes in as it is, without a starter"),
        ({"yeast": ()}, "needs the pitching time, the need and a lot whose cells are known"),
    ],
)
def test_the_verdict_on_a_starter_has_its_reason(tables, says):
    plan = plan_of(**tables)
    assert says in plan.starter.why.says
    if plan.starter.value is not None and not says.startswith("dry"):
        assert plan.starter_needed is ("wanted" in plan.starter.why.says)


def numbers(pattern, says):
    return (float(number) for number in re.search(pattern, says).groups())


def test_the_numbers_of_a_formula_give_its_figure():
    step = plan_of(**STIRRED_ALE).steps[0]
    a, h0, rate = numbers(r"= ([\d.]+); .*e\^([\d.]+) .* / ([\d.]+) per h", step.hours.why.says)
    assert math.log(1.0 + math.exp(h0) * (a - 1.0)) / rate == pytest.approx(step.hours.value, rel=0.01)
    r, new = numbers(r"= ([\d.]+) B/g; stirred, that grows ([\d.]+) B/g", step.cells_out_b.why.says)
    assert 1.0 + new / r == pytest.approx(step.growth, rel=0.02)


def test_a_sample_too_hot_is_said_to_stand_as_read():
    plan = plan_of(**MEASURED)
    says = [reading.true_w.why.says for reading in plan.readings]
    assert "it floats in 1.0340 × 998.2 × (1 - 25e-6 × (24.0 - 20.0)) g/L at 24.0 °C" in says[0]
    assert says[3] == "1.0340 as read: a sample at 70.0 °C is outside 0 to 60 °C"
