"""The target-gravity solver at the keyboard: the two of powder, water, gravity and wort that were typed last stand.

The file keeps a feeding as its gravity and its finished wort; powder and water follow from them. So a typed powder or
water is solved for gravity and wort, with this feeding's boil-off and top-up.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal, get_args

from workbench.brewing import wort
from workbench.plan import settle

if TYPE_CHECKING:
    from collections.abc import Mapping

    from workbench.brewing.wort import Balance
    from workbench.session.model import Session

__all__ = ["TERMS", "Term", "solve_feeding"]

Term = Literal["powder", "water", "gravity", "wort"]
TERMS: tuple[Term, ...] = get_args(Term)


def solve_feeding(session: Session, index: int, typed: Mapping[Term, float]) -> Balance:
    """The wort of feeding `index` from any two terms: powder g, water L, gravity as extract fraction, wort L.

    Raises WortError: too many or too few terms, or no wort answers them.
    """
    asked = settle.asked(session, index)
    return wort.solve(
        powder_g=typed.get("powder"),
        water_l=typed.get("water"),
        gravity_w=typed.get("gravity"),
        wort_l=typed.get("wort"),
        boil_off_ml=asked.boil_off_ml,
        top_up_l=asked.top_up_l,
        extract_fraction=session.wort.extract_fraction,
    )
