"""Laws that every proposal keeps, whatever the kitchen, and that what is shown of it is what the file then says."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import HealthCheck, Phase, assume, given, settings
from hypothesis import strategies as st

from tests.examples import at_most
from tests.plan.kitchens import NOW, bounds, forget, kitchens, session_of, text_of
from tests.plan.sessions import PITCH_AT, codes
from workbench.plan import followed, planner, relax, settle
from workbench.plan.derive import derive
from workbench.plan.effort import best_effort
from workbench.plan.habits import Habits
from workbench.plan.kitchen import grid_step_l, kitchen
from workbench.plan.proposal import richest
from workbench.plan.ways import ways
from workbench.session.edits import Several
from workbench.session.model import Step
from workbench.session.store import Store

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from workbench.plan.model import Plan, StepPlan
    from workbench.session.edits import Edit
    from workbench.session.model import Session

HABITS = Habits()
BY_THE_PLANNER = {"planner", "plain", "topped", "thrifty", "weak", "pot", "pack-1", "decanted"}
ONLY_WHERE_NOTHING_FITS = {"powder", "hours", "larger", "flask", "pack-2", "pack-3", "stirred", "even", "no-keep"}
TINY = 1e-9

# No looking for the smallest kitchen that fails: a plan takes its time.
_HOW: dict[str, Any] = {
    "phases": (Phase.explicit, Phase.generate),
    "suppress_health_check": [HealthCheck.filter_too_much, HealthCheck.too_slow],
}
fewer = settings(at_most(15), **_HOW)
few = settings(at_most(30), **_HOW)
many = settings(at_most(60), **_HOW)


def session_with(tables: dict[str, Any], *more: dict[str, Any]) -> Session:
    return session_of(text_of({k: v for table in (tables, *more) for k, v in table.items()}))


def bare(session: Session) -> Session:
    return session._replace(step=())


# ---- the limits ------------------------------------------------------------------------------------------------


def broken(plan: Plan, locked: frozenset[int] = frozenset()) -> Iterator[str]:
    """The laws that the planner's feedings of a plan break; those at places `locked` are not its own."""
    session = plan.session
    if not 1 <= len(plan.steps) <= 4:
        yield f"{len(plan.steps)} feedings"
    if plan.final.chance.value is None or plan.final.chance.value < session.batch.chance - TINY:
        yield f"chance {plan.final.chance.value} of {session.batch.chance}"
    step_l = grid_step_l(settle.fill_limit_l(session)) * max(1, len(plan.steps) - 1)
    for index, step in enumerate(plan.steps):
        if index not in locked:
            before_l = plan.steps[index - 1].flask_l.value * session.flask.flasks if index else None
            yield from (f"feeding {step.number}: {fault}" for fault in broken_by(step, before_l, step_l))


def broken_by(step: StepPlan, before_l: float | None, step_l: float) -> Iterator[str]:
    """The laws that one feeding breaks; `before_l` stood in the flasks before it, `step_l` is the grid's."""
    if step.fill_fits is not True:
        yield f"{step.flask_l.value} L over {step.fill_limit_l.value}"
    if step.boil_fits is False:
        yield f"{step.hot_boil_l.value} L hot over {step.boil_limit_l.value}"
    if before_l is not None and step.wort_l.value > 10.0 * before_l + TINY:
        yield f"{step.wort_l.value} L onto {before_l}"
    if step.growth is None or step.growth < 1.1 - TINY:
        yield f"grows {step.growth}"
    points = step.wort_l.value / step_l
    if abs(points - round(points)) > 1e-6:
        yield f"{step.wort_l.value} L is off the grid of {step_l}"


@many
@given(kitchens)
def test_what_is_proposed_breaks_no_limit(tables):
    plan = derive(session_with(tables), NOW)
    assert (plan.planned_by == "planner") == bool(plan.steps)
    if plan.planned_by == "planner":
        assert list(broken(plan)) == []
        assert "no-plan" not in codes(plan)
    else:
        assert ("no-plan" in codes(plan)) is (plan.starter_needed is True)


@many
@given(kitchens, bounds)
def test_nor_with_so_much_powder_and_so_many_hours(tables, limits):
    plan = derive(session_with(tables, limits), NOW)
    assume(plan.planned_by == "planner")
    assert list(broken(plan)) == []
    assert list(exceeded(plan)) == []


