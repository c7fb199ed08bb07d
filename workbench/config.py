"""The brewer's own settings: one TOML file, every key optional, faults told as for sessions.

It lies in the configuration folder of this system, `config_path`, or where WORKBENCH_CONFIG says.
"""

from __future__ import annotations

import os
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, NamedTuple

from workbench import themes
from workbench.errors import QuantityError, WorkbenchError
from workbench.plan.habits import Habits
from workbench.session.faults import Fault, FaultyFile, named
from workbench.session.field import Field, Table
from workbench.session.fields import TABLES
from workbench.session.load import load
from workbench.session.locate import Layout
from workbench.session.values import Flag, Number, Quantity, Range, Text, Words
from workbench.units.kinds import TEMPERATURE
from workbench.units.plainly import harmless

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from workbench.units.show import System

__all__ = ["SAMPLE", "Config", "config_path", "load_config", "own_themes", "read_config"]

APP = "brew-day-workbench"

SAMPLE = """\
# Settings of the brew-day workbench. What stands here are the defaults; change what you like.
units = "metric"            # metric | us: how figures are shown; sessions may be written in either
decimal = "point"           # point | comma
theme = "harbour-dusk"      # see the folder themes; your own: themes/NAME.toml beside this file
glyphs = "auto"             # auto | full | console | ascii
mouse = true                # clicks and the wheel work; g gives the mouse back for selecting text
# folder = "~/brewing"      # where new batches go; left out: the documents folder of this system

[instruments]
hydrometer_reference = "20 °C"   # printed on the scale; 60 °F on many
brix_per_plato = 1.04            # of your refractometer, in unfermented wort

[flask]                     # your usual flask, copied into new batches; keys as in a session
# size = "3 L"

# [flasks.jug]              # flasks by name, keys likewise: type the name where a flask's size is asked
# size = "5 L"
# brim = "5.3 L"

[wort]                      # your usual wort and stove, likewise
# gravity = "1.034"

[keys]                      # action = "key", or several: "u, ctrl+u"; `:` lists all actions
# undo = "u"
"""

_TOP = Table(
    "",
    dict,
    (
        Field("units", "units", Words(("metric", "us")), "how figures are shown"),
        Field("decimal", "decimal", Words(("point", "comma")), "the decimal mark that is shown"),
        Field("theme", "theme", Text("harbour-dusk"), "the colours"),
        Field("glyphs", "glyphs", Words(("auto", "full", "console", "ascii")), "which signs the terminal has"),
        Field("mouse", "mouse", Flag(), "whether clicks and the wheel work"),
        Field("folder", "folder", Text("~/brewing"), "where new batches go"),
    ),
)
_INSTRUMENTS = Table(
    "instruments",
    dict,
    (
        Field(
            "hydrometer_reference",
            "hydrometer_reference_c",
            Quantity(TEMPERATURE, "20 °C", Range("0 to 60 °C", 0.0, 60.0)),
            "printed on the scale",
        ),
        Field(
            "brix_per_plato", "brix_per_plato", Number("1.04", Range("0.9 to 1.2", 0.9, 1.2)), "of your refractometer"
        ),
    ),
)


class Config(NamedTuple):
    """The settings, defaults filled in. `flask`, `flasks` by name and `wort` are the file's own words, for batches."""

    units: System = "metric"
    decimal: str = "point"
    theme: str = "harbour-dusk"
    glyphs: str = "auto"
    folder: str = ""
    mouse: bool = True
    flask: Mapping[str, Any] = MappingProxyType({})
    flasks: Mapping[str, Mapping[str, Any]] = MappingProxyType({})
    wort: Mapping[str, Any] = MappingProxyType({})
    keys: Mapping[str, str] = MappingProxyType({})
    habits: Habits = Habits()

    @property
    def comma(self) -> bool:
        """Whether decimals are shown after a comma."""
        return self.decimal == "comma"

    def batches(self) -> Path:
        """The folder of batches."""
        if self.folder:
            try:
                return Path(self.folder.replace("\0", "")).expanduser()
            except RuntimeError:  # ~name of nobody here
                raise WorkbenchError(f"{harmless(self.folder)}: there is no such home folder: write the path") from None
        from platformdirs import user_documents_path

        return user_documents_path() / "brewing"


def config_path() -> Path:
    """Where the settings are looked for."""
    if given := os.environ.get("WORKBENCH_CONFIG"):
        return Path(given)
    from platformdirs import user_config_path

    return user_config_path(APP) / "config.toml"


