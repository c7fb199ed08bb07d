"""What would help where a feeding goes onto a dense culture: computed, not canned."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.brewing import density, growth
from workbench.brewing.roots import bisect
from workbench.plan import keep, settle, words
from workbench.plan.made import Content

if TYPE_CHECKING:
    from workbench.plan.model import Final, Need, StepPlan
    from workbench.session.model import Session

__all__ = ["dense_feeding_advice"]

_SMALLEST_L, _LARGEST_L = 0.01, 20.0
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
    volume_l = _volume_reaching(session, plan, need.cells_b.value)
    if volume_l is None:
        return text
    if volume_l > _LARGEST_L:
        return f"{text}; no single feeding here would reach the need: more yeast at the start would"
    room_l = session.flask.flasks * settle.fill_limit_l(session) - _left_l(session, plan)
    how = ("" if plan.number == 1 else ", after a decant") + ("" if volume_l <= room_l else ", in a bigger flask")
    return f"{text}; {words.litres(volume_l)} at this gravity{how} would reach the need"


def _left_l(session: Session, plan: StepPlan) -> float:
    """What stands in the flasks before this wort: what a decant leaves, or a kept lot's liquid."""
    left_l, liquid_l = settle.left_after_decant_l(session), settle.kept_liquid_l(session)
    if plan.number > 1:
        return left_l
    return min(left_l, liquid_l) if plan.decant else liquid_l


def _volume_reaching(session: Session, plan: StepPlan, need_b: float) -> float | None:
    """Litres of wort at this gravity that grow the culture, decanted but for a first feeding, to the need.

    Reckoned at 95 % of the growth, after what is kept and what a decant before pitching takes along. Infinite where no
    volume does; None where even the smallest would, so that it is the hours that fall short.
    """
    cells_b, left_l = plan.cells_in_b.value or 0.0, _left_l(session, plan)
    if plan.number > 1 and not plan.decant:
        cells_b *= growth.CELLS_LEFT_BY_DECANT
    grams_per_l = plan.planned_w * density.wort(plan.planned_w, 20.0)
    through = growth.CELLS_LEFT_BY_DECANT if settle.pitch(session) == "decanted" else 1.0

    def surplus(volume_l: float) -> float:
        out_b = cells_b + 0.95 * growth.new_cells_b(cells_b, grams_per_l * volume_l, plan.motion)
        share = keep.kept_share(session, out_b, Content(left_l + volume_l, 0.0, 0.0)) or 0.0
        return out_b * (1.0 - share) * through - need_b

    if surplus(_SMALLEST_L) >= 0.0:
        return None
    if surplus(_LARGEST_L) < 0.0:
        return float("inf")
    return 0.1 * -(-bisect(surplus, _SMALLEST_L, _LARGEST_L) // 0.1)
