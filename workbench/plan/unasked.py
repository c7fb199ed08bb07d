"""Feedings that are proposed unasked: where the file has none and the lots fall short."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.plan import supply

if TYPE_CHECKING:
    from collections.abc import Iterator

    from workbench.session.model import Session, Step

__all__ = ["pieces", "proposed", "why_none"]


def proposed(session: Session) -> tuple[Step, ...] | None:
    """The planner's feedings; None where none are wanted, or none meet the need."""
    if not supply.starter_wanted(session):
        return None
    from workbench.plan import planner  # not for a file that has its feedings

    return planner.propose(_bare(session))


def why_none(session: Session) -> str | None:
    """Where feedings are wanted and none meet the need: what binds, and what would help."""
    if not supply.starter_wanted(session) or proposed(session) is not None:
        return None
    from workbench.plan.relax import diagnosis

    return diagnosis(_bare(session))


def pieces(session: Session) -> Iterator[None]:
    """The work that both take, a piece at a time; all that was found is known to them from then on."""
    if proposed(session) is None and supply.starter_wanted(session):
        yield
        from workbench.plan.relax import attempts

        for _ in attempts(_bare(session)):
            yield
        why_none(session)


def _bare(session: Session) -> Session:
    """Without what makes no difference."""
    return session._replace(batch=session.batch._replace(name="", note=""))
