"""Pane 1, Yeast: what the beer needs, the lots on hand, how many live cells they hold, and the verdict."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.panes.figures import choice, figure, plato, shown, span, value, words_row
from workbench.panes.rows import Row, Rows
from workbench.plan.lots import DEFAULT_PACK_B
from workbench.units.when import day, moment, until

if TYPE_CHECKING:
    from workbench.panes.rows import Scene
    from workbench.plan.model import LotPlan
    from workbench.session.model import Lot

__all__ = ["rows"]

_KINDS = ("pack", "dry", "slurry", "kept", "counted")


def rows(scene: Scene, cells: int) -> list[Row]:
    """All rows of the pane, for a width."""
    pane = Rows(scene, cells)
    _pitching(pane)
    _beer(pane)
    pane.blank()
    for index, lot in enumerate(scene.plan.session.yeast):
        _lot(pane, index, lot, scene.plan.hand.lots[index] if index < len(scene.plan.hand.lots) else None)
    if not scene.plan.session.yeast:
        pane.say("No yeast on hand yet: press + to add a lot.", "accent")
    pane.blank()
    _verdict(pane)
    return pane.rows


def _pitching(pane: Rows) -> None:
    scene, at = pane.scene, pane.scene.plan.session.batch.pitch_at
    if at is None:
        pane.add(words_row("pitching", "batch.pitch_at", "when?", scene, start=""))
        return
    local = at.astimezone(scene.tz)
    hour = moment(at, scene.plan.now, scene.tz)
    row = words_row("pitching", "batch.pitch_at", hour, scene, start=f"{local:%Y-%m-%d %H:%M}")
    # a date leaves no room for how long it is until then
    note = [(until(at, scene.plan.now), "dim")] if len(hour) <= len("Sat 15:00") else []
    pane.add(row, note=note, column=12)


def _beer(pane: Rows) -> None:
    scene, need, beer = pane.scene, pane.scene.plan.need, pane.scene.plan.session.beer
    if need.shelf:
        pane.add(
            figure("to keep", need.cells_b, scene, id="need"), note=[("for the shelf", "dim")], keys=("keep.cells",)
        )
        pane.add(value("beer", "beer.volume", None, "L", scene), note=[("none so far", "dim")])
        return
    volume_l, gravity_w = (beer.volume_l, beer.gravity_w) if beer else (None, None)
    pane.add(value("beer", "beer.volume", volume_l, "L", scene))
    pane.add(value("gravity", "beer.gravity", gravity_w, "w", scene), note=[(plato(gravity_w, scene), "dim")])
    kind = beer.type if beer else "ale"
    pane.add(choice("type", "beer.type", kind, ("ale", "lager"), scene))
    rate = need.rate
    usual = "" if rate.value is None or scene.plan.session.is_given("beer.pitch_rate") else "usual"
    pane.add(value("rate", "beer.pitch_rate", rate.value, "M/mL/°P", scene, rate), note=[(usual, "dim")])
    pane.add(figure("need", need.cells_b, scene, id="need"), note=[("live cells", "dim")], keys=("need",))


def _lot(pane: Rows, index: int, lot: Lot, plan: LotPlan | None) -> None:
    """One lot: its kind, the day it was made, what is asked of that kind, and the live cells in it."""
    scene, table, first = pane.scene, ("yeast", index), len(pane.rows)
    key = f"yeast.{index}"
    pane.add(choice(f"lot {index + 1}", f"{key}.kind", lot.kind or "kind?", _KINDS, scene), keys=(key,))
    made = day(lot.made_on) if lot.made_on else "when?"
    start = lot.made_on.isoformat() if lot.made_on else ""
    age = f"then {plan.age_days.value:.0f} d" if plan and plan.age_days.value is not None else ""
    pane.add(words_row("made on", f"{key}.made_on", made, scene, start=start), note=[(age, "dim")])
    for label, name, amount, unit, note in _asked_of(lot):
        pane.add(value(label, f"{key}.{name}", amount, unit, scene), note=[(note, "dim")])
    if plan is not None and plan.cells_b.value is not None:
        share = str(shown(plan.viability.value, "%", scene)) if plan.viability.value is not None else ""
        live = figure("live", plan.cells_b, scene, id=f"{key}.live")
        pane.add(live, note=[span(plan.cells_b, scene), (f" {share}", "dim")], keys=(f"{key}.live",))
    _belong(pane.rows, first, table)


def _asked_of(lot: Lot) -> list[tuple[str, str, float | None, str, str]]:
    """Label, name, amount, unit and note of what a lot of this kind is asked for."""
    count = ("count", "count", float(lot.packs), "1", "")
    viable = ("viable", "viability", lot.viability, "1", "when made")
    store = ("kept at", "stored_at", lot.stored_at_c, "°C", "")
    past = [
        ("grown on", "generation", float(lot.generation), "1", "times"),
        ("kept", "cycle", float(lot.cycle), "1", "in a row"),
    ]
    match lot.kind:
        case "pack":
            each_b, note = (lot.cells_b, "each, new") if lot.cells_b is not None else (DEFAULT_PACK_B, "usual")
            return [count, ("cells", "cells", each_b, "B", note), viable, store]
        case "dry":
            return [count, ("mass", "mass", lot.mass_g, "g", "each"), viable, store]
        case "slurry":
            dense = ("density", "density", lot.density_b_per_ml, "B/mL", "")
            return [("volume", "volume", lot.volume_l, "L", ""), dense, viable, store, *past]
        case "kept" | "counted":
            liquid = [("volume", "volume", lot.volume_l, "L", "of liquid")] if lot.kind == "kept" else []
            low, high = (
                ("at least", "cells_low", lot.cells_low_b, "B", ""),
                ("at most", "cells_high", lot.cells_high_b, "B", ""),
            )
            return [
                ("cells", "cells", lot.cells_b, "B", "in all"),
                low,
                high,
                *liquid,
                viable,
                store,
                *(past if liquid else []),
            ]
    return []


def _belong(rows: list[Row], first: int, table: tuple[str, int]) -> None:
    """Rows from `first` on are of one lot: what `x` removes and `<` `>` move."""
    rows[first:] = [row._replace(table=table) for row in rows[first:]]


def _verdict(pane: Rows) -> None:
    scene, plan = pane.scene, pane.scene.plan
    if plan.session.yeast:
        pane.add(
            figure("on hand", plan.hand.cells_b, scene, id="hand"),
            note=[span(plan.hand.cells_b, scene)],
            keys=("hand", "yeast"),
        )
    word, role = {True: ("wanted", "accent"), False: ("not needed", "fine"), None: ("can't say yet", "dim")}[
        plan.starter_needed
    ]
    mark = scene.glyphs.fine if plan.starter_needed is False else " "
    verdict = Row("starter", ((f"{mark} {word}", role),), id="starter", figure=plan.starter)
    pane.add(verdict, keys=("starter",))
    if plan.starter_needed is None and _missing(scene):
        pane.say(f"needs {_missing(scene)}")


def _missing(scene: Scene) -> str:
    """What is still to be typed before there can be a verdict."""
    session = scene.plan.session
    beer = session.beer
    wanted = [
        ("the pitching time", session.batch.pitch_at is None),
        ("the beer's volume", not scene.plan.need.shelf and (beer is None or beer.volume_l is None)),
        ("its gravity", not scene.plan.need.shelf and (beer is None or beer.gravity_w is None)),
        ("yeast", not session.yeast),
        ("the lots' days and cells", bool(session.yeast) and scene.plan.hand.cells_b.value is None),
    ]
    return ", ".join(name for name, missing in wanted if missing)
