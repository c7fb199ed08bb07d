"""What to do about a measured gravity that is not the one wanted: each way with what it does, and whether to bother."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from workbench.brewing import density, fixups, instruments, wort
from workbench.brewing.roots import bisect
from workbench.plan import readings, settle, words
from workbench.plan.happened import begun
from workbench.plan.model import Figure, Fix, FixPlan, Reason, Warning
from workbench.plan.sources import MASS_BALANCE, MEASURED

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from workbench.plan.made import Made
    from workbench.plan.model import ReadingPlan, StepPlan
    from workbench.plan.readings import Noted
    from workbench.session.model import Session

__all__ = ["fix_plans", "fix_warnings"]

HARMLESS_SG = 1.020, 1.050  # a first wort of this strength does the yeast no harm (common practice)
_MUCH_LOSS = 3.0  # times the loss that was expected: more than that is doubted
_NO_BOIL = 1e-6  # grams a second: less boils off is no way to make it stronger
_NEAR_SG = 0.0005  # half a point, as fine as a hydrometer is read


def fix_plans(
    session: Session, worts: Sequence[Made], steps: Sequence[StepPlan], corrected: Sequence[ReadingPlan]
) -> tuple[FixPlan, ...]:
    """For every feeding whose wort was measured and is not as planned, by its last reading; none after its yeast."""
    known = {reading.place: reading for reading in corrected}
    found = (_fix_plan(session, made, step, known) for made, step in zip(worts, steps, strict=True))
    return tuple(plan for plan in found if plan is not None)


def _fix_plan(session: Session, made: Made, step: StepPlan, known: Mapping[int, ReadingPlan]) -> FixPlan | None:
    noted, target_w = readings.noted(session, step.number), step.planned_w
    w = known[noted.gravity_at].true_w.value if noted.gravity_at is not None else None
    if noted.gravity_at is None or w is None or w <= 0.0 or abs(density.sg(w) - density.sg(target_w)) < _NEAR_SG:
        return None
    volume = _volume(session, made, w, noted)
    if volume.value is None or not math.isfinite(volume.value) or volume.value <= 0.0:
        return None
    mass_g = wort.finished_mass_g(volume.value, w)
    fixes = () if begun(session, step.number) else tuple(_fixes(session, made, step, (mass_g, w, volume.value)))
    low, high = HARMLESS_SG
    return FixPlan(step.number, noted.gravity_at, volume, target_w, fixes, low <= density.sg(w) <= high)


def _volume(session: Session, made: Made, w: float, noted: Noted) -> Figure:
    """As measured, else by the extract that was weighed; less the samples that were not put back."""
    extract_g = session.wort.extract_fraction * made.powder_g if made.powder_g is not None else None
    volume_l, unsure = noted.volume_l, ""
    if volume_l is not None:
        says, source = f"{words.litres(volume_l)} as measured", MEASURED
    elif extract_g is not None:
        volume_l, source = extract_g / w / density.wort(w, 20.0), MASS_BALANCE
        says = f"{extract_g:.1f} g of extract weighed in, at {100 * w:.2f} °P: {words.litres(volume_l)}"
        unsure = "the grams, and that all is dissolved: measure the volume to be sure"
    else:
        return Figure(None, "L", Reason("needs the wort's volume", MASS_BALANCE))
    if noted.discarded_ml:
        volume_l -= noted.discarded_ml / 1000.0
        says += f", less {words.millilitres(noted.discarded_ml)} of samples not put back: {words.litres(volume_l)}"
    return Figure(volume_l, "L", Reason(says, source, "at 20 °C", unsure))


def _fixes(session: Session, made: Made, step: StepPlan, known: tuple[float, float, float]) -> Iterator[Fix]:
    mass_g, w, volume_l = known
    target_w, f = step.planned_w, session.wort.extract_fraction
    grams = fixups.powder_g(mass_g, w, target_w, f)
    if grams is not None:
        says = f"{mass_g:.0f} g × ({target_w:.4f} - {w:.4f}) / ({f:g} - {target_w:.4f}) = {grams:.1f} g"
        yield _fix(session, step, volume_l, "powder", Figure(grams, "g", Reason(says, MASS_BALANCE)), mass_g + grams)
    water_g = fixups.water_g(mass_g, w, target_w)
    if water_g is not None:
        says = f"{mass_g:.0f} g × ({w:.4f} / {target_w:.4f} - 1) = {water_g:.0f} g of boiled, cooled water"
        water_ml = water_g / wort.water_mass_g(0.001)
        yield _fix(
            session, step, volume_l, "water", Figure(water_ml, "mL", Reason(says, MASS_BALANCE)), mass_g + water_g
        )
    boiled_g, asked = fixups.boiled_g(mass_g, w, target_w), made.asked
    per_s = wort.water_mass_g(asked.boil_off_ml / 1000.0) / asked.boil_time_s
    if boiled_g is not None and per_s > _NO_BOIL:
        says = f"{mass_g:.0f} g × (1 - {w:.4f} / {target_w:.4f}) = {boiled_g:.0f} g at {60.0 * per_s:.1f} g/min"
        longer = Figure(boiled_g / per_s, "s", Reason(says, MASS_BALANCE, unsure="the boil-off of this stove"))
        yield _fix(session, step, volume_l, "boil", longer, mass_g - boiled_g)


def _fix(session: Session, step: StepPlan, volume_l: float, what: str, amount: Figure, after_g: float) -> Fix:
    """With the wort that there is then, all flasks together, and whether it fits them beside what they hold already."""
    after_l = after_g / density.wort(step.planned_w, 20.0)
    flask_l, count = step.flask_l.value, session.flask.flasks
    fits = None
    if flask_l is not None and step.wort_l.value is not None:
        then_l = flask_l + (after_l - step.wort_l.value) / count
        fits = then_l <= settle.fill_limit_l(session) + 1e-9
    valid = "0 to 35 °P; it then has the gravity that was planned"
    says = f"{amount.why.says}; {words.litres(volume_l)} become {words.litres(after_l)}"
    return Fix(what, amount._replace(why=amount.why._replace(says=says, valid=valid)), after_l, fits)


def fix_warnings(
    session: Session, worts: Sequence[Made], plans: Sequence[FixPlan], corrected: Sequence[ReadingPlan]
) -> Iterator[Warning]:
    """A reading that does not go with what was weighed: the likely causes with their figures."""
    known = {reading.place: reading for reading in corrected}
    for plan in plans:
        made, reading = worts[plan.step - 1], known[plan.place]
        w, measured = reading.true_w.value, readings.noted(session, plan.step).volume_l is not None
        if w is None or made.powder_g is None or made.water_l is None:
            continue
        before_g = made.powder_g + wort.water_mass_g(made.water_l + made.asked.top_up_l)
        lost_g = before_g - session.wort.extract_fraction * made.powder_g / w
        expected_g = wort.water_mass_g(made.asked.boil_off_ml / 1000.0)
        if measured or 0.0 <= lost_g <= _MUCH_LOSS * max(expected_g, 1.0):
            continue
        causes = "; or ".join(_causes(session, made, reading, w, lost_g))
        text = f"does not go with what was weighed: measure the volume. It may be {causes}"
        yield Warning("reading-contradicts", "caution", text, f"reading.{plan.place}.value")


def _causes(session: Session, made: Made, known: ReadingPlan, w: float, lost_g: float) -> Iterator[str]:
    """What alone would explain it."""
    reading = session.reading[known.place]
    if reading.kind == "gravity" and reading.value is not None:
        sample_c = _sample_c(density.sg(reading.value), made.asked.gravity_w, known.scale_c)
        noted = f", not {reading.temperature_c:.0f} °C" if reading.temperature_c is not None else ""
        if sample_c is not None:
            yield f"a sample at {sample_c:.0f} °C{noted}"
    mass_g = wort.finished_mass_g(made.asked.wort_l or 0.0, made.asked.gravity_w)
    weighed_g = w * mass_g / session.wort.extract_fraction
    yield f"{words.grams(weighed_g)} of powder instead of {words.grams(made.powder_g or 0.0)}"
    if lost_g > 0.0:
        yield f"{words.millilitres(lost_g)} boiled off instead of {words.millilitres(made.asked.boil_off_ml)}"
    yield "a sample drawn before it was mixed" if lost_g < 0.0 else "wort lost on the way, or not mixed"


def _sample_c(read_sg: float, planned_w: float, scale_c: float) -> float | None:
    """The temperature of the sample at which that reading would mean the gravity planned, 0 to 60 °C."""

    def off(sample_c: float) -> float:
        return instruments.hydrometer_extract(read_sg, sample_c, scale_c) - planned_w

    low, high = instruments.HYDROMETER_SAMPLE_C
    try:
        return bisect(off, low, high)
    except ValueError:
        return None
