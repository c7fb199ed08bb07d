"""Pane 1, Yeast: what the beer needs, the lots on hand, how many live cells they hold, and the verdict."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.panes.figures import choice, figure, plato, span, value, words_row
from workbench.panes.lots import add_lot
from workbench.panes.rows import Row, Rows
from workbench.panes.spans import width
from workbench.plan import happened
from workbench.units.when import moment, until

if TYPE_CHECKING:
    from workbench.panes.rows import Scene

__all__ = ["rows"]


def rows(scene: Scene, cells: int) -> list[Row]:
    """All rows of the pane, for a width."""
    pane = Rows(scene, cells)
    _pitching(pane)
    _beer(pane)
    pane.blank()
    for index in range(len(scene.plan.session.yeast)):
        pane.blank()
        add_lot(pane, index)
    if not scene.plan.session.yeast:
        none = Row("yeast", ((f"    {scene.glyphs.dash}", "text"),), id="yeast", figure=scene.plan.hand.cells_b)
        pane.add(none, note=[(f"{scene.key('edit')} add a pack", "accent")], column=8)
        pane.say(f"{scene.key('add')} adds a lot of any kind.")
    pane.blank()
    _verdict(pane)
    return pane.rows


def _pitching(pane: Rows) -> None:
    scene, at = pane.scene, pane.scene.plan.session.batch.pitch_at
    if at is None:
        pane.add(words_row(_goal(scene), "batch.pitch_at", "when?", scene, start=""))
        return
    local = at.astimezone(scene.tz)
    hour = moment(at, scene.plan.now, scene.tz)
    row = words_row(_goal(scene), "batch.pitch_at", hour, scene, start=f"{local:%Y-%m-%d %H:%M}")
    done = happened.pitched(scene.plan.session)
    left = until(at, scene.plan.now) if done is None else f"done {moment(done, scene.plan.now, scene.tz)}"
    room = pane.cells - 1 - row.label_cells - max(12, width(row.spans) + 1)
    pane.add(row, note=[(left, "dim")] if len(left) <= room else [], column=12)  # the top line has it, too


def _goal(scene: Scene) -> str:
    """What is to be at the hour all is reckoned back from."""
    return "fridge" if scene.plan.need.shelf else "pitching"


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
    if plan.wants_more_yeast:
        word, role = "none; more yeast", "accent"
    mark = scene.glyphs.fine if role == "fine" else " "
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
