"""The file of the batch after this one: its yeast is what this keeps, or slurry of its beer; the kitchen stays."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from workbench.brewing import cooling
from workbench.errors import NothingKept
from workbench.plan import happened, settle
from workbench.plan.cool import cool_plan
from workbench.plan.cost import powder_g
from workbench.plan.keep import jar
from workbench.session.edits import AddTable, SetValue, Several
from workbench.session.fields import TABLES, field_of
from workbench.session.fresh import fresh_text
from workbench.units.kinds import CELLS, VOLUME
from workbench.units.show import write

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import datetime, tzinfo

    from workbench.plan.model import Plan
    from workbench.session.literal import TomlValue
    from workbench.session.model import Session

__all__ = ["keeps_nothing", "next_text"]

_LEAST_PER_MIN, _MOST_PER_MIN = 0.001, 10.0  # as the file may have it
_KITCHEN = ("flask", "wort", "foam", "bath", "place", "day", "supplies")


def next_text(
    plan: Plan,
    data: Mapping[str, Any],
    name: str,
    file_name: str,
    *,
    shelf: bool = False,
    slurry: str | None = None,
    tz: tzinfo | None = None,
) -> str:
    """The text of a new session `name`, grown from the batch of `plan`, which `data` from `file_name` says.

    `slurry` is a volume as typed, harvested on the day of `plan.now` after that beer; else the lot is what the batch
    keeps. For the `shelf` as many cells are asked for as that batch was to keep: the jar is made full again. Days are
    those of `tz`, by default this machine's zone. Raises NothingKept, QuantityError, EditRefused.
    """
    session = plan.session
    lot = _kept(plan, file_name, tz) if slurry is None else _slurry(plan.now, slurry, tz)
    lot["from"] = file_name
    lot["generation"] = 1 + max((lot.generation for lot in session.yeast), default=0)
    lot["cycle"] = 1 + max((lot.cycle for lot in session.yeast), default=0) if slurry is None else 0
    edits = [SetValue(f"{table}.{key}", value) for table in _KITCHEN for key, value in _known(data, table)]
    edits += _cooling_learnt(session)
    if session.supplies.powder_g is not None:
        left_g = max(0.0, session.supplies.powder_g - powder_g(plan))
        edits.append(SetValue("supplies.powder", f"{left_g:.0f} g"))
    if not shelf and slurry is None:
        edits += [SetValue(f"keep.{key}", value) for key, value in _known(data, "keep")]
    if shelf and (wanted := _wanted(plan, data)) is not None:
        edits.append(SetValue("keep.cells", wanted))
    return Several((AddTable("yeast", 0, lot), *edits)).in_text(fresh_text(name, flask={}, wort={}, shelf=shelf))


def keeps_nothing(plan: Plan) -> bool:
    """Whether the brewer has not said that anything is to be kept; a build for the shelf is kept itself."""
    keep = plan.session.keep
    return not plan.need.shelf and (keep is None or not (keep.cells_b or keep.volume_l))


def _kept(plan: Plan, file_name: str, tz: tzinfo | None) -> dict[str, TomlValue]:
    """What the batch keeps, as a lot. Raises NothingKept, which says what to set."""
    held, at = jar(plan.session, plan.final), _kept_at(plan)
    cells = held.cells_b
    if cells.value == 0.0 or keeps_nothing(plan):
        raise NothingKept(f'{file_name} keeps nothing: set [keep] cells = "60 B" or volume = "0.5 L" in it')
    if cells.value is None or at is None:
        needed = next((w.text for w in plan.warnings if w.code.startswith("needs-")), cells.why.says)
        raise NothingKept(f"what {file_name} keeps cannot be told yet: {needed}")
    lot: dict[str, TomlValue] = {"kind": "kept", "made_on": at.astimezone(tz).date(), "cells": _written(cells.value)}
    if cells.low is not None and cells.high is not None:
        lot |= {"cells_low": _written(cells.low), "cells_high": _written(cells.high)}
    if held.volume_l:
        lot["volume"] = write(_rounded(held.volume_l), VOLUME)
    return lot


def _kept_at(plan: Plan) -> datetime | None:
    """When it was held back, where that is stamped, days before pitching perhaps; else when the yeast is pitched."""
    kept = (task.stamped for task in plan.moments if task.name == "keep" and not task.skipped)
    return next(kept, None) or happened.pitch_at(plan.session)


def _slurry(now: datetime, volume: str, tz: tzinfo | None) -> dict[str, TomlValue]:
    """Slurry harvested today, of the usual density until it is counted."""
    written = field_of("yeast.0.volume").from_typed(volume, now, tz)[1]
    return {"kind": "slurry", "made_on": now.astimezone(tz).date(), "volume": written}


def _known(data: Mapping[str, Any], table: str) -> list[tuple[str, TomlValue]]:
    """What the file itself says in a table, letter for letter; keys that the format has not are left behind."""
    return [(key, value) for key, value in data.get(table, {}).items() if TABLES[table].field(key) is not None]


def _cooling_learnt(session: Session) -> list[SetValue]:
    """How fast this flask cools in its bath, from what was known and what was measured here."""
    known, error = session.bath.rate_per_min, session.bath.rate_error_per_min
    rates = [] if known is None else [cooling.Rate(known, error if error is not None else known / 4.0)]
    for step, asked in ((index + 1, settle.asked(session, index)) for index in range(len(session.step))):
        found = cool_plan(session, step, asked.temperature_c) if asked.boil_in == "flask" else None
        curve = found.found.curve if found is not None and found.found is not None else None
        if curve is not None and curve.k_se is not None and curve.k_per_min > 0.0:
            rates.append(cooling.Rate(curve.k_per_min, curve.k_se))
    if not rates or (known is not None and len(rates) == 1):
        return []
    learnt = cooling.learnt([rate for rate in rates if _LEAST_PER_MIN <= rate.k_per_min <= _MOST_PER_MIN])
    if learnt is None:
        return []
    return [
        SetValue("bath.rate", float(f"{learnt.k_per_min:.4g}")),
        SetValue("bath.rate_error", float(f"{learnt.se_per_min:.3g}")),
    ]


def _wanted(plan: Plan, data: Mapping[str, Any]) -> TomlValue | None:
    """The cells that the batch was to keep: as typed, else those in the volume it keeps."""
    kept_b = plan.final.kept_b.value
    typed: TomlValue | None = data.get("keep", {}).get("cells")
    return typed if typed is not None else _written(kept_b) if kept_b else None


def _written(cells_b: float) -> str:
    return write(_rounded(cells_b), CELLS)


def _rounded(amount: float) -> float:
    """To four digits, more than can be trusted."""
    return float(f"{amount:.4g}")
