"""The boil stopwatch: rebuilt from the stamps of the session each time, never from a number that ticks.

It counts only time at a boil. Stamps are taken in the order in which they stand in the file.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from workbench.units.mark import marked, passed

if TYPE_CHECKING:
    from collections.abc import Iterator

    from workbench.session.model import Event, Session
    from workbench.units.mark import Mark

__all__ = ["UNSURE", "Boil", "Lost", "boil_of", "boiled_s", "held_s", "mark_of"]

UNSURE = "unsure"
"""The task of a hold of which nobody knows when it began: somewhere since the last stamp."""


class Lost(NamedTuple):
    """Wort that was lost, with the seconds it had boiled by then, in all boils."""

    volume_l: float
    after_s: float


class Boil(NamedTuple):
    """One feeding's boil as far as it is stamped. `since`: it boils since then, `held_since`: it is held since then.

    `boiled_s` and `held_s` are of the stretches before. `earlier_s`: of boils that were ended before this one.
    `unsure_s`: at most so much of a stretch that is not counted was at a boil too. `stepped_s`: by so much the wall
    clock was set meanwhile.
    """

    step: int
    planned_s: float
    begun: Mark
    boiled_s: float = 0.0
    since: Mark | None = None
    held_since: Mark | None = None
    held_s: float = 0.0
    holds: int = 0
    done: Mark | None = None
    earlier_s: float = 0.0
    unsure_s: float = 0.0
    stepped_s: float = 0.0
    lost: tuple[Lost, ...] = ()

    @property
    def all_s(self) -> float:
        """Everything that was at a boil by the last stamp, where unsure as near the planned length as may be."""
        return self.earlier_s + min(max(self.planned_s, self.boiled_s), self.boiled_s + self.unsure_s)


def mark_of(event: Event) -> Mark | None:
    """When an event was, by both clocks; None without a stamp."""
    return None if event.at is None else marked(event.at, event.mark)


def boil_of(session: Session, step: int, planned_s: float) -> Boil | None:
    """The boil of feeding `step` (from 1) that is to last `planned_s`; None where it has not begun."""
    boil: Boil | None = None
    for event, mark in _stamps(session, step):
        if event.what == "boil-on" and boil is None:
            boil = Boil(step, planned_s, mark, since=mark)
        elif boil is not None:
            boil = _after(boil, event, mark)
    return boil


def _stamps(session: Session, step: int) -> Iterator[tuple[Event, Mark]]:
    for event in session.event:
        mark = mark_of(event)
        if event.step == step and mark is not None:
            yield event, mark


def _after(boil: Boil, event: Event, mark: Mark) -> Boil:
    """The boil after one more stamp; one that says nothing new changes nothing."""
    does = _STAMPED.get(event.what)
    return boil if does is None else does(boil, event, mark)


def _on(boil: Boil, _event: Event, mark: Mark) -> Boil:
    """At a boil again: after a hold the same one, after its end another."""
    if boil.since is not None:
        return boil
    if boil.done is not None:
        return Boil(boil.step, boil.planned_s, mark, since=mark, earlier_s=boil.all_s, lost=boil.lost)
    return boil._replace(since=mark, held_since=None, held_s=held_s(boil, mark))


def _hold(boil: Boil, event: Event, mark: Mark) -> Boil:
    if boil.since is None:
        return boil
    held = boil._replace(since=None, held_since=mark, holds=boil.holds + 1)
    if event.task == UNSURE:
        return held._replace(unsure_s=boil.unsure_s + max(0.0, passed(boil.since, mark).seconds))
    counted = _counted(boil, mark)
    return held._replace(boiled_s=counted.boiled_s, stepped_s=counted.stepped_s)


def _done(boil: Boil, _event: Event, mark: Mark) -> Boil:
    if boil.done is not None:
        return boil
    over = _counted(boil, mark)
    return over._replace(since=None, held_since=None, held_s=held_s(over, mark), done=mark)


def _length(boil: Boil, event: Event, _mark: Mark) -> Boil:
    return boil if event.length_s is None else boil._replace(planned_s=event.length_s)


def _lost(boil: Boil, event: Event, mark: Mark) -> Boil:
    if not event.volume_l:
        return boil
    return boil._replace(lost=(*boil.lost, Lost(event.volume_l, boil.earlier_s + boiled_s(boil, mark))))


_STAMPED = {
    "boil-on": _on,
    "boil-hold": _hold,
    "boil-done": _done,
    "boil-length": _length,
    "lost": _lost,
    "cool-on": _done,  # in its bath, or with its yeast, wort boils no more, whether that was stamped or not
    "yeast-in": _done,
}


def _counted(boil: Boil, mark: Mark) -> Boil:
    """With the stretch up to `mark` counted, if it boiled."""
    if boil.since is None:
        return boil
    gone = passed(boil.since, mark)
    return boil._replace(
        boiled_s=boil.boiled_s + max(0.0, gone.seconds), stepped_s=boil.stepped_s or gone.stepped_s, since=mark
    )


def boiled_s(boil: Boil, now: Mark) -> float:
    """Seconds at a boil by `now`."""
    return boil.boiled_s + (0.0 if boil.since is None else max(0.0, passed(boil.since, now).seconds))


def held_s(boil: Boil, now: Mark) -> float:
    """Seconds that it was held, all holds together, by `now`."""
    return boil.held_s + (0.0 if boil.held_since is None else max(0.0, passed(boil.held_since, now).seconds))
