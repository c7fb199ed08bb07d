"""Invented kitchens as session files without feedings, usual ones and hard ones, for the planner to answer."""

from __future__ import annotations

import tomllib
from datetime import date, timedelta
from typing import TYPE_CHECKING, Any

import tomlkit
from hypothesis import strategies as st

from tests.plan.sessions import PITCH_AT
from workbench.plan import effort, planner, relax
from workbench.session.read import read

if TYPE_CHECKING:
    from workbench.session.model import Session

NOW = PITCH_AT - timedelta(days=30)  # early enough for any plan


def text_of(tables: dict[str, Any]) -> str:
    """A session file of these tables."""
    return tomlkit.dumps({"format": 1, **{name: table for name, table in tables.items() if table}})


def session_of(text: str) -> Session:
    outcome = read(tomllib.loads(text), text)
    assert not outcome.faults, outcome.faults
    return outcome.session


def searched() -> int:
    """How many kitchens the planner has searched since it knew nothing."""
    return planner._proposed.cache_info().misses


def forget() -> None:
    """Have it know nothing."""
    for known in (planner._proposed, relax.diagnosis, relax.relaxations, effort._most_of):
        known.cache_clear()


def _table(**parts: Any) -> st.SearchStrategy[dict[str, Any]]:
    """A table with these keys; what is drawn as None is left out."""
    found = {name: part if isinstance(part, st.SearchStrategy) else st.just(part) for name, part in parts.items()}
    return st.fixed_dictionaries(found).map(lambda table: {k: v for k, v in table.items() if v is not None})


def _amount(low: float, high: float, step: float, unit: str = "") -> st.SearchStrategy[str]:
    """Text as a person writes it, on a grid of `step`."""
    numbers = st.integers(round(low / step), round(high / step)).map(lambda n: f"{round(n * step, 6):g}")
    return numbers.map(lambda number: f"{number} {unit}") if unit else numbers


def _gravity(low: float, high: float) -> st.SearchStrategy[str]:
    return st.integers(round(1000 * low), round(1000 * high)).map(lambda n: f"{n / 1000:.3f}")


def _made(least: int, most: int) -> st.SearchStrategy[date]:
    return st.integers(least, most).map(lambda days: PITCH_AT.date() - timedelta(days=days))


def _or_none(strategy: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.none() | strategy


_motions = st.sampled_from(["stirred", "swirled", "still"])
_chances = st.none() | st.just(0.5) | st.sampled_from([0.5, 0.6, 0.75, 0.8, 0.9, 0.95])
_vessels = _or_none(st.sampled_from(["flask", "pot"]))
_pitches = _or_none(st.sampled_from(["whole", "decanted"]))
_types = st.sampled_from(["ale", "ale", "lager"])
_drops = _or_none(st.sampled_from([0, 2]))
_viability = st.integers(5, 100).map(lambda percent: percent / 100)


def _lots(oldest: int, least_b: int, most_b: int, viability: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    """A list of one or two lots with so many cells."""
    common = {"made_on": _made(1, oldest), "viability": viability}
    cells = _amount(least_b, most_b, 5, "B")
    millilitres = _amount(50, 1500, 50, "mL")
    lot = st.one_of(
        _table(kind="pack", cells=_or_none(cells), count=st.integers(1, 2), **common),
        _table(kind="kept", cells=cells, volume=_or_none(millilitres), **common),
        _table(kind="counted", cells=cells, **common),
        _table(kind="slurry", volume=_amount(20, 150, 10, "mL"), **common),
    )
    return st.lists(lot, min_size=1, max_size=1) | st.lists(lot, min_size=1, max_size=2)


_keep_some = _table(cells=_amount(20, 120, 10, "B")) | _table(volume=_amount(0.1, 1.0, 0.1, "L"))

_usual_parts = {
    "beer": _table(volume=_amount(10, 28, 0.5, "L"), gravity=_gravity(1.036, 1.080), type=_types),
    "yeast": _lots(120, 60, 110, st.none() | st.sampled_from([0.9, 0.95])),
    "flask": _table(size=st.sampled_from(["1 L", "2 L", "3 L", "5 L"]), count=_or_none(st.integers(1, 2))),
    "wort": _table(
        motion=_motions,
        boil_in=_vessels,
        gravity=_or_none(_gravity(1.030, 1.040)),
        temperature=_or_none(_amount(18, 24, 1, "°C")),
    ),
    "foam": _table(drops_per_gallon=_drops),
}
_batch = _table(name="Alder Lane Amber", pitch_at=PITCH_AT, chance=_chances, pitch=_pitches)
_for_a_beer = st.fixed_dictionaries({"batch": _batch, **_usual_parts, "keep": st.just({}) | _keep_some})
_for_the_shelf = st.fixed_dictionaries(
    {"batch": _batch, **_usual_parts, "beer": st.just({}), "keep": _table(cells=_amount(50, 500, 10, "B"))}
)
usual = _for_a_beer | _for_the_shelf


@st.composite
def _hard(draw: st.DrawFn) -> dict[str, Any]:
    size_l = draw(st.integers(5, 50)) / 10
    share = st.integers(30, 100).map(lambda percent: f"{percent / 100 * size_l:.3g} L")
    beer = _table(
        volume=_amount(2, 80, 0.5, "L"),
        gravity=_gravity(1.030, 1.120),
        type=_types,
        pitch_rate=_or_none(st.sampled_from([0.3, 0.5, 1.0, 2.0])),
    )
    flask = _table(
        size=f"{size_l:g} L",
        fill_limit=_or_none(share),
        boil_limit=_or_none(share),
        count=_or_none(st.integers(1, 2)),
        height=_or_none(st.just("300 mm")),
        glass=_or_none(st.just("0.6 kg")),
    )
    wort = _table(
        motion=_motions,
        boil_in=_vessels,
        gravity=_or_none(_gravity(1.020, 1.080)),
        temperature=_or_none(_amount(8, 34, 1, "°C")),
        boil_off=_or_none(_amount(0, 400, 20, "mL")),
        rest=_or_none(_amount(0, 72, 6, "h")),
        left_after_decant=_or_none(_amount(0, 1, 0.05, "L")),
    )
    tables = {
        "batch": _batch,
        "beer": beer,
        "yeast": _lots(400, 5, 600, _or_none(_viability)),
        "flask": flask,
        "wort": wort,
        "foam": _table(drops_per_gallon=_drops),
        "keep": st.just({}) | _keep_some,
    }
    if draw(st.integers(0, 5)) == 0:
        tables |= {"beer": st.just({}), "keep": _table(cells=_amount(20, 900, 10, "B"))}
    return draw(st.fixed_dictionaries(tables))


hard = _hard()
kitchens = usual | hard

bounds = st.fixed_dictionaries(
    {
        "supplies": _table(powder=_or_none(_amount(20, 600, 10, "g")), powder_price=12.0),
        "day": _table(hours=_or_none(_amount(8, 130, 2, "h"))),
    }
)
"""Powder on hand and hours, to add to a kitchen."""
