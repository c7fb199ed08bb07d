"""What to do about a measured gravity, and readings that do not go with what was weighed."""

from __future__ import annotations

import pytest

from tests.plan.kitchens import session_of
from workbench.brewing import density, wort
from workbench.plan.derive import derive
from workbench.plan.habits import Habits

TEXT = """
format = 1
[batch]
pitch_at = 2026-11-28T15:00:00Z
[beer]
volume = "23 L"
gravity = "1.056"
[[yeast]]
kind = "pack"
made_on = 2026-10-19
[flask]
size = "2 L"
[[step]]
wort = "1.3 L"
"""


def plan_of(*readings: tuple[str, str], step: str = ""):
    text = TEXT.replace('wort = "1.3 L"', f'wort = "1.3 L"\n{step}')
    for minute, (kind, value) in enumerate(readings):
        text += f'[[reading]]\nat = 2026-11-27T15:{minute:02}:00Z\nstep = 1\nkind = "{kind}"\nvalue = "{value}"\n'
    session = session_of(text)
    return derive(session, session.batch.pitch_at, Habits())


def test_too_strong_wants_water_and_it_lands_on_the_plan():
    plan = plan_of(("gravity", "1.0385"), ("volume", "1.25 L"))
    (fix,) = plan.fixes
    (water,) = fix.fixes
    w = plan.readings[0].true_w.value
    mass_g = wort.finished_mass_g(1.25, w)
    after_g = mass_g + wort.water_mass_g(water.amount.value / 1000.0)
    assert (water.what, fix.volume_l.value, fix.harmless) == ("water", 1.25, True)
    assert w * mass_g / after_g == pytest.approx(plan.steps[0].planned_w, rel=1e-6)
    assert water.wort_l == pytest.approx(after_g / density.wort(plan.steps[0].planned_w, 20.0))
    assert water.fits is True


def test_too_thin_wants_powder_or_a_longer_boil():
    plan = plan_of(("gravity", "1.030"), ("volume", "1.3 L"))
    (fix,) = plan.fixes
    powder, boil = fix.fixes
    assert (powder.what, boil.what) == ("powder", "boil")
    assert powder.wort_l > 1.3 > boil.wort_l
    # the minutes at the stove's own 8 mL a minute
    gone_g = wort.finished_mass_g(1.3, plan.readings[0].true_w.value) - wort.finished_mass_g(
        boil.wort_l, plan.steps[0].planned_w
    )
    assert boil.amount.value / 60.0 == pytest.approx(gone_g / wort.water_mass_g(0.008), rel=1e-6)


def test_without_a_volume_the_extract_weighed_tells_it():
    plan = plan_of(("gravity", "1.0355"))
    (fix,) = plan.fixes
    w = plan.readings[0].true_w.value
    assert wort.finished_mass_g(fix.volume_l.value, w) * w == pytest.approx(0.95 * plan.steps[0].powder_g.value)
    assert "reading-contradicts" not in {warning.code for warning in plan.warnings}


@pytest.mark.parametrize(
    ("read", "says"), [("1.0450", "boiled off instead of 80 mL"), ("1.0290", "before it was mixed")]
)
def test_a_reading_that_cannot_be_asks_for_the_volume_and_tells_the_causes(read, says):
    plan = plan_of(("gravity", read))
    (told,) = [w.text for w in plan.warnings if w.code == "reading-contradicts"]
    assert told.startswith("does not go with what was weighed: measure the volume")
    assert "of powder instead of" in told
    assert says in told
    assert "reading-contradicts" not in {w.code for w in plan_of(("gravity", read), ("volume", "1.2 L")).warnings}


def test_a_warm_sample_is_a_cause_with_its_temperature():
    told = next(w.text for w in plan_of(("gravity", "1.0270")).warnings if w.code == "reading-contradicts")
    degrees = int(told.partition("a sample at ")[2].split()[0])
    assert 30 < degrees < 60  # warm wort is lighter, so the glass sinks deeper and reads too low


def test_as_planned_there_is_nothing_to_mend():
    assert plan_of(("gravity", "1.0342")).fixes == ()
    assert plan_of().fixes == ()


@pytest.mark.parametrize(("read", "harmless"), [("1.021", True), ("1.049", True), ("1.018", False), ("1.053", False)])
def test_leaving_it_does_no_harm_between_1020_and_1050(read, harmless):
    (fix,) = plan_of(("gravity", read), ("volume", "1.3 L")).fixes
    assert fix.harmless is harmless


def test_too_much_for_the_flask_says_so():
    plan = plan_of(("gravity", "1.0550"), ("volume", "1.3 L"))
    assert plan.fixes[0].fixes[0].fits is False


def test_where_nothing_boils_off_a_longer_boil_is_no_way():
    plan = plan_of(("gravity", "1.030"), ("volume", "1.3 L"), step='boil_off = "0 mL"')
    assert [fix.what for fix in plan.fixes[0].fixes] == ["powder"]
