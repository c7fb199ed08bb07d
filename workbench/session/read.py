"""From plain data to a Session, with every fault of the file told at once."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

from workbench.brewing.density import extract_from_sg
from workbench.errors import QuantityError
from workbench.session.checks import clashes
from workbench.session.faults import Fault, FaultyFile, named
from workbench.session.fields import FORMAT, TABLE_ORDER, TABLES, reading_field
from workbench.session.formats import format_of
from workbench.session.model import Session

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from workbench.session.field import Table

__all__ = ["Outcome", "read", "sound"]

_USUAL_SG = 1.034
_MOST_HINTS = 20  # a guess at what was meant takes a while each


class Outcome(NamedTuple):
    """`session` holds what is right; it counts only where there are no faults. Notes are no faults."""

    session: Session
    faults: tuple[Fault, ...]
    notes: tuple[Fault, ...]

    @property
    def newer(self) -> Fault | None:
        """What tells of a newer format: it is shown as far as this program knows it, and never saved."""
        return self.notes[0] if self.session.format > FORMAT else None

    @property
    def read_only(self) -> str | None:
        """Why it can be shown but not edited, if so."""
        return self.newer and f"{self.newer.what}: {self.newer.right}"


def read(data: Mapping[str, Any], text: str) -> Outcome:
    """Read the data of a session file, whose `text` gives the lines."""
    reader = _Reader()
    if reader.check_format(data):
        return _of_newer(reader, data, text)
    session = reader.session(data)
    wrong = {key for key, _, _ in reader.faults}
    for clash in clashes(session):
        if wrong.isdisjoint((clash.key, clash.other)):
            reader.faults.append((clash.key, clash.what, clash.right))
    return Outcome(session, _placed(reader.faults, text), _placed(reader.notes, text))


def sound(data: Mapping[str, Any], text: str, file: str) -> Outcome:
    """As `read`, of what has no fault. Raises FaultyFile, which calls it `file`."""
    outcome = read(data, text)
    if outcome.faults:
        raise FaultyFile(file, outcome.faults)
    return outcome


def _of_newer(reader: _Reader, data: Mapping[str, Any], text: str) -> Outcome:
    """A file of a newer format, shown if nothing in it is wrong by this one; if so it alone is told of."""
    (newer,) = _placed(reader.faults, text)
    reader.faults.clear()
    session = reader.session(data)
    if reader.faults or any(True for _ in clashes(session)):
        return Outcome(Session(), (newer,), ())
    return Outcome(session, (), (newer,))


def _placed(found: list[tuple[str, str, str]], text: str) -> tuple[Fault, ...]:
    """With their lines, in the file's order."""
    if not found:
        return ()
    from workbench.session.locate import Layout  # lines are asked for where something is wrong

    layout = Layout(text)
    return tuple(sorted((Fault(layout.line_of(key), key, *rest) for key, *rest in found), key=lambda f: f.line))