def exceeded(plan: Plan) -> Iterator[str]:
    """What there is of powder and hours and is not enough."""
    powder_g, hours_s = plan.session.supplies.powder_g, plan.session.day.hours_s
    used_g = sum(step.powder_g.value for step in plan.steps)
    if powder_g is not None and used_g > powder_g + 1e-6:
        yield f"{used_g} g of {powder_g}"
    taken_s = (plan.session.batch.pitch_at - plan.hand.at).total_seconds()
    if hours_s is not None and taken_s > hours_s + 1e-3:
        yield f"{taken_s / 3600} h of {hours_s / 3600}"


@fewer
@given(kitchens, st.integers(2, 6))
def test_more_than_a_tenth_of_the_beer_is_poured_in_only_where_no_single_feeding_would_do_with_less(tables, litres):
    small = {"beer": {"volume": f"{litres} L", "gravity": "1.080"}, "flask": {"size": "1.5 L"}}
    plan = derive(session_with(tables, small), NOW)
    assume(plan.planned_by == "planner" and is_much_poured(plan))
    session = plan.session
    step_l = grid_step_l(settle.fill_limit_l(session))
    decants = (False, True) if settle.kept_liquid_l(session) > 0.0 else (False,)
    for n in range(1, int(0.1 * litres / step_l) + 1):
        for decant in decants:
            other = derive(session._replace(step=(Step(round(n * step_l, 6), decant=decant),)), NOW)
            assert list(broken(other)) != [] or is_much_poured(other) or other.final.meets_need is False


def is_much_poured(plan: Plan) -> bool:
    beer = plan.session.beer
    return beer is not None and plan.final.pitch == "whole" and plan.final.poured_l.value > 0.1 * beer.volume_l + TINY


# ---- the ways --------------------------------------------------------------------------------------------------


@few
@given(kitchens, bounds)
def test_no_way_of_the_planner_breaks_a_limit(tables, limits):
    session = session_with(tables, limits)
    plan = derive(session, NOW, HABITS)
    for way in ways(session, NOW, HABITS):
        if way.option.code == "planner" and plan.planned_by == "planner":
            assert shown(way.plan) == shown(plan)  # the first of the ways is the plan that stands
        if way.option.code in BY_THE_PLANNER and way.plan.steps:  # with another pack there may be none
            assert [way.option.code, *broken(way.plan), *exceeded(way.plan)] == [way.option.code]


@pytest.mark.slow
@few
@given(kitchens, bounds, st.sampled_from([720, 720, 60, 20, 8]), st.sampled_from([{}, {}, {"starter": False}]))
def test_taking_a_way_gives_the_plan_that_was_shown(tmp_path_factory, tables, limits, hours_before, batch):
    text = text_of({**tables, **limits, "batch": {**tables["batch"], **batch}})
    now = PITCH_AT - timedelta(hours=hours_before)
    path = tmp_path_factory.mktemp("taken") / "batch.toml"
    for way in ways(session_of(text), now, HABITS):  # late ones too
        taken = after(path, text, way.option.edits)
        assert (way.option.code, told(taken)) == (way.option.code, told(way.option.session))
        assert shown(derive(taken, now, HABITS)) == shown(way.plan)


def after(path: Path, text: str, edits: tuple[Edit, ...]) -> Session:
    """The session that a file of this text is once the edits are made."""
    path.write_text(text, "utf-8")
    store = Store.open(path)
    try:
        return store.apply(Several(edits))
    finally:
        store.close()


def told(session: Session) -> Session:
    """All that a session says but which keys it was read from, and how much powder was asked for."""
    return session._replace(given=frozenset(), supplies=session.supplies._replace(powder_g=None))


def shown(plan: Plan) -> list[object]:
    """What a way shows of its plan."""
    steps = [
        (
            s.wort_l.value,
            s.top_up_l.value,
            round(s.planned_w, 9),
            s.decant,
            s.motion,
            s.boil_in,
            s.hours_planned,
            s.start,
        )
        for s in plan.steps
    ]
    return [steps, plan.hand.at, plan.final.chance.value, plan.final.pitch, pytest.approx(plan.final.pitched_b.value)]


# ---- what stands -----------------------------------------------------------------------------------------------

LOCKED = """
# the first as ever
[[step]]
locked  =  true
wort = "0,8 l" # of the old jug
gravity = "9 °P"
"""
FIRST = """
[[step]]
wort = "300 mL"
"""
STANDING = {
    "locked": (LOCKED, {0}),
    "the second locked": (FIRST + LOCKED, {1}),
    "the first locked, one more": (LOCKED + FIRST, {0}),
    "begun": (FIRST + '[[event]]\nat = 2026-11-27T06:00:00Z\nstep = 1\nwhat = "yeast-in"\n', {0}),
}


