"""What would help where a feeding goes onto a dense culture: computed, not canned."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.brewing import density, growth
from workbench.brewing.roots import bisect
from workbench.plan import settle, words

if TYPE_CHECKING:
    from workbench.plan.culture import Course
    from workbench.plan.model import Need, StepPlan
    from workbench.session.model import Session

__all__ = ["dense_feeding_advice"]

_LARGEST_L = 20.0
_LITTLE = 1.3  # out per in below which little or no growth is what to expect


def dense_feeding_advice(session: Session, plan: StepPlan, course: Course, need: Need) -> str:
    """Little or no growth expected, with its range, and the feeding that would reach the need."""
    out, start_b = plan.cells_out_b, plan.cells_in_b.value or 0.0
    little = plan.growth is None or plan.growth < _LITTLE
    text = f"a dense start: {'little or no growth expected' if little else 'growth falls off here'} (extrapolated)"
    if out.low is not None and out.high is not None:
        text += f", {words.spread(out.low, out.high)} from {words.cells(start_b)}"
    target_b = _target_b(session, need)
    last = plan.number == len(session.step)
    if not last or target_b is None or out.value is None or out.value >= target_b:
        return text
    decanted = course.feedings[plan.number - 1].decant
    volume_l = _volume_reaching(start_b, target_b, plan, decanted=decanted)
    if volume_l is None:
        return text + "; no single feeding here would reach the need: more yeast at the start would"
    room_l = session.flask.count * settle.fill_limit_l(session) - settle.left_after_decant_l(session)
    where = "" if volume_l <= room_l else ", in a bigger flask"
    return f"{text}; {words.litres(volume_l)} at this gravity, after a decant{where}, would reach the need"


def _target_b(session: Session, need: Need) -> float | None:
    """Cells that the last feeding must end with."""
    if need.cells_b.value is None:
        return None
    through = growth.CELLS_LEFT_BY_DECANT if settle.pitch(session) == "decanted" else 1.0
    keep_b = session.keep.cells_b if session.keep is not None and not need.shelf else None
    return need.cells_b.value / through + (keep_b or 0.0)


def _volume_reaching(start_b: float, target_b: float, plan: StepPlan, *, decanted: bool) -> float | None:
    """Litres of wort at this gravity that grow the decanted culture to the target (95 % of the growth)."""
    cells_b = start_b if decanted or plan.number == 1 else start_b * growth.CELLS_LEFT_BY_DECANT
    grams_per_l = plan.planned_w * density.wort(plan.planned_w, 20.0)

    def surplus(volume_l: float) -> float:
        new_b = growth.new_cells_b(cells_b, grams_per_l * volume_l, plan.motion)
        return cells_b + 0.95 * new_b - target_b

    try:
        exact_l = bisect(surplus, 0.01, _LARGEST_L)
    except ValueError:
        return None
    return 0.1 * -(-exact_l // 0.1)
