"""The feeding that grows, or rests in the cold, just now: what is left of its time, and how far it has come."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from workbench.brewing import attenuation, density, kinetics
from workbench.plan import happened, words
from workbench.plan.model import Figure, Reason
from workbench.plan.sources import ATTENUATION
from workbench.units.when import hours_between

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime

    from workbench.brewing.starter import Fed, Feeding
    from workbench.plan.culture import Course
    from workbench.plan.made import Content
    from workbench.plan.model import ReadingPlan
    from workbench.session.model import Reading, Session

__all__ = ["DONE_SHARE", "GrowthPlan", "Test", "growing", "share_at"]

DONE_SHARE = 0.95  # of the growth: what the planned hours wait for


class Test(NamedTuple):
    """A gravity of the working starter against the model: the share fermented by it, and grown by the hours.

    `end_w` is what the instrument is expected to show when all is done.
    """

    place: int
    share: Figure
    model: float | None
    end_w: float


class GrowthPlan(NamedTuple):
    """The last feeding that has begun. It grows from `start` to `end`; at `due` it is fed on, or pitched.

    `cold`: since when it rests in the cold. `tests`: the gravities read since its yeast went in, the last one last.
    """

    step: int
    start: datetime
    end: datetime | None
    due: datetime | None
    cold: datetime | None
    feeding: Feeding | None
    fed: Fed | None
    tests: tuple[Test, ...]
    read_at: int | None  # the place of the last temperature of the working starter


def growing(
    session: Session, course: Course, contents: Sequence[Content | None], readings: Sequence[ReadingPlan]
) -> GrowthPlan | None:
    """The feeding that has begun last, until the yeast is in the beer; None where none has."""
    step = happened.last_begun(session)
    if not step or happened.pitched(session) is not None:
        return None
    span = course.spans[step - 1]
    start = span.start
    if start is None:
        return None
    fed = course.fed[step - 1] if step <= len(course.fed) else None
    feeding = course.feedings[step - 1] if step <= len(course.feedings) else None
    due = course.spans[step].start if step < len(course.spans) else happened.pitch_at(session)
    plan = GrowthPlan(step, start, span.end, due, happened.chilled(session, step), feeding, fed, (), None)
    warm = [
        place
        for place, r in enumerate(session.reading)
        if r.step == step and r.kind == "temperature" and r.at is not None and r.at > start
    ]
    plan = plan._replace(read_at=warm[-1] if warm else None)
    return plan._replace(tests=_tests(session, plan, contents[step - 1], readings))


def share_at(plan: GrowthPlan, at: datetime) -> float | None:
    """The share of all growth of this feeding that is done by then, by the model; it stops in the cold."""
    fed, feeding = plan.fed, plan.feeding
    if fed is None or feeding is None or fed.growth is None:
        return None
    if plan.cold is not None:
        at = min(at, plan.cold)
    hours = max(0.0, hours_between(plan.start, at))
    share = kinetics.after_hours(fed.growth, fed.h0, feeding.rate, feeding.motion, hours).share
    return min(1.0, max(0.0, share))


def _tests(
    session: Session, plan: GrowthPlan, content: Content | None, readings: Sequence[ReadingPlan]
) -> tuple[Test, ...]:
    if content is None or content.original_w is None or plan.fed is None:
        return ()
    fresh = min(1.0, plan.fed.extract_g / content.extract_g) if content.extract_g > 0.0 else 0.0
    found = []
    for reading in readings:
        given = session.reading[reading.place]
        w = reading.true_w.value
        if reading.step != plan.step or w is None or given.at is None or given.at <= plan.start:
            continue
        found.append(_test(plan, given, (content.original_w, w, fresh), reading.place))
    return tuple(found)


def _test(plan: GrowthPlan, given: Reading, known: tuple[float, float, float], place: int) -> Test:
    original_w, w, fresh = known
    real_w, end_w = w, original_w * (1.0 - attenuation.FERMENTED)
    if given.kind == "gravity":  # a hydrometer floats on alcohol too
        real_w, end_w = attenuation.real_extract(original_w, w), attenuation.apparent_extract(original_w, end_w)
    share = attenuation.fermented_share(original_w, real_w, fresh)
    says = (
        f"of {words.gravity(original_w)} in the flask, real extract {100 * real_w:.1f} °P is left; "
        f"about {density.sg(end_w):.3f} is expected at the end: {100 * share:.0f} % of the way"
    )
    unsure = "how much of this wort ferments: 55 to 70 %"
    figure = Figure(share, "%", Reason(says, ATTENUATION, "wort of malt extract", unsure))
    return Test(place, figure, None if given.at is None else share_at(plan, given.at), end_w)
