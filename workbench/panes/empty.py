"""What a pane says where there is nothing to show yet: in one calm line, what to press."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from workbench.panes.rows import Scene

__all__ = ["leads"]


def leads(scene: Scene) -> str:
    """What to press where there is no feeding: towards a plan, or to one of the brewer's own."""
    if any(warning.code.startswith("needs-") for warning in scene.plan.warnings):
        return f"1, then {scene.glyphs.enter}, leads to a plan."
    if scene.plan.starter_needed is False:
        return "No starter is needed; 3, then + adds a feeding all the same."
    return "3, then + adds a feeding, p shows what can be done."
