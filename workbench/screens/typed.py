"""Typing a value: opening the line, each key in it, and keeping it once it has been checked."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from workbench.errors import EditRefused, QuantityError, WorkbenchError
from workbench.screens import editor, guide, solving
from workbench.screens.changes import adopted
from workbench.screens.desk import Entry
from workbench.screens.written import field_at, written
from workbench.session.edits import SetValue, Several, Unset
from workbench.session.fields import TABLES
from workbench.session.times import Day, Moment
from workbench.session.values import Flag, Quantity, Text, Words

if TYPE_CHECKING:
    from workbench.panes.rows import Row
    from workbench.screens.desk import Ask, Desk
    from workbench.session.edits import Edit
    from workbench.session.values import Value

__all__ = ["change", "edit", "keep", "leave", "paste", "press", "turn", "unset"]

_KEEPS = ("keep.cells", "keep.volume")


def edit(desk: Desk, *, fresh: Edit | None = None) -> None:
    """Open the line on the row under the cursor, which `fresh` has put in just now."""
    row = desk.row()
    if desk.store.read_only:  # before anything is typed in vain
        desk.said = desk.store.read_only
        return
    if row is not None and row.term is not None and not row.key:
        line = editor.start(row.value, fresh=True)
        desk.entry = Entry(row.id, line, row.value, solving.MEANS[row.term], term=row.term, shown=row.value)
        return
    if row is None or not row.key:
        desk.said = f"worked out, not typed: {desk.key('why')} tells why" if row else "nothing to edit here yet"
        return
    if row.table is not None and row.table[0] == "step" and row.table[1] != desk.step:
        desk.step = row.table[1]
        desk.redraw()
    desk.entry = _opened(desk, row)
    desk.entry.fresh = fresh


def _opened(desk: Desk, row: Row) -> Entry:
    field = field_at(desk, row.key, row.value)
    began = _as_written(desk, row)
    line = editor.start(began, fresh=not isinstance(field.value, Text))
    means = f"{field.means}; or {', '.join(desk.flasks)}" if row.key == "flask.size" and desk.flasks else field.means
    return Entry(row.key, line, began, means, _units(field.value), row.choices, term=row.term, shown=row.value)


def _as_written(desk: Desk, row: Row) -> str:
    """The value letter for letter as the file has it, where it is a text or a number; else as the row says."""
    here: Any = desk.store.data
    for part in row.key.split("."):
        try:
            here = here[int(part)] if isinstance(here, list) else here[part]
        except (KeyError, IndexError):
            return row.value
    return str(here) if isinstance(here, str | int | float) and not isinstance(here, bool) else row.value


def _units(value: Value) -> str:
    """What may be typed: an example, and the units, the usual one first."""
    if isinstance(value, Moment):
        return "e.g. Sat 15, tomorrow 15:30, 28.11. 15, +2d"
    if isinstance(value, Day):
        return "e.g. 19 Oct, 19.10., yesterday, 6 weeks"
    if isinstance(value, Quantity):
        return f"e.g. {value.example}; units {' '.join(unit.name for unit in value.kind.units[:6])}"
    return "" if isinstance(value, Text | Words | Flag) else f"e.g. {value.example}"


def press(desk: Desk, entry: Entry, key: str, character: str | None) -> None:
    """A key while the line is open."""
    if key == "escape":
        leave(desk)
    elif key == "enter":
        _enter(desk, entry)
    elif key in {"up", "down"} and entry.choices:
        _set(entry, editor.start(editor.turned(entry.choices, entry.line.text, 1 if key == "down" else -1)))
    else:
        _set(entry, editor.press(entry.line, key, character))


def _enter(desk: Desk, entry: Entry) -> None:
    """Keep the line; where a plan, or a lot, was missing that, open the line of what is missing next."""
    wanted, of_lot = guide.missing(desk), guide.next_of_lot(desk, entry.key)
    goes_on = entry.fresh is not None or of_lot == entry.key != ""
    keep(desk, entry)
    if desk.entry is not None:
        return
    if wanted == entry.key != "" and guide.missing(desk) != wanted:
        guide.lead(desk, edit)
    elif goes_on and (key := guide.next_of_lot(desk, entry.key)):
        desk.put(key)
        edit(desk)


def paste(entry: Entry, text: str) -> None:
    """Text pasted while the line is open."""
    _set(entry, entry.line.insert(text))


def _set(entry: Entry, line: editor.Line | None) -> None:
    if line is not None:
        entry.error = "" if line.text != entry.line.text else entry.error
        entry.line = line


def leave(desk: Desk) -> None:
    """Close the line; all is as it was."""
    entry, desk.entry = desk.entry, None
    if entry is not None and entry.fresh is not None:
        desk.store.take_back()
        desk.recompute()


def keep(desk: Desk, entry: Entry) -> None:
    """Check what was typed and apply it. What is wrong is said beside the field, which keeps the text."""
    if entry.ask is not None:
        _answer(desk, entry, entry.ask)
        return
    empty = not entry.line.text.strip()
    if _is_untouched(desk, entry) or (empty and entry.fresh is not None):
        if not empty:  # what it was put in with is what is meant
            entry.fresh = None
        leave(desk)
        return
    try:
        meant = change(desk, entry)
        if meant is not None:
            _apply(desk, entry, meant)
    except (QuantityError, EditRefused) as wrong:
        entry.error = str(wrong)
        return
    if entry.term is not None:
        solving.note_typed(desk, desk.step, entry.term)
    desk.entry = None
    desk.recompute()
    if entry.key in _KEEPS:  # the row may be of the other key now
        desk.put(next(filter(desk.plan.session.is_given, _KEEPS), entry.key))


def _answer(desk: Desk, entry: Entry, ask: Ask) -> None:
    """What was asked for, where anything was typed."""
    text, at = entry.line.text.strip(), entry.at
    said = ""
    if (text or ask.may_be_empty) and at is not None:
        try:
            said = ask.keep(text, at)
        except WorkbenchError as wrong:
            entry.error = str(wrong)
            return
    desk.entry = None
    desk.recompute()
    desk.follow()
    desk.said = said


def _is_untouched(desk: Desk, entry: Entry) -> bool:
    """Whether nothing was typed, or only what the file says already; a usual value typed is a value given."""
    as_begun = entry.line.text.strip() == entry.began
    return as_begun and (entry.line.fresh or (entry.term is None and desk.plan.session.is_given(entry.key)))


def _apply(desk: Desk, entry: Entry, meant: Edit) -> None:
    """Make the change, together with what put the row in, so that one undo takes both back. Raises EditRefused."""
    if entry.fresh is None:
        desk.store.apply(adopted(desk, meant))
        return
    desk.store.take_back()
    try:
        desk.store.apply(Several((entry.fresh, meant)))
    except EditRefused:
        desk.store.apply(entry.fresh)
        raise


def change(desk: Desk, entry: Entry) -> Edit | None:
    """What keeping the line means. Raises QuantityError, EditRefused."""
    if entry.term is not None and entry.line.text.strip() and solving.is_solved(desk, desk.step, entry.term):
        return solving.solved(desk, desk.step, entry.term, entry.line.text, entry.shown.partition(" ")[2])
    return _value(desk, entry)


def _value(desk: Desk, entry: Entry) -> Edit | None:
    """The edit that sets the key, or leaves it out where the line is empty."""
    text = entry.line.text.strip()
    if not text:  # powder and water are never in the file: there is nothing to leave out
        in_file = entry.term not in ("powder", "water") and desk.plan.session.is_given(entry.key)
        return unset(desk, entry.key) if in_file else None
    if entry.key in _KEEPS:
        return _kept(desk, entry, text)
    if entry.key == "flask.size" and text in desk.flasks:
        return _own_flask(desk, text)
    return SetValue(entry.key, written(desk, entry.key, text, entry.shown))


def _own_flask(desk: Desk, name: str) -> Edit:
    """One of the brewer's flasks in place of the present one: all that is known of it, and nothing of the other."""
    own = desk.flasks[name]
    gone = [f"flask.{field.key}" for field in TABLES["flask"].fields if field.key not in own]
    unset = [Unset(key) for key in gone if desk.plan.session.is_given(key)]
    return Several((*unset, *(SetValue(f"flask.{key}", value) for key, value in own.items())))


