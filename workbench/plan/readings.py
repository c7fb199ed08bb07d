"""Hydrometer and refractometer readings put right, and which of them stand in for what was planned."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from workbench.brewing import density, instruments
from workbench.plan import settle, stopwatch, words
from workbench.plan.model import Figure, ReadingPlan, Reason, Warning
from workbench.plan.sources import BALLING, HYDROMETER, TRADE

if TYPE_CHECKING:
    from datetime import datetime

    from workbench.plan.habits import Habits
    from workbench.session.model import Reading, Session

__all__ = ["Measured", "Noted", "boil_over", "correct_all", "measured", "noted", "stamp"]

_GRAVITIES = ("gravity", "brix")


class Measured(NamedTuple):
    """What was measured of one feeding's wort before the yeast went in; None where it was not."""

    gravity_w: float | None
    volume_l: float | None
    discarded_ml: float


class Noted(NamedTuple):
    """What was noted of one feeding's wort: the place of its last gravity among the session's readings, its volume."""

    gravity_at: int | None
    volume_l: float | None
    discarded_ml: float


def stamp(session: Session, what: str, step: int) -> datetime | None:
    """When something last happened in a step, if it did."""
    times = [e.at for e in session.event if e.what == what and e.step == step and e.at is not None]
    return max(times, default=None)


def boil_over(session: Session, step: int) -> datetime | None:
    """Since when the wort of `step` (from 1) boils no more; None before that, and while it boils again."""
    boil = stopwatch.boil_of(session, step, 1.0)
    if boil is None:
        return stamp(session, "boil-done", step)
    return None if boil.done is None else boil.done.at


def noted(session: Session, step: int) -> Noted:
    """The last readings of the wort of `step` (from 1), by the hour they were taken, and the samples not put back.

    Its wort is read between the end of the boil, where that is stamped, and its own yeast.
    """
    boiled, pitched = boil_over(session, step), stamp(session, "yeast-in", step)
    own = [
        (reading.at, place)
        for place, reading in enumerate(session.reading)
        if reading.step == step
        and reading.at is not None
        and (boiled is None or reading.at >= boiled)
        and (pitched is None or reading.at <= pitched)
    ]
    gravity_at = volume_l = None
    discarded_ml = 0.0
    for _, place in sorted(own):
        reading = session.reading[place]
        discarded_ml += reading.discarded_ml
        if reading.value is not None and reading.kind in _GRAVITIES:
            gravity_at = place
        elif reading.value is not None and reading.kind == "volume":
            volume_l = reading.value
    return Noted(gravity_at, volume_l, discarded_ml)


def measured(session: Session, step: int, habits: Habits) -> Measured:
    """What the plan goes by of what was noted of `step` (from 1): all of it once the end of its boil is stamped."""
    if boil_over(session, step) is None:
        return Measured(None, None, 0.0)
    found = noted(session, step)
    gravity_w = None if found.gravity_at is None else _of_wort(session.reading[found.gravity_at], habits)
    return Measured(gravity_w, found.volume_l, found.discarded_ml)


def _of_wort(reading: Reading, habits: Habits) -> float:
    """True extract fraction of wort without yeast."""
    if reading.kind == "gravity":
        return _hydrometer(reading, habits)
    return instruments.refractometer_extract(reading.value or 0.0, habits.brix_per_plato)


def _hydrometer(reading: Reading, habits: Habits) -> float:
    """True extract fraction of a hydrometer reading; as read where the sample is too cold or hot to correct."""
    value_w = reading.value or 0.0
    sample_c = reading.temperature_c if reading.temperature_c is not None else habits.hydrometer_reference_c
    try:
        return instruments.hydrometer_extract(density.sg(value_w), sample_c, habits.hydrometer_reference_c)
    except ValueError:
        return value_w


