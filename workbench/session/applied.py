"""An edit made in the text of a file: read anew, held to what it was to do, and refused where it makes a fault."""

from __future__ import annotations

from copy import deepcopy
from typing import TYPE_CHECKING, NamedTuple

from workbench.errors import EditRefused
from workbench.session.edits import Several
from workbench.session.faults import FaultyFile
from workbench.session.load import BOM, parsed
from workbench.session.merge import changes, same
from workbench.session.read import read

if TYPE_CHECKING:
    from workbench.session.edits import Edit
    from workbench.session.load import Loaded
    from workbench.session.merge import Change
    from workbench.session.read import Outcome

__all__ = ["Joined", "edited", "joined", "with_text"]

_ODD_LAYOUT = "the file is laid out in a way that this cannot be changed here: change it in an editor"


class Joined(NamedTuple):
    """Two versions made one; `clashes` are what only the brewer can decide, theirs stands until then."""

    loaded: Loaded
    outcome: Outcome
    clashes: tuple[Change, ...]


def edited(loaded: Loaded, edit: Edit) -> tuple[Loaded, Outcome]:
    """The file after the edit, all else of it letter for letter. Raises EditRefused."""
    wanted = deepcopy(loaded.data)
    edit.in_data(wanted)
    try:
        after = with_text(loaded, edit.in_text(loaded.text))
    except FaultyFile:
        raise EditRefused(_ODD_LAYOUT) from None
    if not same(_without_empty(after.data), _without_empty(wanted)):
        raise EditRefused(_ODD_LAYOUT)
    return after, _sound(after)


def joined(base: Loaded, mine: Loaded, theirs: Loaded) -> Joined:
    """Theirs with what is new in mine since `base`. Raises EditRefused where both together make a fault."""
    found = changes(base.data, mine.data, theirs.data)
    edits = [edit for change in found if not change.clashes for edit in change.edits]
    loaded, outcome = edited(theirs, Several(tuple(edits))) if edits else (theirs, _sound(theirs))
    return Joined(loaded, outcome, tuple(change for change in found if change.clashes))


def with_text(loaded: Loaded, text: str) -> Loaded:
    """The same file with another text. Raises FaultyFile."""
    return parsed((BOM if loaded.raw.startswith(BOM) else b"") + text.encode(), "the file")


def _sound(loaded: Loaded) -> Outcome:
    outcome = read(loaded.data, loaded.text)
    if outcome.faults:
        raise EditRefused("; ".join(f"{fault.what}: {fault.right}" for fault in outcome.faults))
    if reason := loaded.read_only or outcome.read_only:
        raise EditRefused(reason)
    return outcome


def _without_empty(data: dict[str, object]) -> dict[str, object]:
    """Without the tables and arrays of tables that hold nothing: a file may say so or say nothing."""
    return {key: value for key, value in data.items() if value not in ([], {})}
