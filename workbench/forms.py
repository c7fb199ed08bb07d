"""The plan in each form in which it can be put into a file; `screens/exporting` does that, the commands print some."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Callable

    from workbench.plan.habits import Habits
    from workbench.plan.model import Plan
    from workbench.units.show import System

__all__ = ["SUFFIXES", "Wanted", "written"]


class Wanted(NamedTuple):
    """A plan, and how to put it: the name of its file, units, the decimal mark, instruments and zone."""

    plan: Plan
    file: str
    system: System
    comma: bool
    habits: Habits


def written(form: str, wanted: Wanted) -> str:
    """The plan in a form, a key of SUFFIXES."""
    return _FORMS[form](wanted)


def _text(wanted: Wanted) -> str:
    from workbench.paper import as_text  # all of these only for who wants them
    from workbench.sheet import page

    return as_text(page(wanted.plan, wanted.system, wanted.habits.tz, comma=wanted.comma))


def _markdown(wanted: Wanted) -> str:
    from workbench.paper import as_markdown
    from workbench.sheet import page

    return as_markdown(page(wanted.plan, wanted.system, wanted.habits.tz, comma=wanted.comma))


def _json(wanted: Wanted) -> str:
    import json

    from workbench.plan.export import as_data

    return json.dumps(as_data(wanted.plan), indent=2, allow_nan=False) + "\n"


def _calendar(wanted: Wanted) -> str:
    from workbench.calendar import as_icalendar

    return as_icalendar(wanted.plan, wanted.file, wanted.system, comma=wanted.comma)


def _table(wanted: Wanted) -> str:
    import csv
    import io

    from workbench.table import HEADER, lines

    out = io.StringIO(newline="")
    table = csv.writer(out)
    table.writerow(HEADER)
    table.writerows(lines(wanted.plan, wanted.file, wanted.habits))
    return out.getvalue()


SUFFIXES = {"text": ".txt", "markdown": ".md", "json": ".json", "calendar": ".ics", "table": ".csv"}
"""The forms, each with the end of its files' names."""
_FORMS: dict[str, Callable[[Wanted], str]] = {
    "text": _text,
    "markdown": _markdown,
    "json": _json,
    "calendar": _calendar,
    "table": _table,
}
