"""Hydrometer and refractometer readings put right, and which of them stand in for what was planned."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from workbench.brewing import density, instruments
from workbench.plan import settle, words
from workbench.plan.model import Figure, ReadingPlan, Reason, Warning
from workbench.plan.sources import BALLING, HYDROMETER, TRADE

if TYPE_CHECKING:
    from datetime import datetime

    from workbench.plan.habits import Habits
    from workbench.session.model import Reading, Session

__all__ = ["Measured", "correct_all", "measured", "stamp"]


class Measured(NamedTuple):
    """What was measured of one feeding's wort before the yeast went in; None where it was not."""

    gravity_w: float | None
    volume_l: float | None
    discarded_ml: float


def stamp(session: Session, what: str, step: int) -> datetime | None:
    """When something last happened in a step, if it did."""
    times = [e.at for e in session.event if e.what == what and e.step == step and e.at is not None]
    return max(times, default=None)


def _is_of_finished_wort(session: Session, reading: Reading) -> bool:
    """Taken between the stamped end of the boil and the stamped pitching of that step."""
    boiled, pitched = stamp(session, "boil-done", reading.step), stamp(session, "yeast-in", reading.step)
    if reading.at is None or boiled is None or reading.at < boiled:
        return False
    return pitched is None or reading.at <= pitched


def measured(session: Session, step: int, habits: Habits) -> Measured:
    """The last gravity and volume of the finished wort of `step` (from 1), and what was taken out for samples."""
    own = [r for r in session.reading if r.step == step and _is_of_finished_wort(session, r)]
    own.sort(key=lambda r: r.at.timestamp() if r.at is not None else 0.0)
    gravity_w = volume_l = None
    for reading in own:
        if reading.value is None:
            continue
        if reading.kind == "gravity":
            gravity_w = _hydrometer(reading, habits)
        elif reading.kind == "brix":
            gravity_w = instruments.refractometer_extract(reading.value, habits.brix_per_plato)
        elif reading.kind == "volume":
            volume_l = reading.value
    return Measured(gravity_w, volume_l, sum(r.discarded_ml for r in own))


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
        if reading.value is None or reading.kind not in ("gravity", "brix"):
            continue
        original = originals_w[reading.step - 1] if 0 < reading.step <= len(originals_w) else None
        figure = _corrected(session, reading, habits, original)
        text = words.gravity(reading.value) if reading.kind == "gravity" else f"{reading.value:.1f} °Bx"
        planned_w = settle.asked(session, reading.step - 1).gravity_w if 0 < reading.step <= len(session.step) else None
        off = None if planned_w is None or figure.value is None else density.sg(figure.value) - density.sg(planned_w)
        plans.append(ReadingPlan(index, reading.step, text, figure, None if off is None else 1000.0 * off))
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
        w = _hydrometer(reading, habits)
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
    w = instruments.refractometer_extract(value, factor)
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
