"""Edits inside `{…}` and `[…]` written as a value. All offsets are of the whole text."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from workbench.session.blocks import permuted

if TYPE_CHECKING:
    from collections.abc import Sequence

    from workbench.session.locate import Layout, Mark

__all__ = ["inserted", "is_container", "members", "moved", "removed"]

_COMMA = re.compile(r"((?:[ \t\r\n]+|#[^\n]*)*),[ \t]*")


def is_container(text: str, mark: Mark | None) -> bool:
    """Whether the mark is of a value in braces or brackets."""
    return mark is not None and not mark.is_header and text[mark.value] in "{["


def members(layout: Layout, container: Mark) -> list[Mark]:
    """The keys or elements directly inside, in order."""
    return [mark for mark in layout.marks if mark.kind == "member" and mark.owner == container.path]


def inserted(text: str, container: Mark, inside: Sequence[Mark], index: int, piece: str) -> str:
    """With `piece` as member number `index`."""
    if not inside:
        at = container.value + 1
        return text[:at] + piece + text[at:]
    if index < len(inside):
        at = inside[index].start
        return f"{text[:at]}{piece}, {text[at:]}"
    at = inside[-1].end
    return f"{text[:at]}, {piece}{text[at:]}"


def removed(text: str, container: Mark, inside: Sequence[Mark], index: int) -> str:
    """Without member number `index`; comments beside an element of an array stay."""
    start, end = inside[index].start, inside[index].end
    if text[container.value] == "[":
        comma = _COMMA.match(text, end)
        return text[:start] + (comma.group(1) + text[comma.end() :] if comma else text[end:])
    if index + 1 < len(inside):
        end = inside[index + 1].start
    elif index:
        start = inside[index - 1].end
    return text[:start] + text[end:]


def moved(text: str, inside: Sequence[Mark], order: Sequence[int]) -> str:
    """With the members in a new order."""
    return permuted(text, [(mark.start, mark.end) for mark in inside], order)