def own_themes() -> Path:
    """Where the brewer's own themes are looked for; it need not be there."""
    return config_path().parent / "themes"


def load_config(path: Path | None = None) -> Config:
    """The settings; the defaults where there is no file. Raises FaultyFile, FileRefused."""
    path = path or config_path()
    if not path.exists():
        return Config()
    loaded = load(path)
    config, faults = read_config(loaded.data, loaded.text)
    if faults:
        raise FaultyFile(str(path), faults)
    return config


def read_config(data: Mapping[str, Any], text: str) -> tuple[Config, tuple[Fault, ...]]:
    """Config and every fault at once, in the file's order."""
    found = list(_faults(data))
    if found:
        layout = Layout(text)
        faults = (Fault(layout.line_of(key), key, what, right) for key, what, right in found)
        return Config(), tuple(sorted(faults, key=lambda fault: fault.line))
    top = {key: value for key, value in data.items() if _TOP.field(key) is not None}
    parts = {name: data[name] for name in ("flask", "flasks", "wort", "keys") if name in data}
    instruments = data.get("instruments", {})
    measured: dict[str, Any] = {
        f.attr: f.from_toml(instruments[f.key]) for f in _INSTRUMENTS.fields if f.key in instruments
    }
    return Config(**top, **parts, habits=Habits(**measured)), ()


def _faults(data: Mapping[str, Any]) -> Iterator[tuple[str, str, str]]:
    tables = {"instruments": _INSTRUMENTS, "flask": TABLES["flask"], "wort": TABLES["wort"]}
    for name, value in data.items():
        if _TOP.field(name) is not None:
            yield from _faults_in(_TOP, {name: value}, "")
            if name == "theme" and isinstance(value, str) and value not in (known := themes.names(own_themes())):
                yield name, f"there is no theme {named(value)}", f"write one of {', '.join(known)}"
        elif name == "keys":
            yield from _key_faults(value)
        elif name == "flasks":
            yield from _flask_faults(value)
        elif name not in tables:
            yield (
                name,
                "is no setting",
                f"the settings are {', '.join(f.key for f in _TOP.fields)}, {', '.join(tables)}",
            )
        elif not isinstance(value, dict):
            yield name, f"{named(value)} is no table", f"write [{name}]"
        else:
            yield from _faults_in(tables[name], value, f"{name}.")


def _flask_faults(raw: object) -> Iterator[tuple[str, str, str]]:
    for name, flask in raw.items() if isinstance(raw, dict) else [("", raw)]:
        if isinstance(flask, dict):
            yield from _faults_in(TABLES["flask"], flask, f"flasks.{name}.")
        else:
            yield (
                f"flasks.{name}".rstrip("."),
                f"{named(flask)} is no flask",
                'write [flasks.jug] and size = "5 L" below it',
            )


def _faults_in(table: Table, raw: Mapping[str, Any], at: str) -> Iterator[tuple[str, str, str]]:
    for key, value in raw.items():
        known = table.field(key)
        if known is None:
            yield at + key, "is no setting", f"the keys here are {', '.join(f.key for f in table.fields)}"
            continue
        try:
            known.from_toml(value)
        except QuantityError as error:
            yield at + key, error.what, error.right


def _key_faults(raw: object) -> Iterator[tuple[str, str, str]]:
    if not isinstance(raw, dict):
        yield "keys", f"{named(raw)} is no table", "write [keys]"
        return
    for action, key in raw.items():
        if not isinstance(key, str) or not key:
            yield f"keys.{action}", f"{named(key)} is no key", 'write the key as text: undo = "u"'
            return
    if said := _refused(raw):
        without = {action: {a: key for a, key in raw.items() if a != action} for action in raw}
        guilty = next((f".{action}" for action, rest in without.items() if not _refused(rest)), "")  # one alone, if so
        yield f"keys{guilty}", said, "a list of all actions and keys is in DEVELOPERS.md"


def _refused(keys: Mapping[str, str]) -> str:
    """What is wrong with the brewer's keys; nothing where they can be used."""
    if not keys:
        return ""
    from workbench.screens.keys import HOME_ACTIONS, KeysRefused, remapped  # the actions; they know no terminal

    try:
        remapped(keys)
        remapped(keys, HOME_ACTIONS)
    except KeysRefused as refused:
        return str(refused)
    return ""
