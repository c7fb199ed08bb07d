"""What a pane says where there is nothing to show yet: in one calm line, what to press."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from workbench.panes.rows import Scene

__all__ = ["leads"]


def leads(scene: Scene) -> str:
    """What to press where there is no feeding: towards a plan, or to one of the brewer's own."""
    adds = f"{scene.key('pane-3')}, then {scene.key('add')} adds"
    if any(warning.code.startswith("needs-") for warning in scene.plan.warnings):
        return f"{scene.key('pane-1')}, then {scene.key('edit')}, leads to a plan."
    if scene.plan.starter_needed is False:
        return f"No starter is needed; {adds} a feeding all the same."
    return f"{adds} a feeding, {scene.key('plan')} shows what can be done."
