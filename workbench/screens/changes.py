"""Changes made at the keyboard, as the store takes them: what is proposed goes into the file once it is meant."""

from __future__ import annotations

from datetime import UTC
from typing import TYPE_CHECKING, Any

from workbench.panes.clashes import named
from workbench.session.edits import AddTable, MoveTable, RemoveTable, SetValue, Several, Unset
from workbench.session.merge import changes
from workbench.units.plainly import harmless

if TYPE_CHECKING:
    from collections.abc import Mapping

    from workbench.screens.desk import Desk
    from workbench.session.edits import Edit
    from workbench.session.literal import TomlValue
    from workbench.units.mark import Mark

__all__ = ["adopted", "change", "event", "reading", "told"]

_STAMPS = frozenset({"event", "reading"})  # the tables of what has happened


def change(desk: Desk, edit: Edit) -> bool:
    """Apply an edit and recompute everything; refused, it says why and changes nothing."""
    if not desk.applied(adopted(desk, edit)):
        return False
    desk.typed_terms.clear()
    desk.recompute()
    return True


def adopted(desk: Desk, edit: Edit) -> Edit:
    """The edit, with the feedings that are proposed put into the file before it where it concerns one of them."""
    if desk.plan.planned_by != "planner" or not _concerns_feedings(edit):
        return edit
    from workbench.plan.adopt import steps_edits

    return Several((*steps_edits(0, desk.plan.session.step), edit))


def _concerns_feedings(edit: Edit) -> bool:
    if isinstance(edit, Several):
        return any(map(_concerns_feedings, edit.edits))
    if isinstance(edit, SetValue | Unset):
        return edit.key.startswith("step.")
    if isinstance(edit, AddTable) and edit.table == "event":
        return edit.values.get("step") != 0
    return isinstance(edit, AddTable | RemoveTable | MoveTable) and edit.table in {"step", "reading", "event"}


def told(before: Mapping[str, Any], after: Mapping[str, Any]) -> str:
    """What is new in `after`, in a few words: at most two things."""
    made = changes(dict(before), dict(after), dict(before))
    words = list(dict.fromkeys(_in_words(edit, before) for change in made for edit in change.edits))
    more = f" and {len(words) - 2} more" if len(words) > 2 else ""
    return ", ".join(words[:2]) + more or "the last change"


def _in_words(edit: Edit, before: Mapping[str, Any]) -> str:
    """A stamp by what it says, all else by its place in the file."""
    if isinstance(edit, AddTable) and edit.table in _STAMPS:
        return _stamp_in_words(edit.values)
    if isinstance(edit, RemoveTable) and edit.table in _STAMPS:
        return f"{_stamp_in_words(before[edit.table][edit.at])} taken out"
    if isinstance(edit, AddTable | RemoveTable | MoveTable):
        return named(f"{edit.table}.{edit.at}")
    return (
        harmless(named(edit.key).replace(": ", " ").replace("_", " "))
        if isinstance(edit, SetValue | Unset)
        else "several things"
    )


def _stamp_in_words(stamp: Mapping[str, Any]) -> str:
    said = (stamp.get(part) for part in ("what", "kind", "task"))
    return harmless(" ".join(str(word) for word in said if word).replace("-", " ").replace("_", " "))


def event(desk: Desk, what: str, step: int, at: Mark | None = None, **more: TomlValue) -> AddTable:
    """The edit that stamps what happened in a feeding (0: in none), now or at another instant."""
    return _stamped(desk, "event", at, {"step": step, "what": what, **more})


def reading(desk: Desk, kind: str, step: int, value: TomlValue, at: Mark | None = None, **more: TomlValue) -> AddTable:
    """The edit that notes what was measured."""
    return _stamped(desk, "reading", at, {"step": step, "kind": kind, "value": value, **more})


def _stamped(desk: Desk, table: str, at: Mark | None, values: dict[str, TomlValue]) -> AddTable:
    mark = at or desk.clock()
    session = desk.plan.session
    count = len(session.event if table == "event" else session.reading)
    when: dict[str, TomlValue] = {"at": mark.at.astimezone(UTC).replace(microsecond=0)}
    other: dict[str, TomlValue] = {"mark": mark.text} if mark.text else {}
    return AddTable(table, count, {**when, **values, **other})
