"""What is kept for the next batch, and what comes of it over the four batches after: rows at the end of pane 3."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.panes.figures import figure, shown, value
from workbench.panes.rows import Row

if TYPE_CHECKING:
    from workbench.panes.rows import Rows, Scene
    from workbench.panes.spans import Span
    from workbench.plan.model import Chain, Coming

__all__ = ["add"]


def add(pane: Rows) -> None:
    """The amount to keep; where something is kept how often, and the batches to come."""
    scene, plan = pane.scene, pane.scene.plan
    keep = plan.session.keep
    by_volume = keep is not None and keep.volume_l is not None
    amount = 0.0 if keep is None else (keep.volume_l if by_volume else keep.cells_b) or 0.0
    key, unit = ("keep.volume", "L") if by_volume else ("keep.cells", "B")
    pane.add(value("keep", key, amount, unit, scene, plan.final.kept_b), keys=("keep", "final.kept"))
    if keep is not None and amount:
        pane.add(value("every", "keep.every", keep.every_s, "s", scene), note=[("apart", "dim")])
    if plan.chain is not None:
        _chain(pane, plan.chain)


def _chain(pane: Rows, chain: Chain) -> None:
    """A line a batch, in billions: what of the jar is alive, what it grows to, what is pitched of that."""
    scene = pane.scene
    what = "kept" if scene.plan.need.shelf else "pitch"
    pane.rows.append(Row("coming, B", (_columns(scene, "in", "out", what),)))
    for batch in chain.batches:
        pane.rows.append(_batch(scene, batch))
    level = figure("level at", chain.level_g, scene, id="chain.level")
    litres = "" if chain.level_l.value is None else f"{shown(chain.level_l.value, 'L', scene)}"
    pane.add(level, note=[(litres, "dim")])
    if chain.level_g.value is None:
        pane.say(chain.level_g.why.says)


def _batch(scene: Scene, batch: Coming) -> Row:
    verdict: dict[bool | None, Span] = {
        True: (scene.glyphs.fine, "fine"),
        False: (scene.glyphs.caution, "warning"),
        None: ("", "dim"),
    }
    used = batch.kept_b if scene.plan.need.shelf else batch.pitched_b
    numbers = (shown(held.value, "B", scene).number for held in (batch.start_b, batch.grown_b, used))
    spans = ((_columns(scene, *numbers)[0], "text"), verdict[batch.holds])
    return Row(f"batch +{batch.number}", spans, id=f"chain.{batch.number}", figure=used)


def _columns(scene: Scene, start: str, grown: str, used: str) -> Span:
    return f" {start:>4} {scene.glyphs.arrow}{grown:>4} {used:>5} ", "dim"
