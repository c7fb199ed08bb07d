"""What two programs changed both and nobody has decided yet, while the file goes on changing around it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from workbench.session.edits import RemoveTable
from workbench.session.locate import dotted, path_of
from workbench.session.merge import ABSENT, added, aligned, put, same

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from workbench.session.merge import Change

__all__ = ["joined_by", "moved", "still_open"]

_Data = dict[str, Any]


def still_open(clashes: tuple[Change, ...], data: Mapping[str, Any]) -> tuple[Change, ...]:
    """Those where the file does not say what mine does; `theirs` is what stands there by now."""
    now = (clash._replace(theirs=_value_at(data, clash.key)) for clash in clashes)
    return tuple(clash for clash in now if not same(clash.mine, clash.theirs))


def joined_by(clashes: tuple[Change, ...], more: tuple[Change, ...], data: _Data) -> tuple[Change, ...]:
    """More of them, all about `data`; the same key again replaces what was to be decided of it before."""
    again = {clash.key for clash in more}
    left = (clash for clash in clashes if clash.key not in again or _is_out(clash, data))
    return moved((*left, *more), data, data)


def moved(clashes: tuple[Change, ...], before: _Data, after: _Data) -> tuple[Change, ...]:
    """Clashes about one version as they are about the next: of the same lots and feedings, wherever those stand by now.

    What is about one that is no longer there is left out.
    """
    return tuple(_moved(clashes, before, after))


def _moved(clashes: tuple[Change, ...], before: _Data, after: _Data) -> Iterator[Change]:
    out: dict[str, int] = {}  # how many elements of an array they took out
    for clash in clashes:
        name, index, *rest = *path_of(clash.key), ""
        if not isinstance(index, int):
            yield clash
            continue
        now = after.get(str(name), [])
        if _is_out(clash, before):
            at = len(now) + out.setdefault(str(name), 0)
            out[str(name)] += 1
            yield clash._replace(key=dotted((name, at)), edits=(*added(str(name), len(now), clash.mine),))
        elif (there := aligned(str(name), before[str(name)], now).get(index)) is not None:
            path = (name, there, *rest[:-1])
            edits = (*put(path, clash.mine),) if rest[:-1] else (RemoveTable(str(name), there),)
            yield clash._replace(key=dotted(path), edits=edits)


def _is_out(clash: Change, data: _Data) -> bool:
    """Whether it is about an element that they took out: to be put in again at the end, numbered as if it were."""
    name, index, *rest = *path_of(clash.key), ""
    return isinstance(index, int) and rest == [""] and index >= len(data.get(str(name), []))


def _value_at(data: Mapping[str, Any], key: str) -> Any:
    """The value of a dotted key, ABSENT where there is none."""
    here: Any = data
    for part in path_of(key):
        try:
            here = here[part]
        except (KeyError, IndexError, TypeError):
            return ABSENT
    return here
