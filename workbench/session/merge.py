"""Two versions of a file that come from the same one: what is new in mine, as edits of theirs.

Plain data only. Tables merge key by key, lots and feedings one by one, events and readings join: what either side
stamped is there once. A key changed by both in different ways is a clash, and nobody but the brewer decides it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

from workbench.session.edits import AddTable, MoveTable, RemoveTable, SetValue, Unset
from workbench.session.fields import TABLES
from workbench.session.locate import dotted

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from workbench.session.edits import Edit
    from workbench.session.locate import Path

__all__ = ["ABSENT", "Change", "added", "aligned", "changes", "put", "same"]


class _Absent:
    def __repr__(self) -> str:
        return "ABSENT"


ABSENT: Any = _Absent()
"""The value of a key that is not there."""

_ARRAYS = frozenset(table.name for table in TABLES.values() if table.array)
_STAMPED = {"event": ("at", "step", "what", "task"), "reading": ("at", "step", "kind")}  # by what one is known again


class Change(NamedTuple):
    """One thing that is new in mine. `edits` make it in theirs; `clashes` where theirs has something else new there.

    `key` is dotted; `mine` and `theirs` are the values, ABSENT where there is none.
    """

    key: str
    mine: Any
    theirs: Any
    edits: tuple[Edit, ...]
    clashes: bool = False


def changes(base: dict[str, Any], mine: dict[str, Any], theirs: dict[str, Any]) -> tuple[Change, ...]:
    """What mine has new since `base` and theirs has not.

    Theirs with all of it made that does not clash, in this order, is the merged version; what clashes is about that.
    """
    return tuple(_table((), base, mine, theirs))


def same(a: object, b: object) -> bool:
    """Whether two TOML values are the same, type by type; one nan is as good as another."""
    if isinstance(a, dict) and isinstance(b, dict):
        return a.keys() == b.keys() and all(same(value, b[key]) for key, value in a.items())
    if isinstance(a, list) and isinstance(b, list):
        return len(a) == len(b) and all(map(same, a, b))
    return type(a) is type(b) and bool(a == b or (a != a and b != b))  # noqa: PLR0124


def _table(path: Path, base: dict[str, Any], mine: dict[str, Any], theirs: dict[str, Any]) -> Iterator[Change]:
    for key in dict.fromkeys((*theirs, *mine, *base)):
        yield from _value((*path, key), *(side.get(key, ABSENT) for side in (base, mine, theirs)))


def _value(path: Path, base: Any, mine: Any, theirs: Any) -> Iterator[Change]:
    if same(mine, base) or same(mine, theirs):
        return
    if isinstance(mine, dict) and isinstance(theirs, dict):
        yield from _table(path, base if isinstance(base, dict) else {}, mine, theirs)
    elif path[0] in _ARRAYS and len(path) == 1 and all(map(_is_array, (base, mine, theirs))):
        yield from _array(str(path[0]), *([] if side is ABSENT else side for side in (base, mine, theirs)))
    else:
        yield Change(dotted(path), mine, theirs, (*put(path, mine),), clashes=not same(theirs, base))


def put(path: Path, value: Any) -> Iterator[Edit]:
    """The edits that put `value` there, whatever is there now."""
    if value is ABSENT:
        yield Unset(dotted(path))
    elif isinstance(value, dict) and value:
        for key, inner in value.items():
            yield from put((*path, key), inner)
    else:
        yield SetValue(dotted(path), value)


def _is_array(value: object) -> bool:
    """Whether it is an array of tables, or may be one as it is empty or not there."""
    return value is ABSENT or (isinstance(value, list) and all(isinstance(element, dict) for element in value))


class _Place(NamedTuple):
    """An element of a merged array: number `at` of theirs, else a new one of mine, which is number `own` there."""

    at: int | None
    own: int = 0


class _Sides(NamedTuple):
    """An array of tables in three versions; `ours` and `others` tell what each element of `base` has become."""

    name: str
    base: list[Any]
    mine: list[Any]
    theirs: list[Any]
    ours: dict[int, int]
    others: dict[int, int]


def _array(name: str, base: list[Any], mine: list[Any], theirs: list[Any]) -> Iterator[Change]:
    """Changes inside the elements that both have, then elements put in, taken out and moved, then what clashes.

    A clash is about the merged array, so that it can be decided later.
    """
    sides = _Sides(name, base, mine, theirs, aligned(name, base, mine), aligned(name, base, theirs))
    for i, index in sides.others.items():
        if i in sides.ours:
            inside = _table((name, index), base[i], mine[sides.ours[i]], theirs[index])
            yield from (change for change in inside if not change.clashes)
    order = _order(sides)
    if edits := (*_structure(name, len(theirs), order, mine),):
        yield Change(name, mine, theirs, edits)
    yield from _clashes(sides, order)


def _clashes(sides: _Sides, order: Sequence[_Place]) -> Iterator[Change]:
    """What both changed, and what one took out while the other changed it."""
    name, base, mine, theirs, ours, others = sides
    out = 0
    for i, element in enumerate(base):
        own, index = ours.get(i), others.get(i)
        at = order.index(_Place(index)) if index is not None and _Place(index) in order else len(order)
        if own is not None and index is not None:
            inside = _table((name, at), element, mine[own], theirs[index])
            yield from (change for change in inside if change.clashes)
        elif index is not None and not same(theirs[index], element):
            yield Change(dotted((name, at)), ABSENT, theirs[index], (RemoveTable(name, at),), clashes=True)
        elif own is not None and not same(mine[own], element):
            yield Change(dotted((name, at + out)), mine[own], ABSENT, (*added(name, at, mine[own]),), clashes=True)
            out += 1  # each is to be put in at the end, but has a key of its own


def aligned(name: str, base: list[Any], side: list[Any]) -> dict[int, int]:
    """Which element of `side` each element of `base` has become; those that were taken out are left out."""
    if name in _STAMPED:
        return _known_again(_STAMPED[name], base, side)
    from difflib import SequenceMatcher  # not before two versions meet

    first, second = (list(map(_frozen, elements)) for elements in (base, side))
    found: dict[int, int] = {}
    for tag, a, a_end, b, b_end in SequenceMatcher(None, first, second, autojunk=False).get_opcodes():
        if tag in {"equal", "replace"}:
            found.update(zip(range(a, a_end), range(b, b_end), strict=False))
    return found


def _known_again(keys: tuple[str, ...], base: list[Any], side: list[Any]) -> dict[int, int]:
    """The same of what is stamped, whose order tells nothing: those just as they were, then those put right."""
    found: dict[int, int] = {}
    for what in (_frozen, lambda element: _frozen([element.get(key) for key in keys])):
        left: dict[object, list[int]] = {}
        for j in sorted(set(range(len(side))) - set(found.values()), reverse=True):
            left.setdefault(what(side[j]), []).append(j)
        for i, element in enumerate(base):
            if i not in found and left.get(what(element)):
                found[i] = left[what(element)].pop()
    return found


def _frozen(value: object) -> object:
    """The value as something that can be looked up, type by type."""
    if isinstance(value, dict):
        return frozenset((key, _frozen(inner)) for key, inner in value.items())
    if isinstance(value, list):
        return tuple(map(_frozen, value))
    return type(value), repr(value)


def _put_in(sides: _Sides, side: list[Any], became: dict[int, int]) -> dict[int, object]:
    """The elements that a side has put in, each as what tells whether the other put in the same, in the same place.

    With what is stamped the place does not matter: it has its time.
    """
    was = {own: i for i, own in became.items()}
    found: dict[int, object] = {}
    behind = -1
    for own, element in enumerate(side):
        if own in was:
            behind = was[own]
        else:
            found[own] = (None if sides.name in _STAMPED else behind, _frozen(element))
    return found


def _order(sides: _Sides) -> list[_Place]:
    """The merged array: theirs without what I took out; what I put in stands behind what is before it in mine.

    What I took out and put in elsewhere just as it was is moved.
    """
    gone = [j for i, j in sides.others.items() if i not in sides.ours and same(sides.theirs[j], sides.base[i])]
    order = [_Place(j) for j in range(len(sides.theirs)) if j not in gone]
    moved = {_frozen(sides.theirs[j]): j for j in gone}
    fresh = _put_in(sides, sides.theirs, sides.others)
    both = list(fresh.values())
    became = {own: _Place(sides.others.get(i)) for i, own in sides.ours.items()}
    for own, put_in in _put_in(sides, sides.mine, sides.ours).items():
        if put_in in both:
            both.remove(put_in)
            continue
        before = next((became[j] for j in range(own - 1, -1, -1) if j in became and became[j] in order), None)
        at = 0 if before is None else order.index(before) + 1
        while at < len(order) and order[at].at in fresh:
            at += 1
        became[own] = _Place(moved.pop(_frozen(sides.mine[own]), None), own)
        order.insert(at, became[own])
    return [place if place.at is None else _Place(place.at) for place in order]


def _structure(name: str, count: int, order: Sequence[_Place], mine: list[Any]) -> Iterator[Edit]:
    """The edits that make of `count` elements those of `order`."""
    now = list(range(count))
    kept = {place.at for place in order}
    for index in reversed(range(count)):
        if index not in kept:
            yield RemoveTable(name, index)
            now.remove(index)
    for at, place in enumerate(order):
        if place.at is None:
            yield from added(name, at, mine[place.own])
            now.insert(at, -1)
        elif now[at] != place.at:
            here = now.index(place.at)
            yield MoveTable(name, here, at)
            now.insert(at, now.pop(here))


def added(name: str, at: int, element: dict[str, Any]) -> Iterator[Edit]:
    """The edits that put an element in."""
    plain = {key: value for key, value in element.items() if not isinstance(value, dict | list)}
    yield AddTable(name, at, plain)
    for key, value in element.items():
        if key not in plain:
            yield from put((name, at, key), value)
