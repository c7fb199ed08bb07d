"""Another way to go on from a session: the session as it would then be, and the edits that make it so."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from workbench.session.edits import Edit
    from workbench.session.model import Session

__all__ = ["Option"]


class Option(NamedTuple):
    """`code` names it, `says` tells it in a few words ("one pack more"); `edits` put it into the file as it stands."""

    code: str
    says: str
    session: Session
    edits: tuple[Edit, ...]