@few
@given(kitchens, st.sampled_from(sorted(STANDING)))
def test_what_stands_is_left_letter_for_letter(tmp_path_factory, tables, which):
    own, places = STANDING[which]
    text = text_of(tables) + own
    path = tmp_path_factory.mktemp("locked") / "batch.toml"
    session = session_of(text)
    alone = derive(session._replace(step=tuple(session.step[place] for place in sorted(places))), NOW)
    for way in ways(session, NOW, HABITS):
        assert way.option.code in {"most", *BY_THE_PLANNER, *ONLY_WHERE_NOTHING_FITS}
        if all(step.fill_fits for step in alone.steps):
            assert all(step.fill_fits for step in way.plan.steps)
        if which == "begun":
            assert not way.option.code.startswith(("pack", "larger", "flask"))
        taken = after(path, text, way.option.edits)
        assert (LOCKED if "locked" in which else FIRST).strip() in path.read_text("utf-8")
        assert all(taken.step[place] == session.step[place] for place in places)
        assert shown(derive(taken, NOW, HABITS)) == shown(way.plan)
        if way.option.code != "most":
            assert list(broken(way.plan, frozenset(places))) == []


@few
@given(kitchens, st.integers(6, 30), st.sampled_from(["locked", "the second locked", "the first locked, one more"]))
def test_the_most_in_the_hours_there_are_takes_no_more_beside_a_locked_one(tables, hours, which):
    session = session_of(text_of({**tables, "day": {"hours": f"{hours} h"}}) + STANDING[which][0])
    most = [way.plan for way in ways(session, NOW, HABITS) if way.option.code == "most"]
    assert [fault for plan in most for fault in exceeded(plan)] == []


BEGUN_LATE = """
[[step]]
wort = "1.5 L"
[[event]]
at = 2026-11-28T03:00:00Z
step = 1
what = "yeast-in"
"""


def test_what_is_begun_is_the_most_to_be_had_until_pitching_though_it_is_cut_short():
    text = '[batch]\npitch_at = 2026-11-28T14:00:00Z\n[beer]\nvolume = "23 L"\ngravity = "1.080"\n'
    pack = '[[yeast]]\nkind = "pack"\nmade_on = 2026-10-19\n'
    found = {way.option.code: way for way in ways(session_of(f"format = 1\n{text}{pack}{BEGUN_LATE}"), NOW, HABITS)}
    assert [step.wort_l.value for step in found["most"].plan.steps] == [1.5]


# ---- uncertain lots: one draw in ten finds next to nothing alive ------------------------------------------------

OLD_SLURRY = """
format = 1
[batch]
pitch_at = 2026-11-28T14:00:00Z
chance = 0.9
[beer]
volume = "BEER L"
gravity = "1.068"
[[yeast]]
kind = "slurry"
made_on = 2026-06-06
volume = "100 mL"
[flask]
size = "10 L"
count = 2
[wort]
boil_in = "pot"
motion = "swirled"
temperature = "24.5 °C"
"""


@pytest.mark.parametrize("beer_l", [20, 40, 60, 90])
def test_a_lot_that_may_be_nearly_dead_still_gets_the_fewest_feedings(beer_l):
    session = session_of(OLD_SLURRY.replace("BEER", str(beer_l)))
    steps = planner.propose(session)
    assert steps is not None
    plan = derive(session._replace(step=steps), NOW)
    assert list(broken(plan)) == []
    # one feeding fewer is not enough, not even of full flasks
    full = [step._replace(wort_l=18.0 if not i else 17.0, decant=i > 0) for i, step in enumerate(steps[:-1])]
    fewer = derive(session._replace(step=tuple(full)), NOW) if full else None
    assert fewer is None or fewer.final.chance.value < 0.9


MUCH_WORK = """
format = 1
[batch]
pitch_at = 2026-11-28T14:00:00Z
chance = 0.9
pitch = "whole"
[beer]
volume = "23 L"
gravity = "1.081"
[[yeast]]
kind = "pack"
made_on = 2026-05-30
count = 2
[[yeast]]
kind = "pack"
made_on = 2026-07-15
[flask]
size = "3 L"
count = 3
[foam]
drops_per_gallon = 0
[wort]
gravity = "1.030"
motion = "swirled"
temperature = "19.5 °C"
rest = "0 h"
"""


