"""The plan as a file beside the batch: a page of text or Markdown, JSON, a calendar, a table."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.errors import WorkbenchError
from workbench.plan.habits import Habits
from workbench.session.fresh import safe_file_name
from workbench.session.saving import write_beside
from workbench.units.plainly import harmless

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from workbench.screens.desk import Desk

__all__ = ["export"]

_MOST = 99  # files of one batch and form


def export(desk: Desk, form: str) -> None:
    """Write the plan in a form, a key of `choices.FORMS`, and say where it went.

    A file that was written in this run is brought up to date; over any other nothing is written.
    """
    suffix, text = _FORMS[form]
    try:
        path = _put(desk, text(desk).encode(), suffix)
    except WorkbenchError as wrong:
        desk.said = str(wrong)
        return
    desk.said = harmless(f"written: {path.name} in {path.parent}")


def _put(desk: Desk, data: bytes, suffix: str) -> Path:
    """Under the first name that nothing else has. Raises SaveFailed."""
    stem = safe_file_name(desk.store.path.stem).removesuffix(".toml")
    for number in range(1, _MOST + 1):
        path = desk.store.path.with_name(f"{stem}{f'-{number}' if number > 1 else ''}{suffix}")
        if write_beside(path, data, ours=desk.exported.get(path)):
            desk.exported[path] = data
            return path
    raise WorkbenchError(f"{stem}{suffix} and {_MOST - 1} more are there already: put some of them away")


def _text(desk: Desk, *, markdown: bool = False) -> str:
    from workbench.paper import as_markdown, as_text  # all of these only for who exports
    from workbench.sheet import page

    sheet = page(desk.plan, desk.system, desk.tz, comma=desk.comma)
    return as_markdown(sheet) if markdown else as_text(sheet)


def _json(desk: Desk) -> str:
    import json

    from workbench.plan.export import as_data

    return json.dumps(as_data(desk.plan), indent=2, allow_nan=False) + "\n"


def _calendar(desk: Desk) -> str:
    from workbench.calendar import as_icalendar

    return as_icalendar(desk.plan, desk.store.path.name, desk.system, comma=desk.comma)


def _table(desk: Desk) -> str:
    import csv
    import io

    from workbench.table import HEADER, lines

    out = io.StringIO(newline="")
    table = csv.writer(out)
    table.writerow(HEADER)
    table.writerows(lines(desk.plan, desk.store.path.name, (desk.habits or Habits())._replace(tz=desk.tz)))
    return out.getvalue()


_FORMS: dict[str, tuple[str, Callable[[Desk], str]]] = {
    "text": (".txt", _text),
    "markdown": (".md", lambda desk: _text(desk, markdown=True)),
    "json": (".json", _json),
    "calendar": (".ics", _calendar),
    "table": (".csv", _table),
}
