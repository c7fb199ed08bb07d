"""Feedings of the planner as edits of the file: the brewer's own that stand are left as they are, letter for letter."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.session.edits import AddTable, RemoveTable
from workbench.units.kinds import DURATION, GRAVITY, VOLUME
from workbench.units.show import write

if TYPE_CHECKING:
    from collections.abc import Sequence

    from workbench.session.edits import Edit
    from workbench.session.literal import TomlValue
    from workbench.session.model import Step

__all__ = ["steps_edits"]


def steps_edits(in_file: int, steps: Sequence[Step], keep: Sequence[int] = ()) -> tuple[Edit, ...]:
    """The edits that make `steps` the feedings of a file that has `in_file` of them; those at places `keep` stand."""
    gone = [RemoveTable("step", index) for index in reversed(range(in_file)) if index not in keep]
    new = [AddTable("step", index, _values(step)) for index, step in enumerate(steps) if index not in keep]
    return (*gone, *new)


def _values(step: Step) -> dict[str, TomlValue]:
    """What a feeding says, as a person would write it."""
    said: dict[str, TomlValue] = {} if step.wort_l is None else {"wort": _short(step.wort_l)}
    if step.gravity_w is not None:
        said["gravity"] = f"{float(write(step.gravity_w, GRAVITY)):.4f}"
    if step.top_up_l:
        said["top_up"] = _short(step.top_up_l)
    if step.decant:
        said["decant"] = True
    if step.hours_s is not None:
        said["hours"] = write(step.hours_s, DURATION, "h")
    return said


def _short(volume_l: float) -> str:
    return write(round(volume_l, 4), VOLUME)
