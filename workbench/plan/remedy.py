"""What would help where a feeding goes onto a dense culture: computed, not canned."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.brewing import density, growth
from workbench.brewing.roots import bisect
from workbench.plan import settle, words

if TYPE_CHECKING:
    from workbench.plan.model import Final, Need, StepPlan
    from workbench.session.model import Session

__all__ = ["dense_feeding_advice"]

_LARGEST_L = 20.0
_LITTLE = 1.3  # out per in below which little or no growth is what to expect


def dense_feeding_advice(session: Session, plan: StepPlan, final: Final, need: Need) -> str:
    """Little or no growth expected, with its range, and the feeding that would reach the need."""
    out, start_b = plan.cells_out_b, plan.cells_in_b.value or 0.0
    little = plan.growth is None or plan.growth < _LITTLE
    text = f"a dense start: {'little or no growth expected' if little else 'growth falls off here'} (extrapolated)"
    if out.low is not None and out.high is not None:
        text += f", {words.spread(out.low, out.high)} from {words.cells(start_b)}"
    if plan.number < len(session.step) or final.meets_need is not False or need.cells_b.value is None:
        return text
    first = plan.number == 1
    volume_l = _volume_reaching(session, plan, need.cells_b.value)
    if volume_l is None:
        return f"{text}; no single feeding here would reach the need: more yeast at the start would"
    left_l = 0.0 if first else settle.left_after_decant_l(session)
    room_l = session.flask.flasks * settle.fill_limit_l(session) - left_l
    how = ("" if first else ", after a decant") + ("" if volume_l <= room_l else ", in a bigger flask")
    return f"{text}; {words.litres(volume_l)} at this gravity{how} would reach the need"


def _volume_reaching(session: Session, plan: StepPlan, need_b: float) -> float | None:
    """Litres of wort at this gravity that grow the culture, decanted but for a first feeding, to the need.

    Reckoned at 95 % of the growth, after what is kept and what a decant before pitching takes along.
    """
    cells_b = plan.cells_in_b.value or 0.0
    left_l = 0.0
    if plan.number > 1:
        left_l = settle.left_after_decant_l(session)
        cells_b *= 1.0 if plan.decant else growth.CELLS_LEFT_BY_DECANT
    grams_per_l = plan.planned_w * density.wort(plan.planned_w, 20.0)
    through = growth.CELLS_LEFT_BY_DECANT if settle.pitch(session) == "decanted" else 1.0
    keep = session.keep if session.keep is not None and not settle.is_shelf(session) else None

    def surplus(volume_l: float) -> float:
        out_b = cells_b + 0.95 * growth.new_cells_b(cells_b, grams_per_l * volume_l, plan.motion)
        kept_b = 0.0
        if keep is not None and keep.volume_l is not None:
            kept_b = out_b * min(1.0, keep.volume_l / (left_l + volume_l))
        elif keep is not None:
            kept_b = keep.cells_b or 0.0
        return (out_b - kept_b) * through - need_b

    try:
        exact_l = bisect(surplus, 0.01, _LARGEST_L)
    except ValueError:
        return None
    return 0.1 * -(-exact_l // 0.1)
