"""Why a value of the file is what it is: what its key means and may be, and where its default comes from."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.plan.defaults import DEFAULTS, NOTES
from workbench.plan.model import Reason
from workbench.plan.sources import ASKED, EXTRACT, MISSING, PLANNED, RECKONED, RECOMMENDED, SLURRY, USUAL
from workbench.session.fields import TABLES, field_of
from workbench.session.values import Quantity
from workbench.units.show import show

if TYPE_CHECKING:
    from workbench.plan.defaults import Default
    from workbench.plan.model import Source
    from workbench.session.field import Field
    from workbench.session.model import Session

__all__ = ["reason"]

_FROM_WORT = frozenset({"gravity", "temperature", "motion", "boil_time"})  # what a feeding takes from [wort]
_SOURCES: dict[str, Source] = {
    "wort.extract_fraction": EXTRACT,
    "yeast.density": SLURRY,
    **dict.fromkeys(
        ("batch.chance", "yeast.viability", "wort.boil_off", "wort.boil_off_pot", "day.prepare"), RECOMMENDED
    ),
}
"""Whose word the constants of the format are; the others are the usual ones."""


def reason(session: Session, key: str) -> Reason:
    """What a dotted key means, what it may be, and whose word its value is. KeyError for a key the format has not.

    A key that is left out says what stands in for it, and why.
    """
    table, index, name = _parted(key)
    field = field_of(key, _reading_kind(session, table, index))
    says, source = field.means, ASKED
    if not session.is_given(key):
        found = _default(session, table, index, field)
        text, source = (f"Left out: {found[0]}", found[1]) if found else ("Not typed yet", MISSING)
        says += f". {text}"
    note = NOTES.get(f"{table}.{name}")
    return Reason(says if note is None else f"{says}. {note(session)}", source, field.value.allowed)


def _parted(key: str) -> tuple[str, int, str]:
    """("step", 0, "wort") of "step.0.wort"; the index of a table that there is but one of is 0."""
    table, _, rest = key.partition(".")
    index, _, name = rest.rpartition(".")
    return table, int(index or 0), name


def _reading_kind(session: Session, table: str, index: int) -> str | None:
    """What a reading measured, where the key is of one."""
    return session.reading[index].kind if table == "reading" and index < len(session.reading) else None


def _default(session: Session, table: str, index: int, field: Field) -> Default | None:
    """What stands in for a key that is left out, and whose word that is."""
    dotted, value = f"{table}.{field.key}", _value(session, table, index, field)
    is_constant = value == TABLES[table].cls._field_defaults.get(field.attr)
    if table == "step" and not session.is_given(f"step.{index}") and not is_constant:
        return f"{_in_words(field, value)}, as the planner proposes", PLANNED
    found = DEFAULTS[dotted](session, index) if dotted in DEFAULTS else None
    if found is not None:
        return found
    if table == "step" and field.key in _FROM_WORT:
        return _as_wort(session, field)
    text = _in_words(field, value)
    return (text, _SOURCES.get(dotted, USUAL) if is_constant else RECKONED) if text else None


def _value(session: Session, table: str, index: int, field: Field) -> object:
    """What the model has for it; None where the whole table is left out."""
    part = getattr(session, table)
    return getattr(part[index] if TABLES[table].array else part, field.attr, None)


def _as_wort(session: Session, field: Field) -> Default:
    """A feeding's value by [wort], and whose word it is there."""
    habit = field_of(f"wort.{field.key}")
    text = f"as [wort] says, {_in_words(habit, getattr(session.wort, habit.attr))}"
    if session.is_given(f"wort.{field.key}"):
        return text, ASKED
    found = _default(session, "wort", 0, habit)
    return text, USUAL if found is None else found[1]


def _in_words(field: Field, value: object) -> str:
    """A value of the model as text; nothing for None and what is empty."""
    if isinstance(field.value, Quantity) and isinstance(value, float):
        return str(show(value / field.value.factor, field.value.kind))
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        squares = all(isinstance(item, int) for item in value)
        return " ".join(map(str, value)) if squares else "-".join(f"{hour:%H:%M}" for hour in value)
    return f"{value:g}" if isinstance(value, int | float) else str(value or "")