def test_after_much_work_no_more_orders_of_three_and_four_feedings_are_searched(monkeypatch):
    begun_at, works = [], []

    def counted(look):
        def counts(hunt, *window):
            works.append(hunt.work)
            begun_at.append(hunt.work.done if len(hunt.places) > 2 else 0)
            return look(hunt, *window)

        return counts

    monkeypatch.setattr(followed, "search", counted(followed.search))
    monkeypatch.setattr(followed, "some", counted(followed.some))
    session = session_of(MUCH_WORK)
    forget()
    steps = planner.propose(session)
    assert 0.5 * followed.MOST_WORK < max(begun_at) <= followed.MOST_WORK < works[-1].done < 2 * followed.MOST_WORK
    assert steps is not None
    assert list(broken(derive(session._replace(step=steps), NOW))) == []


A_TENTH_IN_THREE = """
format = 1
[batch]
chance = 0.95
pitch_at = 2026-12-06T06:00:00Z
[beer]
volume = "25 L"
gravity = "18.8 °P"
[[yeast]]
kind = "kept"
made_on = 2026-11-26
cells = "20 B"
volume = "80 mL"
[flask]
size = "6 L"
fill_limit = "3.84 L"
[wort]
gravity = "1.0300"
temperature = "12.6 °C"
rest = "12 h"
"""


def test_more_than_a_tenth_of_the_beer_is_not_poured_in_where_three_feedings_pour_less():
    session = session_of(A_TENTH_IN_THREE)
    three = tuple(Step(wort_l, decant=wort_l < 3.0) for wort_l in (3.2, 2.0, 2.0))  # the best of all that were tried
    assert derive(session._replace(step=three), NOW).final.chance.value >= 0.95
    assert planner.propose(session) is not None
    plan = derive(session._replace(step=planner.propose(session)), NOW)
    assert len(plan.steps) == 3
    assert plan.final.poured_l.value <= 2.5 + TINY


@many
@given(kitchens, bounds)
def test_whether_there_are_any_is_told_as_surely_as_which(tables, limits):
    session = session_with(tables, limits)
    any_steps, best = planner.propose(session, any_will_do=True), planner.propose(session)
    assert (any_steps is None) == (best is None)
    if any_steps is not None:
        plan = derive(session._replace(step=any_steps), NOW)
        assert [*broken(plan), *exceeded(plan)] == []
        assert len(any_steps) == len(best)


@given(kitchens, st.integers(2, 4), st.integers(0, 7))
def test_a_full_flask_is_not_poured_onto_a_spoonful(tables, count, decants):
    """The fullest flasks are what is fallen back on where nothing better is found."""
    room = kitchen(session_with(tables))
    assume(room is not None and room.first and room.later)
    pattern = (False, *(bool(decants >> n & 1) for n in range(count - 1)))
    places = [room.first[:1], *[room.later] * (count - 1)]
    before_l = room.liquid_l
    for n, choice in enumerate(richest(room, places, pattern) or ()):
        assert n == 0 or choice.portion.wort_l <= 10.0 * before_l + TINY
        before_l = room.content_l(before_l, choice.portion.wort_l, decant=choice.decant)
        assert before_l <= room.fill_l + TINY


# ---- where nothing fits ----------------------------------------------------------------------------------------


@few
@given(kitchens, bounds)
def test_a_change_is_told_only_where_nothing_fits_and_a_plan_fits_with_it(tmp_path_factory, tables, limits):
    text = text_of({**tables, **limits})
    session = session_of(text)
    path = tmp_path_factory.mktemp("changed") / "batch.toml"
    found = {way.option.code: way for way in ways(session, NOW, HABITS)}
    if planner.propose(session) is not None:
        assert not {"most", *ONLY_WHERE_NOTHING_FITS} & set(found)
        return
    told_of = set(found) - {"most", "as-it-is"}
    assert told_of <= {change.code for change in relax.relaxations(session)}
    for code in told_of:
        if found[code].plan.steps:
            assert [code, *broken(found[code].plan), *exceeded(found[code].plan)] == [code]
        assert planner.solve(bare(after(path, text, found[code].option.edits))) is not None


@many
@given(kitchens, bounds)
def test_the_most_there_is_to_be_had_stays_within_flask_powder_and_hours(tables, limits):
    session = session_with(tables, limits)
    steps = best_effort(session)
    assume(steps is not None)
    plan = derive(session._replace(step=steps), NOW)
    assert [(step.fill_fits, step.boil_fits is False) for step in plan.steps] == [(True, False)] * len(steps)
    assert list(exceeded(plan)) == []
