"""Invented sessions to derive plans from, and ways to look through a plan."""

from __future__ import annotations

from datetime import date, datetime, timedelta, timezone
from typing import TYPE_CHECKING, Any

from workbench.brewing.density import extract_from_sg
from workbench.plan.derive import derive
from workbench.plan.model import Figure
from workbench.session.model import Batch, Beer, Event, Lot, Reading, Session, Step, WortHabits

if TYPE_CHECKING:
    from collections.abc import Iterator

    from workbench.plan.habits import Habits
    from workbench.plan.model import Plan, StepPlan

PITCH_AT = datetime(2026, 11, 28, 15, tzinfo=timezone(timedelta(hours=1)))
W_1034 = extract_from_sg(1.034)
WORT = WortHabits(gravity_w=W_1034)  # as the reader fills it in
PACK = Lot(kind="pack", made_on=date(2026, 10, 19), cells_b=100.0)
JAR = Lot(
    kind="kept",
    made_on=date(2026, 11, 1),
    cells_b=60.0,
    cells_low_b=40.0,
    cells_high_b=90.0,
    volume_l=0.3,
    viability=0.95,
)
SACHET = Lot(kind="dry", made_on=date(2026, 3, 1), mass_g=11.5, packs=2)


def ale(litres: float = 21.0, sg: float = 1.048) -> Beer:
    return Beer(litres, extract_from_sg(sg), "ale")


def lager(litres: float = 20.0, sg: float = 1.050) -> Beer:
    return Beer(litres, extract_from_sg(sg), "lager")


def small_ale() -> Beer:
    """A beer for which the pack is enough as it is."""
    return Beer(5.0, extract_from_sg(1.040), "ale")


def small_lager() -> Beer:
    """A lager for which the pack is enough as it is."""
    return Beer(3.0, extract_from_sg(1.040), "lager")


def session(**tables: Any) -> Session:
    """One stirred litre for an ale, in which nothing wants a warning; any table may be put in its place."""
    usual: dict[str, Any] = {
        "batch": Batch("Alder Lane Amber", PITCH_AT),
        "beer": ale(),
        "yeast": (PACK,),
        "wort": WORT,
        "step": (Step(wort_l=1.0),),
    }
    return Session(**{**usual, **tables})


def plan_of(habits: Habits | None = None, **tables: Any) -> Plan:
    return derive(session(**tables), PITCH_AT - timedelta(days=3), habits)


def step_of(**tables: Any) -> StepPlan:
    """The last feeding of such a plan."""
    return plan_of(**tables).steps[-1]


STIRRED_ALE = {"beer": ale(23.0, 1.056), "step": (Step(wort_l=1.6),)}
LAGER_IN_TWO_STEPS = {
    "beer": lager(),
    "yeast": (Lot(kind="pack", made_on=date(2026, 10, 1), packs=2),),
    "step": (Step(wort_l=1.2), Step(wort_l=2.2, decant=True)),
}
SWIRLED_JAR = {"beer": ale(19.0), "yeast": (JAR,), "step": (Step(wort_l=1.4, motion="swirled"),)}


def before(**span: float) -> datetime:
    """A time so long before pitching."""
    return PITCH_AT - timedelta(**span)


def happened(what: str, hours_before: float, step: int = 1) -> Event:
    return Event(before(hours=hours_before), step, what)


def read(kind: str, value: float, hours_before: float, step: int = 1, **more: float) -> Reading:
    return Reading(before(hours=hours_before), step, kind, value, **more)


def replace(thing: Any, **changes: object) -> Any:
    """One of the session's tables, changed."""
    return thing._replace(**changes)


def codes(plan: Plan) -> list[str]:
    return [warning.code for warning in plan.warnings]


def parts(thing: object, path: str = "plan") -> Iterator[tuple[str, object]]:
    """Every part of a plan with its path, but for the session it was derived from and the shape of the glass."""
    yield path, thing
    names: tuple[str, ...] = getattr(thing, "_fields", ())
    if names:
        for name in names:
            if name not in {"session", "flask"}:
                yield from parts(getattr(thing, name), f"{path}.{name}")
    elif isinstance(thing, tuple):
        for index, item in enumerate(thing):
            yield from parts(item, f"{path}[{index}]")


def figures(plan: Plan) -> Iterator[tuple[str, Figure]]:
    return ((path, part) for path, part in parts(plan) if isinstance(part, Figure))