class _Reader:
    """Collects (key, what, right) on the way."""

    def __init__(self) -> None:
        self.faults: list[tuple[str, str, str]] = []
        self.notes: list[tuple[str, str, str]] = []

    def check_format(self, data: Mapping[str, Any]) -> bool:
        """Whether it is of a newer format, told as a fault. A wrong one is told, too, and the rest read as this one."""
        if "format" not in data:
            self.faults.append(("format", "is missing", f"write format = {FORMAT} as the first line"))
            return False
        form = data["format"]
        if isinstance(form, bool) or not isinstance(form, int):
            self.faults.append(("format", f"{named(form)} is no whole number", f"write format = {FORMAT}"))
        elif form > FORMAT:
            what = f"format {named(form)} is newer than this program, which reads format {FORMAT}"
            self.faults.append(("format", what, "use a newer version of the program"))
            return True
        elif form < FORMAT:
            self.faults.append(("format", f"there is no format {named(form)}", f"write format = {FORMAT}"))
        return False

    def session(self, data: Mapping[str, Any]) -> Session:
        """The session, as far as the data are right."""
        for name in data:
            if name not in TABLES and name != "format":
                self._unknown(name, TABLE_ORDER)
        parts: dict[str, Any] = {
            table.name: self._part(table, data[table.name]) for table in TABLES.values() if table.name in data
        }
        parts.setdefault("wort", self._part(TABLES["wort"], {}))
        given = frozenset(_keys(data, ""))
        form = format_of(data) or FORMAT
        return Session(**{name: part for name, part in parts.items() if part is not None}, given=given, format=form)

    def _part(self, table: Table, raw: object) -> object:
        if table.array:
            return tuple(self._elements(table, raw))
        if isinstance(raw, dict):
            return self._table(table, raw, table.name)
        is_array = isinstance(raw, list) and all(isinstance(element, dict) for element in raw)
        what = f"[[{table.name}]] stands for one of several" if is_array else f"{named(raw)} is no table"
        self.faults.append((table.name, what, f"write [{table.name}], in single brackets, once"))
        return None

    def _elements(self, table: Table, raw: object) -> Iterator[object]:
        right = f"write [[{table.name}]], in double brackets, before each"
        if isinstance(raw, dict):
            self.faults.append((table.name, f"[{table.name}] stands for a single table", right))
            yield self._table(table, raw, table.name)
        elif not isinstance(raw, list):
            self.faults.append((table.name, f"{named(raw)} is no list of tables", right))
        else:
            for i, element in enumerate(raw):
                if isinstance(element, dict):
                    yield self._table(table, element, f"{table.name}.{i}")
                else:
                    self.faults.append((f"{table.name}.{i}", f"{named(element)} is no table", right))

    def _table(self, table: Table, raw: Mapping[str, object], at: str) -> object:
        values: dict[str, object] = {}
        for key, value in sorted(raw.items(), key=lambda item: item[0] == "value"):  # behind the kind it hangs on
            field = table.field(key)
            if field is None:
                self._unknown(f"{at}.{key}", [known.key for known in table.fields])
            elif field.key == "value" and "kind" not in values:
                self._kindless(f"{at}.value", raw)
            else:
                try:
                    values[field.attr] = reading_field(field, values.get("kind")).from_toml(value)
                except QuantityError as error:
                    self.faults.append((f"{at}.{key}", error.what, error.right))
        if table.name == "wort":
            values.setdefault("gravity_w", extract_from_sg(_USUAL_SG))
        return table.cls(**values)

    def _kindless(self, key: str, raw: Mapping[str, object]) -> None:
        """Tell of the value of a reading without kind; where the kind is wrong, that has been told."""
        if not isinstance(raw["value"], str):  # wrong under every kind
            self.faults.append((key, f"{named(raw['value'])} is no text", 'write it as text, for example "1.0335"'))
            return
        if "kind" not in raw:
            self.notes.append((key, "cannot be read without its kind", "give the kind of the reading"))

    def _unknown(self, key: str, known: Sequence[str]) -> None:
        right = "it is kept as it is"
        if len(self.notes) < _MOST_HINTS:
            from difflib import get_close_matches  # costs 4 ms, and only for a slip of the pen

            close = get_close_matches(key.rpartition(".")[2], known, 1)
            right += f"; did you mean {close[0]}?" if close else ""
        self.notes.append((key, "is no key of this format", right))


def _keys(raw: Mapping[str, Any], at: str) -> Iterator[str]:
    """The dotted keys of all tables, their elements and values."""
    for key, value in raw.items():
        yield at + key
        if isinstance(value, dict):
            yield from _keys(value, f"{at}{key}.")
        elif isinstance(value, list):
            for i, element in enumerate(value):
                if isinstance(element, dict):
                    yield f"{at}{key}.{i}"
                    yield from _keys(element, f"{at}{key}.{i}.")
