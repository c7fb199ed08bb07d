"""Feedings that are proposed unasked: where the file has none and the lots fall short."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from workbench.plan import supply

if TYPE_CHECKING:
    from collections.abc import Iterator

    from workbench.session.model import Session, Step

__all__ = ["Unasked", "pieces", "proposed"]


class Unasked(NamedTuple):
    """The planner's feedings, None where none are wanted; `why_none`: what binds and what would help, if none fit."""

    steps: tuple[Step, ...] | None = None
    why_none: str | None = None


def proposed(session: Session) -> Unasked:
    """What the planner says of a session."""
    if not supply.starter_wanted(session):
        return Unasked()
    from workbench.plan import planner  # not for a file that has its feedings

    steps = planner.propose(_bare(session))
    if steps is not None:
        return Unasked(steps)
    from workbench.plan.relax import diagnosis

    return Unasked(why_none=diagnosis(_bare(session)))


def pieces(session: Session) -> Iterator[None]:
    """The same work a piece at a time; all that was found is known from then on."""
    if not supply.starter_wanted(session):
        return
    from workbench.plan import planner

    if planner.propose(_bare(session)) is None:
        yield
        from workbench.plan.relax import attempts

        for _ in attempts(_bare(session)):
            yield
        proposed(session)


def _bare(session: Session) -> Session:
    """Without what makes no difference."""
    return session._replace(batch=session.batch._replace(name="", note=""))
