"""The rows of one lot of yeast: what is asked of its kind, from top to bottom, and the live cells in it."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from workbench.panes.figures import choice, figure, shown, span, value, words_row
from workbench.plan.lots import DEFAULT_PACK_B
from workbench.units.when import day

if TYPE_CHECKING:
    from workbench.panes.rows import Rows, Scene
    from workbench.plan.model import CountPlan, Figure, LotPlan
    from workbench.session.model import Lot

__all__ = ["add_lot"]

_KINDS = ("pack", "dry", "slurry", "kept", "counted")


class _Asked(NamedTuple):
    """A number asked of a lot; without a note the range of its figure stands there."""

    label: str
    key: str
    amount: float | None
    unit: str
    note: str = ""
    figure: Figure | None = None


def add_lot(pane: Rows, index: int) -> None:
    """One lot: its kind, the day it was made, what is asked of that kind, and the live cells in it."""
    scene, key, first = pane.scene, f"yeast.{index}", len(pane.rows)
    lot, plan = scene.plan.session.yeast[index], scene.plan.hand.lots[index]
    pane.add(choice(f"lot {index + 1}", f"{key}.kind", lot.kind or "kind?", _KINDS, scene), keys=(key,))
    made = day(lot.made_on) if lot.made_on else "when?"
    start = lot.made_on.isoformat() if lot.made_on else ""
    age = f"then {plan.age_days.value:.0f} d" if plan.age_days.value is not None else ""
    pane.add(words_row("made on", f"{key}.made_on", made, scene, start=start), note=[(age, "dim")])
    if lot.kind == "counted":
        counts = " ".join(map(str, lot.squares))
        pane.add(words_row("squares", f"{key}.squares", counts or "how many in each?", scene, start=counts))
    for asked in _asked_of(lot, plan, scene):
        note = span(asked.figure, scene) if asked.figure and not asked.note else (asked.note, "dim")
        pane.add(value(asked.label, f"{key}.{asked.key}", asked.amount, asked.unit, scene, asked.figure), note=[note])
    if plan.cells_b.value is not None:
        share = str(shown(plan.viability.value, "%", scene)) if plan.viability.value is not None else ""
        live = figure("live", plan.cells_b, scene, id=f"{key}.live")
        pane.add(live, note=[span(plan.cells_b, scene), (f" {share}", "dim")], keys=(f"{key}.live",))
    # what `x` removes and `<` `>` move
    pane.rows[first:] = [row._replace(table=("yeast", index)) for row in pane.rows[first:]]


def _asked_of(lot: Lot, plan: LotPlan, scene: Scene) -> list[_Asked]:
    """What a lot of this kind is asked for, behind its kind and day."""
    packs = _Asked("count", "count", float(lot.packs), "1")
    volume = _Asked("volume", "volume", lot.volume_l, "L")
    viable = _Asked("viable", "viability", plan.viability_made, "1", "when made")
    store = _Asked("kept at", "stored_at", lot.stored_at_c, "°C")
    past = [
        _Asked("grown on", "generation", float(lot.generation), "1", "times"),
        _Asked("kept", "cycle", float(lot.cycle), "1", "in a row"),
    ]
    match lot.kind:
        case "pack":
            each_b, note = (lot.cells_b, "each, new") if lot.cells_b is not None else (DEFAULT_PACK_B, "usual")
            return [packs, _Asked("cells", "cells", each_b, "B", note), viable, store]
        case "dry":
            return [packs, _Asked("mass", "mass", lot.mass_g, "g", "each"), viable, store]
        case "slurry":
            return [volume, _Asked("density", "density", lot.density_b_per_ml, "B/mL"), viable, store, *past]
        case "kept":
            return [*_typed_cells(lot), volume._replace(note="of liquid"), viable, store, *past]
        case "counted":
            if plan.raw_count is not None and plan.raw_count.viability.value is not None and lot.viability is None:
                viable = viable._replace(note="", figure=plan.raw_count.viability)
            return [*_counted(lot, plan.raw_count, scene), viable, store]
    return []


def _typed_cells(lot: Lot) -> list[_Asked]:
    """Cells in all, and the brewer's own limits of them."""
    return [
        _Asked("cells", "cells", lot.cells_b, "B", "in all"),
        _Asked("at least", "cells_low", lot.cells_low_b, "B"),
        _Asked("at most", "cells_high", lot.cells_high_b, "B"),
    ]


def _counted(lot: Lot, count: CountPlan | None, scene: Scene) -> list[_Asked]:
    """A jar under the microscope: its raw count and the cells that it comes to, or those typed outright."""
    cells, *limits = _typed_cells(lot)
    if lot.cells_b is None:
        worked_out = None if count is None or count.cells_b.value is None else count.cells_b
        amount, note = (worked_out.value, "") if worked_out else (None, "in all")
        cells = cells._replace(amount=amount, note=note, figure=worked_out)
        limits = [limit for limit in limits if limit.amount is not None]
    elif count is None and lot.stained is None:
        return [cells, *limits]
    return [*_raw_count(lot, count, scene), cells, *limits]


def _raw_count(lot: Lot, count: CountPlan | None, scene: Scene) -> list[_Asked]:
    stained = None if lot.stained is None else float(lot.stained)
    dead = "dead" if count is None else f"dead of {count.found}"
    dense = "sampled" if count is None else f"at {shown(count.density.value, 'B/mL', scene)}"
    return [
        _Asked("each", "square", lot.square_ul, "µL", "one square"),
        _Asked("diluted", "dilution", lot.dilution, "1", "times"),
        _Asked("stained", "stained", stained, "1", dead),
        _Asked("jar", "volume", lot.volume_l, "L", dense, None if count is None else count.density),
    ]
