"""What is held back for another batch, out of the stirred-up flask, before rest and decant."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.plan import given, settle, words
from workbench.plan.model import Reason
from workbench.plan.sources import ASKED, MASS_BALANCE

if TYPE_CHECKING:
    from workbench.plan.made import Content
    from workbench.session.model import Session

__all__ = ["kept_b", "kept_share", "reason"]


def kept_b(session: Session, out_b: float, content: Content | None) -> float | None:
    """Cells held back of `out_b`; None where a volume is asked for and the flask's content is not known."""
    keep = session.keep
    if keep is None:
        return 0.0
    if keep.volume_l is not None:
        return None if content is None else out_b * content.share(keep.volume_l)
    return min(keep.cells_b or 0.0, out_b)


def kept_share(session: Session, out_b: float | None, content: Content | None) -> float | None:
    """Share of the flask's content held back; None where it cannot be told. Nothing is, where all goes on the shelf."""
    keep = session.keep
    if keep is None or settle.is_shelf(session):
        return 0.0
    if keep.volume_l is not None:
        return None if content is None else content.share(keep.volume_l)
    if not keep.cells_b:
        return 0.0
    return min(keep.cells_b, out_b) / out_b if out_b else None


def reason(session: Session, out_b: float | None, kept: float | None, content: Content | None) -> Reason:
    """How much is kept, with the numbers in it."""
    keep = session.keep
    if keep is None:
        return given.reason(session, "keep.cells")
    if keep.volume_l is not None and content is not None and out_b is not None and kept is not None:
        of_all = f"{words.litres(keep.volume_l)} of {words.litres(content.volume_l)}, stirred up"
        says = f"{of_all}, with {words.cells(out_b)}: {words.cells(kept)}"
        return Reason(says, MASS_BALANCE, "up to all there is")
    if out_b is not None and kept is not None:
        says = f"{words.cells(kept)} of {words.cells(out_b)}, from the stirred-up flask"
        return Reason(says, ASKED, "up to all there is")
    return Reason("taken from the stirred-up flask, before rest and decant", ASKED)
