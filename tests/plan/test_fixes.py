"""What to do about a measured gravity, and readings that do not go with what was weighed."""

from __future__ import annotations

import pytest

from tests.plan.kitchens import session_of
from workbench.brewing import density, instruments, wort
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
    return derived(text + "".join(read_at(minute, kind, value) for minute, (kind, value) in enumerate(readings)))


def read_at(minute: int, kind: str, value: str, more: str = "") -> str:
    return f'[[reading]]\nat = 2026-11-27T15:{minute:02}:00Z\nstep = 1\nkind = "{kind}"\nvalue = "{value}"\n{more}\n'


def stamped(minute: int, what: str) -> str:
    return f'[[event]]\nat = 2026-11-27T15:{minute:02}:00Z\nstep = 1\nwhat = "{what}"\n'


def derived(text: str, habits: Habits | None = None):
    session = session_of(text)
    return derive(session, session.batch.pitch_at, habits or Habits())


def contradiction(plan) -> str:
    return next((w.text for w in plan.warnings if w.code == "reading-contradicts"), "")


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
    told = contradiction(plan_of(("gravity", read)))
    assert told.startswith("does not go with what was weighed: measure the volume")
    assert "of powder instead of" in told
    assert says in told
    assert not contradiction(plan_of(("gravity", read), ("volume", "1.2 L")))


def test_a_warm_sample_is_a_cause_with_its_temperature():
    told = contradiction(plan_of(("gravity", "1.0270")))
    degrees = int(told.partition("a sample at ")[2].split()[0])
    assert 30 < degrees < 60  # warm wort is lighter, so the glass sinks deeper and reads too low


def test_the_warm_sample_is_one_for_the_scale_of_the_hydrometer_at_hand():
    # it shows 1.0270 in wort of 1.034 at 42 °C on a scale for 20 °C, at 40 °C on one for 60 °F: the correction inverted
    scale_c = (60.0 - 32.0) / 1.8
    told = contradiction(derived(TEXT + read_at(0, "gravity", "1.0270"), Habits(hydrometer_reference_c=scale_c)))
    degrees = int(told.partition("a sample at ")[2].split()[0])
    w = density.extract_from_sg(1.034)
    shows = [instruments.hydrometer_extract(1.0270, degrees + off, scale_c) - w for off in (-0.5, 0.5)]
    assert shows[0] < 0.0 < shows[1]


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


def test_fermenting_beer_is_neither_mended_nor_doubted():
    text = TEXT + stamped(0, "boil-done") + read_at(1, "gravity", "1.034") + stamped(2, "yeast-in")
    plan = derived(text + read_at(30, "gravity", "1.010"))
    assert plan.fixes == ()
    assert not contradiction(plan)


def test_once_the_yeast_is_in_nothing_is_to_be_boiled_or_thinned_but_the_doubt_stays():
    text = TEXT + stamped(0, "boil-done") + read_at(1, "gravity", "1.0270")
    assert len(derived(text).fixes[0].fixes) == 2
    plan = derived(text + stamped(2, "yeast-in"))
    assert plan.fixes[0].fixes == ()
    assert contradiction(plan)


def test_wort_still_boiling_is_not_mended():
    plan = derived(TEXT + read_at(0, "gravity", "1.025") + stamped(1, "boil-done"))
    assert plan.fixes == ()


def test_the_last_reading_by_the_clock_is_the_one_the_plan_goes_by_too():
    later, earlier = read_at(9, "gravity", "1.0385"), read_at(5, "gravity", "1.0300")
    volumes = read_at(10, "volume", "1.20 L") + read_at(4, "volume", "1.35 L")
    plan = derived(TEXT + stamped(0, "boil-done") + later + earlier + volumes)
    (fix,) = plan.fixes
    assert (fix.place, fix.volume_l.value) == (0, 1.2)
    assert [way.what for way in fix.fixes] == ["water"]
    assert plan.readings[fix.place].true_w.value == pytest.approx(plan.steps[0].gravity_w.value)


@pytest.mark.parametrize("volume", ["", "1.25 L"])
def test_a_sample_not_put_back_wants_no_mending(volume):
    measured = read_at(2, "volume", volume) if volume else ""
    (whole,), (rest,) = (
        derived(TEXT + measured + read_at(1, "gravity", "1.0385", more)).fixes for more in ("", 'discarded = "250 mL"')
    )
    left = rest.volume_l.value / whole.volume_l.value
    assert whole.volume_l.value - rest.volume_l.value == pytest.approx(0.25)
    assert rest.fixes[0].amount.value == pytest.approx(left * whole.fixes[0].amount.value)
    assert rest.fixes[0].wort_l == pytest.approx(left * whole.fixes[0].wort_l)
    assert "250 mL of samples" in rest.volume_l.why.says


def test_whether_it_fits_is_told_of_what_there_is_after_the_sample():
    # thinned, 1.3 L at 1.0536 come to 2.05 L in a flask that takes 1.80 L; without half of it they fit
    strong = read_at(1, "gravity", "1.0536", 'discarded = "{} mL"') + read_at(2, "volume", "1.3 L")
    fits = [derived(TEXT + stamped(0, "boil-done") + strong.format(ml)).fixes[0].fixes[0].fits for ml in (0, 650)]
    assert fits == [False, True]


def test_of_wort_poured_away_nothing_is_left_to_mend():
    assert derived(TEXT + read_at(1, "gravity", "1.0385", 'discarded = "5 L"')).fixes == ()
