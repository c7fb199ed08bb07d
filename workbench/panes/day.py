"""Pane 6, Day: what is to be done when, the next thing first in line."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.panes.figures import value, words_row
from workbench.panes.rows import Row, Rows
from workbench.units.when import moment, until

if TYPE_CHECKING:
    from workbench.panes.rows import Scene
    from workbench.plan.model import Moment

__all__ = ["rows"]


def rows(scene: Scene, cells: int) -> list[Row]:
    """All rows of the pane, for a width."""
    pane = Rows(scene, cells)
    plan = scene.plan
    coming = [m for m in plan.moments if m.at >= plan.now]
    for item in coming[:1]:
        _next(pane, item)
    for item in coming[1:]:
        _moment(pane, item, "text")
    if not plan.moments:
        pane.say("No hours yet: they follow from the pitching time in pane 1.")
    for item in (m for m in plan.moments if m.at < plan.now):
        _moment(pane, item, "dim", "gone")
    pane.blank()
    batch = plan.session.batch
    pane.add(words_row("batch", "batch.name", batch.name or "no name", scene, start=batch.name))
    pane.add(words_row("note", "batch.note", batch.note or scene.glyphs.dash, scene, start=batch.note))
    _habits(pane)
    return pane.rows


def _habits(pane: Rows) -> None:
    """How long preparing takes, when the brewer is up, and how sure the need is to be met."""
    scene, session = pane.scene, pane.scene.plan.session
    pane.add(value("prepare", "day.prepare", session.day.prepare_s, "s", scene), note=[("until yeast in", "dim")])
    pane.add(words_row("awake", "day.awake", "-".join(f"{hour:%H:%M}" for hour in session.day.awake), scene))
    pane.add(value("aim", "batch.chance", session.batch.chance, "1", scene), note=[("chance wanted", "dim")])


def _next(pane: Rows, item: Moment) -> None:
    """The next thing on two lines of its own."""
    scene, now = pane.scene, pane.scene.plan.now
    hour = (f"{moment(item.at, now, scene.tz)}, {until(item.at, now)}", "text")
    pane.rows.append(Row("NEXT", (hour,), label_cells=5, id=_id(item)))
    pane.rows.append(Row("", ((item.what, "key"),), label_cells=5))
    pane.blank()


def _moment(pane: Rows, item: Moment, role: str, label: str = "") -> None:
    scene = pane.scene
    hour = f"{moment(item.at, scene.plan.now, scene.tz):<12}"
    pane.rows.append(Row(label, ((f"{hour} {item.what}", role),), id=_id(item), label_cells=5))


def _id(item: Moment) -> str:
    return f"moment.{item.step}.{item.what}"
