"""The Plan as plain data for JSON: full precision, units in the keys, null for what cannot be said."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from workbench.brewing import density
from workbench.plan.clock import live
from workbench.units.mark import Mark

if TYPE_CHECKING:
    from datetime import datetime

    from workbench.plan.cool import CoolPlan
    from workbench.plan.model import Chain, Figure, Moment, Plan, StepPlan

__all__ = ["as_data"]


def as_data(plan: Plan) -> dict[str, Any]:
    """One object with the format's keys."""
    final = plan.final
    return {
        "batch": {"name": plan.session.batch.name, "pitch_at": _time(plan.session.batch.pitch_at)},
        "need": {
            "cells_b": plan.need.cells_b.value,
            "plato": plan.need.plato.value,
            "rate": plan.need.rate.value,
        },
        "hand": {
            "cells_b": _estimate(plan.hand.cells_b),
            "lots": [
                {
                    "kind": lot.kind,
                    "cells_b": _estimate(lot.cells_b),
                    "viability": _estimate(lot.viability),
                    "age_days": lot.age_days.value,
                }
                for lot in plan.hand.lots
            ],
        },
        "starter_needed": plan.starter_needed,
        "planned_by": plan.planned_by,
        "steps": [_step(step) for step in plan.steps],
        "final": {
            "cells_b": _estimate(final.cells_b),
            "kept_b": final.kept_b.value,
            "pitched_b": _estimate(final.pitched_b),
            "meets_need": final.meets_need,
            "chance": final.chance.value,
            "beer_gravity_sg": _sg(final.beer_gravity_w.value),
            "silicone_mg_per_l": final.silicone_mg_per_l.value,
        },
        "chain": _chain(plan.chain),
        "schedule": [_task(task) for task in sorted(plan.moments, key=lambda task: task.at)],
        "clock": _clock(plan),
        "warnings": [{"code": w.code, "level": w.level, "text": w.text, "key": w.key} for w in plan.warnings],
    }


def _chain(chain: Chain | None) -> dict[str, Any] | None:
    if chain is None:
        return None
    return {
        "batches": [
            {
                "start_b": batch.start_b.value,
                "grown_b": batch.grown_b.value,
                "kept_b": batch.kept_b.value,
                "pitched_b": batch.pitched_b.value,
                "meets_need": batch.meets_need,
            }
            for batch in chain.batches
        ],
        "runs_down": chain.runs_down,
        "level_extract_g": chain.level_g.value,
        "level_wort_l": chain.level_l.value,
    }


def _clock(plan: Plan) -> dict[str, Any]:
    """The boil and the cool-down as they stand at the plan's `now`."""
    clock = plan.clock
    if clock is None:
        return {"boil_s": None, "boil_left_s": None, "holds": None, "cool": None}
    at, boil = live(clock, Mark(plan.now)), clock.boil
    return {
        "boil_s": at.boiled_s,
        "boil_left_s": max(0.0, at.left_s),
        "holds": 0 if boil is None else boil.holds,
        "cool": None if clock.cool is None else _cool(clock.cool),
    }


def _cool(cool: CoolPlan) -> dict[str, Any]:
    curve, reach = (None, None) if cool.found is None else (cool.found.curve, cool.found.reach)
    band_min = None if reach is None else reach.band_min
    return {
        "k_per_min": cool.k_per_min.value,
        "k_se": None if curve is None else curve.k_se,
        "eta": _time(cool.eta_at),
        "eta_band_s": None if band_min is None else 60.0 * band_min,
    }


def _step(step: StepPlan) -> dict[str, Any]:
    return {
        "wort_l": step.wort_l.value,
        "gravity_sg": _sg(step.gravity_w.value),
        "plato": None if step.gravity_w.value is None else 100.0 * step.gravity_w.value,
        "powder_g": step.powder_g.value,
        "water_l": step.water_l.value,
        "top_up_l": step.top_up_l.value,
        "boil_off_ml": step.boil_off_ml.value,
        "extract_g": step.extract_g.value,
        "decant": step.decant,
        "motion": step.motion,
        "temperature_c": step.temperature_c.value,
        "boil_in": step.boil_in,
        "flask_l": step.flask_l.value,
        "fill_fraction": step.fill_fraction,
        "headroom_ml": step.headroom_ml.value,
        "surface_rise_factor": step.rise_factor.value,
        "wort_level_mm": step.level_mm.value,
        "foam_drops": None if step.foam.drops.value is None else int(step.foam.drops.value),
        "silicone_mg_per_l": step.foam.silicone_mg_per_l.value,
        "boil_c": step.bath.boil_c.value,
        "heat_kj": step.bath.heat_kj.value,
        "ice_kg": step.bath.ice_kg.value,
        "float_depth_mm": step.bath.float_mm.value,
        "fill_fits": step.fill_fits,
        "hot_boil_l": step.hot_boil_l.value,
        "boil_fits": step.boil_fits,
        "cells_in_b": step.cells_in_b.value,
        "cells_out_b": _estimate(step.cells_out_b),
        "hours": step.hours.value,
        "hours_range": None if step.hours_range is None else list(step.hours_range),
        "hours_planned": step.hours_planned,
        "start": _time(step.start),
        "end": _time(step.end),
    }


def _task(task: Moment) -> dict[str, Any]:
    bounds = {"at": task.at, "earliest": task.earliest, "latest": task.latest}
    return {**{key: _time(at) for key, at in bounds.items()}, "task": task.what, "step": task.step}


def _estimate(figure: Figure) -> dict[str, float | None] | None:
    if figure.value is None:
        return None
    return {"low": figure.low, "likely": figure.value, "high": figure.high}


def _sg(w: float | None) -> float | None:
    return None if w is None else density.sg(w)


def _time(at: datetime | None) -> str | None:
    return None if at is None else at.isoformat()
