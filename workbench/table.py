"""Batches as a table, a line for each feeding: what was planned, and beside it what was measured."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from workbench.brewing import density
from workbench.plan.afterwards import compared
from workbench.plan.export import as_data
from workbench.units.plainly import harmless

if TYPE_CHECKING:
    from collections.abc import Iterator
    from datetime import datetime
    from typing import Any

    from workbench.plan.habits import Habits
    from workbench.plan.model import Plan

__all__ = ["HEADER", "Line", "lines"]

_FORMULA = ("=", "+", "-", "@", "＝", "＋", "－", "＠")  # what a spreadsheet may take for the start of one


class Line(NamedTuple):
    """One feeding; the names are the header, with the units that the sheet as JSON has in its keys.

    `gravity_sg` is what the wort is, measured where it was measured; pitched, chance and need are of the whole batch.
    """

    batch: str
    file: str
    step: int
    wort_l: float | None
    planned_gravity_sg: float
    gravity_sg: float | None
    powder_g: float | None
    water_l: float | None
    cells_in_b: float | None
    cells_out_b_low: float | None
    cells_out_b_likely: float | None
    cells_out_b_high: float | None
    hours: float | None
    start: str | None
    end: str | None
    measured_gravity_sg: float | None
    measured_wort_l: float | None
    measured_cells_b: float | None
    boiled_min: float | None
    pitched_at: str | None
    pitched_b: float | None
    chance: float | None
    need_b: float | None


HEADER = Line._fields


def lines(plan: Plan, file: str, habits: Habits) -> Iterator[Line]:
    """A line for each feeding of a plan, none where nothing is fed. `file`: where the plan comes from."""
    data = as_data(plan)
    actual = {(it.step, it.what): it.actual for it in compared(plan, habits)}
    out, pitched = ("low", "likely", "high"), data["final"]["pitched_b"] or {}
    for step, fed in zip(plan.steps, data["steps"], strict=True):
        cells_out = fed["cells_out_b"] or {}
        yield Line(
            batch=_cell(data["batch"]["name"]),
            file=_cell(file),
            step=step.number,
            planned_gravity_sg=density.sg(step.planned_w),
            **{key: fed[key] for key in _SAME},
            **{f"cells_out_b_{key}": cells_out.get(key) for key in out},
            **_measured(actual, step.number),
            pitched_at=_time(actual.get((0, "pitched"))),
            pitched_b=pitched.get("likely"),
            chance=data["final"]["chance"],
            need_b=data["need"]["cells_b"],
        )


_SAME = ("wort_l", "gravity_sg", "powder_g", "water_l", "cells_in_b", "hours", "start", "end")


def _measured(actual: dict[tuple[int, str], float | datetime], step: int) -> dict[str, Any]:
    """What was measured of one feeding; None where nothing was."""
    gravity_w, volume_l, cells_b, boiled_s = (
        actual.get((step, what)) for what in ("gravity", "volume", "cells", "boiled")
    )
    return {
        "measured_gravity_sg": density.sg(gravity_w) if isinstance(gravity_w, float) else None,
        "measured_wort_l": volume_l,
        "measured_cells_b": cells_b,
        "boiled_min": boiled_s / 60.0 if isinstance(boiled_s, float) else None,
    }


def _time(at: float | datetime | None) -> str | None:
    return None if at is None or isinstance(at, float) else at.isoformat()


def _cell(text: str) -> str:
    """A brewer's own text that no spreadsheet takes for a formula, and no terminal for a command."""
    plain = harmless(text)
    return f"'{plain}" if plain.lstrip().startswith(_FORMULA) else plain
