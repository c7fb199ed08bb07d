"""Pane 3 while planning: the ways to meet the need side by side, one key takes one; and what the planner may use."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.panes.figures import shown, span, value
from workbench.panes.rows import Row, Rows, sign
from workbench.panes.spans import wrap
from workbench.units.retold import retold
from workbench.units.when import lasting, moment

if TYPE_CHECKING:
    from workbench.panes.rows import Scene
    from workbench.panes.spans import Span
    from workbench.plan.ways import Way

__all__ = ["rows"]

_OF_WAITING = frozenset({"waits-warm", "short-growth", "wake-it", "wort-waits", "too-late", "yeast-not-there-yet"})


def rows(scene: Scene, cells: int) -> list[Row]:
    """All rows of the pane, for a width."""
    pane = Rows(scene, cells)
    need = shown(scene.plan.need.cells_b.value, "B", scene)
    title = "At another hour" if scene.moved else f"Ways to {need}"
    pane.say(f"{title}: {scene.key('edit')} takes one, {scene.key('plan')} goes back", "accent")
    if scene.ways:
        priced = any(way.cost.value is not None for way in scene.ways)
        says = _columns("time", "powder", "pitched", "chance", "cost" if priced else "")
        pane.rows.append(Row(spans=((says, "dim"),), label_cells=2))
    for index, way in enumerate(scene.ways):
        _way(pane, index, way)
    if not scene.ways:
        pane.say(_none(scene))
    pane.blank()
    _bounds(pane)
    return pane.rows


def _way(pane: Rows, index: int, way: Way) -> None:
    """What it is called and its feedings; below hours, powder, cells, chance and cost."""
    scene, final, glyphs = pane.scene, way.plan.final, pane.scene.glyphs
    fits = final.chance.value is not None and final.chance.value >= way.plan.session.batch.chance - 1e-9
    mark = (glyphs.fine, "fine") if fits else (glyphs.caution, "warning")
    spans: tuple[Span, ...] = (mark, (f" {retold(way.option.says, scene.system, comma=scene.comma)}", "text"))
    pane.rows.append(Row("", spans, label_cells=1, id=f"way.{way.option.code}", figure=final.pitched_b, way=index))
    pitched = shown(final.pitched_b.value, "B", scene)
    chance = "" if final.chance.value is None else shown(final.chance.value, "chance", scene).number
    cost = "" if way.cost.value is None else str(shown(way.cost.value, "money", scene))
    fed = way.hours is not None and way.plan.steps
    hours, powder = (f"{way.hours:.0f} h", str(shown(way.powder_g, "g", scene))) if fed else ("", "")
    figures = _columns(hours, powder, f"{pitched} {span(final.pitched_b, scene)[0]}", chance, cost)
    lines = wrap(_feedings(scene, way), pane.cells - 7)
    pane.rows += [Row(spans=((line, "dim"),), label_cells=4) for line in lines]
    pane.rows += [Row(spans=((figures, "dim"),), label_cells=2)]
    if scene.moved:
        told = [sign(w, glyphs) for w in way.plan.warnings if w.code in _OF_WAITING]
        for says, role in told:
            pane.rows += [Row(spans=((line, role),), label_cells=4) for line in wrap(says, pane.cells - 7)]


def _none(scene: Scene) -> str:
    plan = scene.plan
    if scene.moved:
        return "Nothing can be moved any more."
    if plan.need.cells_b.value is None or plan.hand.cells_b.value is None:
        return "None: the planner needs beer, yeast and the pitching hour."
    return "None with what stands and the time there is: free a feeding, take more yeast, or pitch later."


def _columns(hours: str, powder: str, pitched: str, chance: str, cost: str) -> str:
    return f"{hours:>5}{powder:>7}  {pitched:<15} {chance:>6}{cost:>6}".rstrip()


def _feedings(scene: Scene, way: Way) -> str:
    """`600 mL, pour off + 1.60 L from Fri 17:00`; when the beer waits for it, that."""
    parts: list[str] = []
    for step in way.plan.steps:
        wort = str(shown(step.wort_l.value, "L", scene))
        topped = f" (top up {shown(step.top_up_l.value, 'L', scene)})" if step.top_up_l.value else ""
        parts.append(("pour off, " if step.decant and step.number > 1 else "") + wort + topped)
    now, tz = scene.plan.now, scene.tz
    pitch_at, mine = way.plan.session.batch.pitch_at, scene.plan.session.batch.pitch_at
    start = f" from {moment(way.plan.hand.at, now, tz)}" if way.plan.steps and way.plan.hand.at else ""
    later = ""
    if pitch_at is not None and mine is not None and pitch_at != mine:
        way_off = "later" if pitch_at > mine else "earlier"
        later = f", pitch {moment(pitch_at, now, tz)} ({lasting(pitch_at - mine)} {way_off})"
    return (" + ".join(parts) or "no feeding") + start + later


def _bounds(pane: Rows) -> None:
    """What the planner may use: from the shortest of it follows what is best."""
    scene, session = pane.scene, pane.scene.plan.session
    supplies = session.supplies
    pane.add(value("aim", "batch.chance", session.batch.chance, "1", scene), note=[("chance wanted", "dim")])
    pane.add(value("flasks", "flask.count", float(session.flask.flasks), "1", scene))
    pane.add(value("flask", "flask.size", session.flask.size_l, "L", scene))
    pane.add(value("powder", "supplies.powder", supplies.powder_g, "g", scene), note=[("on hand", "dim")])
    pane.add(value("hours", "day.hours", session.day.hours_s, "s", scene), note=[("at most, to pitching", "dim")])
    prices = (
        ("powder at", "powder_price", supplies.powder_price, "a kg"),
        ("pack at", "pack_price", supplies.pack_price, "each"),
    )
    for label, key, price, note in prices:
        pane.add(value(label, f"supplies.{key}", price, "money", scene), note=[(f"{note}, your money", "dim")])
