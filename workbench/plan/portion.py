"""The wort of one feeding, as the planner weighs it."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from workbench.brewing import starter
    from workbench.session.model import Step

__all__ = ["Portion"]


class Portion(NamedTuple):
    """One feeding's wort: `wort_l` finished, of which `top_up_l` is added after the boil, and what is in it."""

    wort_l: float
    top_up_l: float
    feeding: starter.Feeding  # not poured off
    given: Step | None = None  # the brewer's own feeding, as it stands
    gravity_w: float | None = None  # where it is not the kitchen's usual
