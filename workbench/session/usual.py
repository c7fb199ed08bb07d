"""What is typical of each key of a session file, for whoever fills it in: a help, never a limit.

Ranges are common practice, no source, but where one is named. Both ends of a range are typed in one unit.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from workbench.session.fields import TABLES, field_of
from workbench.session.values import Flag, Quantity, Words
from workbench.units.parse import parse
from workbench.units.show import show

if TYPE_CHECKING:
    from workbench.units.kinds import Kind
    from workbench.units.show import System

__all__ = ["NONE", "PRACTICE", "USUAL", "Usual", "source", "usual"]

PRACTICE = "common practice, no source"


class Usual(NamedTuple):
    """From `low` to `high` as typed, or what `says` so in words; whose word it is."""

    low: str = ""
    high: str = ""
    says: str = ""
    source: str = PRACTICE


_WORT = Usual("1.030", "1.040", source="White & Zainasheff 2010, read in texts that quote it")
_GROWS = Usual("18 °C", "24 °C")
_BOIL_TIME, _BOIL_OFF = Usual("10 min", "15 min"), Usual("50 mL", "150 mL")

USUAL: dict[str, Usual] = {
    "batch.chance": Usual("0.5", "0.8"),
    "beer.volume": Usual("19 L", "25 L"),
    "beer.gravity": Usual("1.035", "1.080"),
    "beer.pitch_rate": Usual(says="ale 0.75, lager 1.5", source="S. Terrill, Aeration and Yeast Starters, 2010"),
    "beer.temperature": Usual("9 °C", "20 °C"),
    "yeast.count": Usual("1", "4"),
    "yeast.cells": Usual("100 B", "200 B"),
    "yeast.cells_low": Usual(says="0.7 to 0.8 of the likely"),
    "yeast.cells_high": Usual(says="1.25 to 1.4 of the likely"),
    "yeast.mass": Usual("11 g", "11.5 g"),
    "yeast.volume": Usual("100 mL", "500 mL"),
    "yeast.density": Usual("0.5 B/mL", "2 B/mL"),
    "yeast.viability": Usual("0.8", "1"),
    "yeast.stored_at": Usual("2 °C", "6 °C"),
    "yeast.generation": Usual("0", "10"),
    "yeast.cycle": Usual("0", "5"),
    "yeast.squares": Usual(says="five or more, of 20 to 60 cells"),
    "yeast.square": Usual("0.004 µL", "0.1 µL"),
    "yeast.dilution": Usual("1", "200"),
    "yeast.stained": Usual(says="up to a fifth of them"),
    "flask.size": Usual("1 L", "5 L"),
    "flask.fill_limit": Usual(says="75 to 90 % of the size"),
    "flask.boil_limit": Usual(says="50 to 70 % of the size"),
    "flask.glass": Usual("0.3 kg", "1.2 kg"),
    "flask.count": Usual("1", "2"),
    "flask.base": Usual("100 mm", "220 mm"),
    "flask.height": Usual("180 mm", "380 mm"),
    "flask.neck": Usual("34 mm", "60 mm"),
    "flask.wall": Usual("2 mm", "3 mm"),
    "flask.brim": Usual(says="1.01 to 1.1 of the size"),
    "wort.gravity": _WORT,
    "wort.extract_fraction": Usual("0.94", "0.97"),
    "wort.boil_time": _BOIL_TIME,
    "wort.boil_off": _BOIL_OFF,
    "wort.boil_off_pot": Usual("150 mL", "400 mL"),
    "wort.temperature": _GROWS,
    "wort.rest": Usual("24 h", "48 h"),
    "wort.left_after_decant": Usual("100 mL", "200 mL"),
    "foam.drops_per_gallon": Usual(says="2; follow the label"),
    "foam.active": Usual(says="0.05 to 0.3; see the label"),
    "foam.drop": Usual("30 mg", "60 mg"),
    "foam.drops": Usual("1", "3"),
    "bath.water": Usual("0 L", "6 L"),
    "bath.temperature": Usual("8 °C", "20 °C"),
    "bath.rate": Usual("0.05", "0.2"),
    "bath.rate_error": Usual("0.002", "0.02"),
    "place.altitude": Usual("0 m", "1500 m"),
    "day.prepare": Usual("60 min", "90 min"),
    "day.awake": Usual(says="07:00 to 22:30"),
    "day.hours": Usual("24 h", "96 h"),
    "supplies.powder": Usual("250 g", "1000 g"),
    "step.wort": Usual("0.5 L", "3 L"),
    "step.gravity": _WORT,
    "step.top_up": Usual("0 L", "1 L"),
    "step.hours": Usual("18 h", "36 h"),
    "step.temperature": _GROWS,
    "step.boil_time": _BOIL_TIME,
    "step.boil_off": _BOIL_OFF,
    "keep.cells": Usual("40 B", "100 B"),
    "keep.volume": Usual("0.2 L", "1 L"),
    "keep.every": Usual("14 d", "30 d"),
    "reading.value": _WORT,
    "reading.temperature": Usual("15 °C", "30 °C"),
    "reading.discarded": Usual("100 mL", "250 mL"),
    "event.temperature": Usual("0 °C", "4 °C"),
    "event.volume": Usual("50 mL", "200 mL"),
    "event.length": Usual("5 min", "15 min"),
}
"""By table and key. A word out of a few, or yes or no, says itself what it may be."""

NONE: dict[str, str] = {
    **dict.fromkeys(("batch.name", "batch.note", "event.text"), "the brewer's own words"),
    **dict.fromkeys(("batch.pitch_at", "yeast.made_on"), "a day of the brewer's own"),
    "yeast.from": "the name of a file",
    **dict.fromkeys(("supplies.powder_price", "supplies.pack_price"), "in money of any country"),
    "supplies.nutrient": "by the label of each nutrient",
    **dict.fromkeys(("reading.at", "event.at", "reading.mark", "event.mark"), "stamped, not typed"),
    **dict.fromkeys(("reading.step", "event.step", "event.what", "event.task"), "stamped, not typed"),
}
"""Why some keys have nothing that is usual."""

_READINGS = {"brix": Usual("7.5 °Bx", "10 °Bx"), "temperature": Usual("2 °C", "100 °C"), "volume": USUAL["step.wort"]}
_READINGS["count"] = Usual("50 B", "400 B")


def usual(key: str, system: System = "metric", kind: str | None = None, *, comma: bool = False) -> str:
    """What is typical of a dotted key, "19–25 L" in the units of a system; the words it may be; "" where nothing is.

    `kind` is what a reading measured. KeyError for a key that the format has not.
    """
    value = field_of(key, kind).value
    found = _found(key, kind)
    if found is None:
        return value.allowed if isinstance(value, Words | Flag) else ""
    told = found.says or _range(found, value.kind if isinstance(value, Quantity) else None, system)
    return told.replace(".", ",") if comma and not found.says else told


def source(key: str, kind: str | None = None) -> str:
    """Whose word it is that this is usual; "" where nothing is. KeyError for a key that the format has not."""
    found = _found(key, kind)
    return "" if found is None else found.source


def _found(key: str, kind: str | None) -> Usual | None:
    table, _, rest = key.partition(".")
    if TABLES[table].name == "reading" and rest.endswith("value") and kind in _READINGS:
        return _READINGS[kind]
    return USUAL.get(f"{table}.{rest.rpartition('.')[2]}")


def _range(found: Usual, kind: Kind | None, system: System) -> str:
    """Both ends, the unit once."""
    low, _, unit = found.low.partition(" ")
    high = found.high.partition(" ")[0]
    if kind is not None and system == "us" and kind.us != kind.metric:
        ends = [parse(text, kind) for text in (found.low, found.high)]
        unit = show(ends[1], kind, system).unit
        low, high = (_short(kind.unit(unit).from_base(end)) for end in ends)
    return f"{low}–{high} {unit}".rstrip()


def _short(number: float) -> str:
    """Two digits that count, three from 100 on."""
    digits = 3 if 100.0 <= number < 1000.0 else 2
    return f"{float(f'{number:.{digits}g}'):g}"
