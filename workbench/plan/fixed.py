"""Feedings that stay as they are while the planner fills in the others: locked ones, and those that have begun."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.brewing import kinetics, starter
from workbench.plan import culture, happened, made, settle
from workbench.plan.habits import Habits
from workbench.plan.portion import Portion
from workbench.units.when import hours_between

if TYPE_CHECKING:
    from collections.abc import Sequence

    from workbench.plan.timeline import Span
    from workbench.session.model import Session

__all__ = ["idle_h", "places", "portions"]


def places(session: Session) -> tuple[int, ...]:
    """Where, from 0, the feedings of the file are that the planner leaves alone."""
    return tuple(
        index
        for index, step in enumerate(session.step)
        if step.locked or happened.begun(session, index + 1) is not None
    )


def portions(session: Session, keep: Sequence[int]) -> dict[int, Portion]:
    """The feedings at these places; not those whose wort is not known. What is over stays as it was."""
    found = {index: portion for index in keep if (portion := _portion(session, index)) is not None}
    over = _over(session)
    hours = dict(enumerate(span.hours for span in over))
    cold_days = dict(enumerate((span.cold_h / 24.0 for span in over), 1))
    for index, portion in found.items():
        feeding = portion.feeding._replace(
            hours=hours.get(index, portion.feeding.hours), cold_days=cold_days.get(index, 0.0)
        )
        found[index] = portion._replace(feeding=feeding)
    return found


def idle_h(session: Session) -> float:
    """Hours since the first yeast went in that were neither growth nor a rest that was planned."""
    over, last = _over(session), happened.last_begun(session)
    first_in, last_in = happened.begun(session, 1), happened.begun(session, last)
    if not over or first_in is None or last_in is None:
        return 0.0
    rests_h = settle.rest_h(session) * sum(step.decant for step in session.step[1:last])
    return max(0.0, hours_between(first_in, last_in) - rests_h - sum(span.hours or 0.0 for span in over))


def _over(session: Session) -> Sequence[Span]:
    """The feedings that another has followed already: when they grew, and how long they stood cold after that."""
    last = happened.last_begun(session)
    if last < 2 or happened.begun(session, last) is None:
        return ()
    begun = session._replace(step=session.step[:last])
    worts = [made.make(begun, index, Habits()) for index in range(last)]
    return culture.run(begun, worts).spans[: last - 1]


def _portion(session: Session, index: int) -> Portion | None:
    wort = made.make(session, index, Habits())
    asked = wort.asked
    if asked.wort_l is None or not wort.extract_g or wort.wort_l is None:
        return None
    rate = kinetics.rate_per_h(asked.temperature_c, settle.yeast_type(session))
    feeding = starter.Feeding(wort.extract_g, asked.decant, asked.motion, rate, asked.hours)
    return Portion(wort.wort_l, asked.top_up_l, feeding, session.step[index])
