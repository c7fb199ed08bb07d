"""Edits of a TOML text that leave every other character of it alone.

Each function takes a text that reads and gives the edited text. Comments, order, spacing, unknown keys and line
endings stay as they are; `store.Store.apply` checks the outcome by reading it again.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from workbench.session import inline
from workbench.session.blocks import Blocks, is_blank_at, line_end, line_start, newline_of, permuted, starts_with
from workbench.session.fields import TABLE_ORDER
from workbench.session.literal import inline_table, key_text, literal
from workbench.session.locate import Layout, path_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from workbench.session.blocks import Span
    from workbench.session.literal import TomlValue
    from workbench.session.locate import Mark, Path

__all__ = ["with_moved", "with_table", "with_value", "without"]


def with_value(text: str, key: str, value: TomlValue) -> str:
    """With `key` set: its value exchanged in place, or a line added at the end of its table, made if need be."""
    layout, path, written = Layout(text), path_of(key), literal(value)
    mark = layout.find(path)
    if mark and not mark.is_header:
        return text[: mark.value] + written + text[mark.end :]
    parent = layout.find(path[:-1])
    if parent and inline.is_container(text, parent):
        inside = inline.members(layout, parent)
        return inline.inserted(text, parent, inside, len(inside), f"{key_text(str(path[-1]))} = {written}")
    return _with_line(text, Blocks(layout), path, written)


def without(text: str, key: str) -> str:
    """Without `key`, whether a value, a table or one element of an array of tables; unchanged where it is not there."""
    layout, path = Layout(text), path_of(key)
    mark = layout.find(path)
    if mark and mark.kind == "member":
        container = layout.find(mark.owner)
        if container:
            inside = inline.members(layout, container)
            return inline.removed(text, container, inside, inside.index(mark))
    for start, end in reversed(_spans(Blocks(layout), path)):
        text = _without_lines(text, start, end)
    return text


def with_table(text: str, table: str, index: int, values: Mapping[str, TomlValue]) -> str:
    """With a new element number `index` of an array of tables."""
    layout = Layout(text)
    whole = layout.find((table,))
    if whole and inline.is_container(text, whole):
        return inline.inserted(text, whole, inline.members(layout, whole), index, inline_table(values))
    lines = [f"[[{table}]]", *(f"{key_text(key)} = {literal(value)}" for key, value in values.items())]
    blocks = Blocks(layout)
    groups = _groups(blocks, table)
    if index < len(groups):
        nl, at = newline_of(text), groups[index][0]
        return text[:at] + nl.join([*lines, "", ""]) + text[at:]
    return _with_block(text, groups[-1][1] if groups else _below_remark(blocks, table) or _behind(blocks, table), lines)


def with_moved(text: str, table: str, index: int, to: int) -> str:
    """With element `index` of an array of tables moved to place `to`, its comments with it."""
    layout = Layout(text)
    whole = layout.find((table,))
    if whole and inline.is_container(text, whole):
        inside = inline.members(layout, whole)
        return inline.moved(text, inside, _order(len(inside), index, to))
    groups = [(start, _without_newline(text, end)) for start, end in _groups(Blocks(layout), table)]
    return permuted(text, groups, _order(len(groups), index, to))


def _with_line(text: str, blocks: Blocks, path: Path, written: str) -> str:
    """With a new line for `path` where its table stands."""
    above = (path[:end] for end in range(len(path) - 1, 0, -1))
    before = next(filter(None, (_line_before(blocks, parent) for parent in above)), None)
    if before is None:
        lines = [f"[{key_text(str(path[0]))}]", f"{'.'.join(key_text(str(part)) for part in path[1:])} = {written}"]
        return _with_block(text, _behind(blocks, str(path[0])), lines)
    owner = before.path if before.is_header else before.owner
    key = ".".join(key_text(str(part)) for part in path[len(owner) :])
    first = line_start(text, before.start)
    indent = "" if before.is_header else text[first : before.start]
    return _with_lines(text, line_end(text, before.end), f"{indent}{key} = {written}")


def _line_before(blocks: Blocks, parent: Path) -> Mark | None:
    """The last key of the table `parent`; its header, where it has no keys yet; None where there is no such table."""
    own = [mark for mark in blocks.places if mark.kind == "pair" and mark.owner == parent]
    header = [mark for mark in blocks.places if mark.is_header and mark.path == parent]
    spread = [mark for mark in blocks.places if mark.kind == "pair" and starts_with(mark.path, parent)]
    by_dots = [mark for mark in spread if len(mark.owner) < len(parent)]
    return next((marks[-1] for marks in (own, header, by_dots) if marks), None)


def _with_lines(text: str, at: int, *lines: str) -> str:
    """With whole lines put in at `at`, a line's beginning or the text's end."""
    nl = newline_of(text)
    start = nl if at and text[at - 1] != "\n" else ""
    return text[:at] + start + "".join(line + nl for line in lines) + text[at:]


def _with_block(text: str, at: int, lines: list[str]) -> str:
    """With a new block at `at`, set apart by a blank line on either side."""
    above = [""] if at else []
    below = [] if at == len(text) or is_blank_at(text, at) else [""]
    return _with_lines(text, at, *above, *lines, *below)


def _behind(blocks: Blocks, table: str) -> int:
    """Where a new table belongs: behind the last block that usually stands before it."""
    rank = TABLE_ORDER.index(table) if table in TABLE_ORDER else len(TABLE_ORDER)
    earlier = TABLE_ORDER[: rank + 1]
    last = [i for i in blocks.headers if blocks.places[i].path[0] in earlier]
    return blocks.end(blocks.next_header(last[-1] if last else -1))


def _below_remark(blocks: Blocks, table: str) -> int:
    """The end of the remark that teaches `[[table]]`, set apart by a blank line beneath it; 0 where there is none."""
    text = blocks.text
    shown = re.search(rf"^[ \t]*#[ \t]*\[\[{table}\]\]", text, re.MULTILINE)
    if not shown or any(mark.start <= shown.start() < mark.end for mark in blocks.places):  # inside a long string
        return 0
    at = line_end(text, shown.end())
    while text[at : line_end(text, at)].lstrip().startswith("#"):
        at = line_end(text, at)
    return at if at == len(text) or is_blank_at(text, at) else 0


def _groups(blocks: Blocks, table: str) -> list[Span]:
    """The lines of each element of an array of tables."""
    places = blocks.places
    return [blocks.group(i) for i in blocks.headers if places[i].kind == "array" and places[i].path[:-1] == (table,)]


def _spans(blocks: Blocks, path: Path) -> list[Span]:
    """All lines that speak of `path` or of what is inside it."""
    spans = []
    for i, mark in enumerate(blocks.places):
        if not starts_with(mark.path, path):
            continue
        if mark.is_header:
            spans.append(blocks.span(i))
        elif not starts_with(mark.owner, path):
            spans.append((line_start(blocks.text, mark.start), line_end(blocks.text, mark.end)))
    return spans


def _without_lines(text: str, start: int, end: int) -> str:
    """Without these lines, and without the blank lines that would be left doubled."""
    above, below = start, end
    while is_blank_at(text, below):
        below = line_end(text, below)
    while above and is_blank_at(text, line_start(text, above - 1)):
        above = line_start(text, above - 1)
    if below == len(text):
        return text[:above]
    return text[:start] + text[below if above < start or not start else end :]


def _without_newline(text: str, end: int) -> int:
    """The offset before the line ending that ends at `end`."""
    for newline in ("\r\n", "\n"):
        if text.endswith(newline, 0, end):
            return end - len(newline)
    return end


def _order(count: int, index: int, to: int) -> list[int]:
    order = list(range(count))
    order.insert(to, order.pop(index))
    return order
