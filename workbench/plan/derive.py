"""Session in, Plan out: the only place that joins the science and the session. Pure: `now` and habits are passed in."""

from __future__ import annotations

from functools import partial
from itertools import zip_longest
from typing import TYPE_CHECKING

from workbench.plan import (
    cautions,
    chain,
    clock,
    cost,
    counted,
    culture,
    finish,
    made,
    readings,
    schedule,
    settle,
    standing,
    stepplan,
    supply,
    tasks,
    unasked,
    warn,
)
from workbench.plan.cool import cool_warnings
from workbench.plan.fixes import fix_plans, fix_warnings
from workbench.plan.foaming import foam_warnings
from workbench.plan.habits import Habits
from workbench.plan.model import Plan, Warning
from workbench.plan.timeliness import time_warnings
from workbench.units.mark import Mark

if TYPE_CHECKING:
    from datetime import datetime

    from workbench.session.model import Session

__all__ = ["derive"]


def derive(session: Session, now: datetime, habits: Habits | None = None) -> Plan:
    """Every figure of the session at one moment, with ranges, reasons and warnings. Raises nothing."""
    habits = habits or Habits()
    proposed, why_none = unasked.proposed(session)
    session = session._replace(step=proposed or session.step)
    worts = [made.make(session, index, habits) for index in range(len(session.step))]
    contents = made.fill(session, worts)
    course = culture.run(session, worts, habits.tz)
    drawn = culture.outcomes(session, course)
    need = supply.need(session)
    hand = supply.hand(session, course, drawn)
    steps = tuple(
        stepplan.step_plan(session, index, wort, contents[index], course, drawn) for index, wort in enumerate(worts)
    )
    final = finish.final(session, need, hand, course, drawn, contents)
    originals = [content.original_w if content is not None else None for content in contents]
    corrected, doubts = readings.correct_all(session, habits, originals)
    fixes = fix_plans(session, worts, steps, corrected)
    doubts += fix_warnings(session, worts, fixes, corrected)
    warnings = [] if why_none is None else [Warning("no-plan", "caution", why_none, "step")]
    warnings += [*warn.missing(session, hand), *warn.lot_warnings(session, course, hand)]
    warnings += [*counted.count_warnings(session), *doubts]
    for wort, plan, fed in zip_longest(worts, steps, course.fed):  # fed is shorter where the course cannot be told
        warnings += warn.step_warnings(session, wort, plan, fed, (need, final))
    moments = schedule.moments(session, [wort.asked for wort in worts], course, now, habits.tz)
    reckon = partial(derive, now=now, habits=habits)
    warnings += time_warnings(session, steps, course, moments, now, habits, reckon)
    warnings += [*warn.end_warnings(session, need, final), *foam_warnings(steps, final)]
    coming = chain.chain(session, need, final, course, worts)
    warnings += warn.chain_warnings(session, need, coming)
    runs = clock.clock_plan(session, course, contents, corrected)
    over = clock.expected(runs, Mark(now))
    todo = cautions.beside(tasks.with_tasks(session, moments, steps, final, over, habits.tz), session, steps)
    warnings += cool_warnings(session, runs.cool if runs is not None else None)
    at_pitching = culture.at_pitching(session)
    return Plan(
        session=session,
        now=now,
        need=need,
        hand=hand,
        starter_needed=supply.starter_needed(session, need, at_pitching),
        starter=supply.starter(session, need, at_pitching),
        planned_by="planner" if proposed else "brewer" if session.step else "none",
        steps=steps,
        final=final,
        chain=coming,
        readings=corrected,
        fixes=fixes,
        supplies=cost.supplies_plan(session, steps, need),
        moments=todo,
        fill_limit_l=standing.fill_limit(session),
        boil_limit_l=standing.boil_limit(session),
        flask=settle.flask_shape(session),
        measures=settle.flask_measures(session),
        warnings=tuple(warnings),
        clock=runs,
        next=tasks.upcoming(todo, now),
    )
