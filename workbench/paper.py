"""A sheet set in type: eighty columns of plain text, or Markdown."""

from __future__ import annotations

from textwrap import wrap
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from workbench.sheet import Page, Row, Section

__all__ = ["as_markdown", "as_text"]

WIDTH = 80


def as_text(sheet: Page) -> str:
    """Eighty columns of plain text."""
    lines = [*(line for text in (sheet.title, *sheet.subtitles) for line in _wrapped(text, "", "  "))]
    for section in sheet.sections:
        lines += ["", section.title, "-" * len(section.title)]
        columns = _columns(section)
        for row in section.rows:
            lines += _text_row(row, *columns)
    if sheet.mind:
        lines += ["", "Mind", "----", *_bullets(sheet.mind)]
    lines += ["", "How it was reckoned", "-------------------", *_bullets(sheet.reasons)]
    return "\n".join(lines) + "\n"


def _columns(section: Section) -> tuple[int, int]:
    """How wide labels and values stand, so that what is right of them is in line. The very long are let stick out."""
    labels = (len(row.label) for row in section.rows if row.value)
    values = (len(row.value) for row in section.rows if row.remark)
    return max([12, *(n for n in labels if n <= 24)]), max([20, *(n for n in values if n <= 28)])


def _text_row(row: Row, label_cells: int, value_cells: int) -> list[str]:
    line = "  ".join((f"{row.label:<{label_cells}}", f"{row.value:<{value_cells}}", row.remark)).rstrip()
    under = label_cells + value_cells + 4 if row.remark else label_cells + 2 if row.value else 4
    lines = _wrapped(line, "", " " * under) or [line]
    for warning in row.warnings:
        lines += _wrapped(warning, "  ! ", "    ")
    return lines


def _wrapped(text: str, first: str, then: str) -> list[str]:
    return wrap(
        text, WIDTH, initial_indent=first, subsequent_indent=then, replace_whitespace=False, break_on_hyphens=False
    )


def _bullets(texts: tuple[str, ...]) -> list[str]:
    return [line for text in texts for line in _wrapped(text, "- ", "  ")]


def as_markdown(sheet: Page) -> str:
    """A Markdown page with a table a section."""
    lines = [f"# {_escaped(sheet.title)}"]
    for line in sheet.subtitles:
        lines += ["", _escaped(line)]
    for section in sheet.sections:
        lines += ["", f"## {section.title}", "", "| what | how much | |", "| --- | --- | --- |"]
        for row in section.rows:
            remark = "; ".join((*((row.remark,) if row.remark else ()), *(f"**{w}**" for w in row.warnings)))
            lines.append(f"| {_escaped(row.label)} | {_escaped(row.value)} | {remark.replace('|', '/')} |")
    if sheet.mind:
        lines += ["", "## Mind", "", *(f"- {_escaped(text)}" for text in sheet.mind)]
    lines += ["", "## How it was reckoned", "", *(f"- {_escaped(text)}" for text in sheet.reasons)]
    return "\n".join(lines) + "\n"


def _escaped(text: str) -> str:
    return "".join(f"\\{c}" if c in "\\`*_{}[]<>#|!" else c for c in text)
