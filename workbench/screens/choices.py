"""What the list of actions holds: the keys of one pane, all that there is, or what one of them can be told."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.screens.finder import Choice
from workbench.screens.keys import PANES, by_id

if TYPE_CHECKING:
    from collections.abc import Iterable

    from workbench.screens.keys import Action

__all__ = ["FORMS", "all_of", "of_export", "of_home", "of_pane", "of_themes"]

FORMS = {
    "text": "the plan as a page of text",
    "markdown": "the plan as a page in Markdown",
    "json": "the plan as data, in full precision",
    "calendar": "the tasks still to come, with alarms (iCalendar)",
    "table": "planned and measured, a line for each feeding (CSV)",
}
"""What `export` can be told to make."""
_MOVING = {"next-pane", "last-pane", "up", "down", "page-up", "page-down", "first", "last", "back"}


def of_pane(actions: Iterable[Action], pane: int) -> tuple[Choice, ...]:
    """The keys of a pane: its own, those of all panes, how to move."""
    here = [action for action in actions if pane in action.panes]
    moving = [action for action in here if action.id in _MOVING or action.id.startswith("pane-")]
    own = [action for action in here if action.id == "edit" or _is_own(action, pane)]
    rest = [action for action in here if action not in own and action not in moving]
    return (*_under(f"in {PANES[pane]}", own), *_under("in every pane", rest), *_under("moving", moving))


def _is_own(action: Action, pane: int) -> bool:
    """Whether it is the pane's more than others': few panes have it, or few have it in their bottom line."""
    return len(action.panes) < len(PANES) or (pane in action.worded and len(action.worded) < len(PANES))


def all_of(actions: tuple[Action, ...], pane: int, themes: Iterable[str]) -> tuple[Choice, ...]:
    """Everything: what the pane has, what others have, and each thing that can be told of."""
    others = sorted((a for a in actions if pane not in a.panes), key=lambda action: sorted(action.panes))
    elsewhere = [
        Choice(a.key, a.called, a.help, a.id, group=f"in {', '.join(PANES[i] for i in sorted(a.panes))}")
        for a in others
    ]
    return (*of_pane(actions, pane), *elsewhere, *of_export(actions), *of_themes(themes))


def of_export(actions: Iterable[Action]) -> tuple[Choice, ...]:
    """The forms in which the plan can be written to a file."""
    key = by_id(actions, "export").key
    return tuple(Choice(key, f"export: {form}", says, "export", form, "files") for form, says in FORMS.items())


def of_themes(names: Iterable[str]) -> tuple[Choice, ...]:
    """The themes by name."""
    return tuple(Choice("", f"theme: {name}", "these colours", "theme", name, "colours") for name in names)


def of_home(actions: Iterable[Action]) -> tuple[Choice, ...]:
    """The keys of the home screen."""
    actions = tuple(actions)
    moving = [action for action in actions if action.id in _MOVING]
    return (*_under("batches", (a for a in actions if a not in moving)), *_under("moving", moving))


def _under(group: str, actions: Iterable[Action]) -> list[Choice]:
    return [Choice(action.key, action.called, action.help, action.id, group=group) for action in actions]
