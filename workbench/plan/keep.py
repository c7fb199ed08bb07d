"""What is held back for another batch, out of the stirred-up flask, before rest and decant."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from workbench.plan import given, settle, words
from workbench.plan.model import Figure, Reason
from workbench.plan.sources import ASKED, MASS_BALANCE, MISSING

if TYPE_CHECKING:
    from workbench.plan.made import Content
    from workbench.plan.model import Final
    from workbench.session.model import Session

__all__ = ["Jar", "jar", "kept", "kept_b", "kept_l", "kept_share"]


class Jar(NamedTuple):
    """What stands in the fridge for another batch: cells with their range, and the liquid they are in."""

    cells_b: Figure
    volume_l: float | None


def jar(session: Session, final: Final) -> Jar:
    """What another batch can be grown from: what is kept; all of it, where all goes on the shelf."""
    if not settle.is_shelf(session):
        return Jar(final.kept_b, final.kept_l.value)
    volume_l = final.poured_l.value
    if volume_l is not None and final.pitch == "decanted":
        volume_l = min(volume_l, settle.left_after_decant_l(session))
    return Jar(final.pitched_b, volume_l)


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


def kept(session: Session, out: Figure, cells_b: float | None, content: Content | None) -> Figure:
    """Cells kept, with the range of what they are a share of: what is poured off is so much of the flask's content."""
    why = _reason(session, out.value, cells_b, content)
    if not cells_b or not out.value:  # nothing has no range
        return Figure(cells_b, "B", why)
    low, high = (None if b is None else cells_b * (b / out.value) for b in (out.low, out.high))
    return Figure(cells_b, "B", why, low, high, out.shares if low is not None else ())


def kept_l(content: Content | None, share: float | None) -> Figure:
    """The liquid that what is kept stands in."""
    if content is None or share is None:
        return Figure(None, "L", Reason("needs the wort's volume and what is kept", MISSING))
    volume_l = share * content.volume_l
    says = (
        f"{100 * share:.0f} % of {words.litres(content.volume_l)} in the flask, stirred up = {words.litres(volume_l)}"
    )
    return Figure(volume_l, "L", Reason(says, MASS_BALANCE, "at 20 °C"))


def _reason(session: Session, out_b: float | None, kept: float | None, content: Content | None) -> Reason:
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