def _kept(desk: Desk, entry: Entry, text: str) -> Edit:
    """Cells or a volume to keep, by what was typed; a number alone is what the row shows. Raises QuantityError."""
    for key in sorted(_KEEPS, key=lambda key: key != entry.key):
        other = next(name for name in _KEEPS if name != key)
        try:
            value = written(desk, key, text, entry.shown if key == entry.key else "")
            return Several((Unset(other), SetValue(key, value)))
        except QuantityError as wrong:
            told = wrong
    raise QuantityError(told.what, 'write cells or a volume, for example "60 B" or "0.5 L"')


def unset(desk: Desk, key: str) -> Edit:
    """Leave a key out; the last one of [keep] or [beer] takes the table along, which alone would mean something."""
    table = key.partition(".")[0]
    alone = sum(given.startswith(f"{table}.") for given in desk.plan.session.given) == 1
    return Unset(table if alone and table in {"keep", "beer"} else key)


def turn(desk: Desk) -> None:
    """The next word of a row that is one of a few, without opening the line."""
    row = desk.row()
    if row is None or not row.choices:
        desk.said = "nothing to turn here"
        return
    entry = _opened(desk, row)
    entry.line = editor.start(editor.turned(row.choices, row.value, 1))
    keep(desk, entry)
    desk.said = entry.error  # refused: said in the bottom line, the row is left
    leave(desk)
