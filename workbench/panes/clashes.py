"""What was changed here and elsewhere, in the pane of the day: both values, and Enter takes one."""

from __future__ import annotations

from datetime import date, datetime
from typing import TYPE_CHECKING

from workbench.panes.glyphs import plain
from workbench.panes.rows import LABEL, Row, Rows
from workbench.panes.spans import clean, wrap
from workbench.session.merge import ABSENT
from workbench.units.when import moment

if TYPE_CHECKING:
    from workbench.panes.rows import Scene
    from workbench.session.merge import Change

__all__ = ["MINE", "THEIRS", "named", "rows"]

MINE, THEIRS = "decide-mine ", "decide-theirs "
"""What Enter does on a row, before the key."""


def rows(scene: Scene, cells: int) -> list[Row]:
    """All rows of the pane, for a width."""
    pane = Rows(scene, cells)
    pane.say(f"Changed here and elsewhere: {scene.key('edit')} takes a value. Until then the file's stands.", "accent")
    for clash in scene.clashes:
        pane.blank()
        _clash(pane, clash)
    return pane.rows


def _clash(pane: Rows, clash: Change) -> None:
    pane.say(named(clash.key), "text")
    for label, takes, value in (("in file", THEIRS, clash.theirs), ("yours", MINE, clash.mine)):
        text, does = plain(clean(_shown(pane.scene, value)), pane.scene.glyphs), f"{takes}{clash.key}"
        first, *more = [((" ", "text"), (line, "typed")) for line in wrap(text, pane.cells - LABEL - 4) or [""]]
        pane.add(Row(label, first, id=does, does=does))
        pane.rows += [Row(spans=spans) for spans in more]


def named(key: str) -> str:
    """`step.1.wort` as `step 2: wort`, as the file counts them."""
    table, *rest = key.split(".")
    number = [str(int(part) + 1) for part in rest[:1] if part.isdecimal()]
    inside = ".".join(rest[len(number) :])
    return " ".join([table, *number]) + (f": {inside}" if inside else "")


def _shown(scene: Scene, value: object) -> str:
    """A value of the file in words."""
    if value is ABSENT:
        return "left out"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, datetime) and value.tzinfo is not None:
        return moment(value, scene.plan.now, scene.tz)
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, dict):
        return ", ".join(f"{key} {_shown(scene, inner)}" for key, inner in value.items()) or "nothing in it"
    return str(value)