def correct_all(
    session: Session, habits: Habits, originals_w: list[float | None]
) -> tuple[tuple[ReadingPlan, ...], list[Warning]]:
    """Every gravity or Brix reading put right. `originals_w`: the original extract in the flask after each step."""
    plans: list[ReadingPlan] = []
    warnings: list[Warning] = []
    for index, reading in enumerate(session.reading):
        if reading.value is None or reading.kind not in _GRAVITIES:
            continue
        original = originals_w[reading.step - 1] if 0 < reading.step <= len(originals_w) else None
        figure = _corrected(session, reading, habits, original)
        text = words.gravity(reading.value) if reading.kind == "gravity" else f"{reading.value:.1f} °Bx"
        planned_w = settle.asked(session, reading.step - 1).gravity_w if 0 < reading.step <= len(session.step) else None
        off = None if planned_w is None or figure.value is None else density.sg(figure.value) - density.sg(planned_w)
        points = None if off is None else 1000.0 * off
        plans.append(ReadingPlan(index, reading.step, text, figure, points, habits.hydrometer_reference_c))
        warnings += [*_doubts(reading, index), *_standing(session, reading, index)]
    return tuple(plans), warnings


def _standing(session: Session, reading: Reading, index: int) -> list[Warning]:
    """Whether the plan goes by this reading, where one might think so."""
    key = f"reading.{index}.value"
    if reading.step > len(session.step):
        return [Warning("reading-astray", "caution", f"there is no feeding {reading.step}", key)]
    if stamp(session, "boil-done", reading.step) is None and stamp(session, "yeast-in", reading.step) is None:
        text = "noted; the plan goes by it once the end of the boil is stamped"
        return [Warning("reading-noted", "note", text, key)]
    return []


def _corrected(session: Session, reading: Reading, habits: Habits, original_w: float | None) -> Figure:
    value = reading.value or 0.0
    if reading.kind == "gravity":
        w = _of_wort(reading, habits)
        sample_c = reading.temperature_c if reading.temperature_c is not None else habits.hydrometer_reference_c
        why = Reason(_hydrometer_says(value, sample_c, habits.hydrometer_reference_c, w), HYDROMETER)
        valid = "samples of 0 to 60 °C, no alcohol, no gas"
        return Figure(w, "w", why._replace(valid=valid, unsure="the reading, by half a point"))
    factor = habits.brix_per_plato
    pitched = stamp(session, "yeast-in", reading.step)
    if pitched is not None and reading.at is not None and reading.at > pitched and original_w is not None:
        w = instruments.refractometer_real_extract(value, original_w, factor)
        says = f"{value:.1f}/{factor:.2f} = RE + 0.415·A for wort of {100 * original_w:.1f} °P → RE {100 * w:.1f} °P"
        return Figure(w, "w", Reason(says, BALLING, "fermenting wort, 10 to 30 °C", "real extract refracts like sugar"))
    w = _of_wort(reading, habits)
    says = f"{value:.1f} °Bx / {factor:.2f} = {100 * w:.1f} °P"
    return Figure(w, "w", Reason(says, TRADE, "unfermented wort, 10 to 30 °C", "the divisor: 1.00 to 1.06"))


def _hydrometer_says(value_w: float, sample_c: float, scale_c: float, true_w: float) -> str:
    """How a hydrometer reading is put right, or that it was not."""
    read = f"{density.sg(value_w):.4f}"
    low, high = instruments.HYDROMETER_SAMPLE_C
    if not low <= sample_c <= high:
        return f"{read} as read: a sample at {sample_c:.1f} °C is outside {low:.0f} to {high:.0f} °C"
    off = f"{sample_c:.1f} - {scale_c:.1f}"
    floats_in = f"{read} × {density.water(scale_c):.1f} × (1 - 25e-6 × ({off})) g/L at {sample_c:.1f} °C"
    return f"it floats in {floats_in}: wort of {100 * true_w:.2f} °P, {density.sg(true_w):.4f} at 20 °C"


def _doubts(reading: Reading, index: int) -> list[Warning]:
    if reading.temperature_c is None:
        return []
    gravity = reading.kind == "gravity"
    low, high = instruments.HYDROMETER_SAMPLE_C if gravity else instruments.REFRACTOMETER_SAMPLE_C
    if low <= reading.temperature_c <= high:
        return []
    text = f"a sample at {reading.temperature_c:.0f} °C is outside {low:.0f} to {high:.0f} °C: let it come nearer 20 °C"
    code = "reading-uncorrected" if gravity else "reading-doubtful"
    return [Warning(code, "caution", text, f"reading.{index}.value")]
