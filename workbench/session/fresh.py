"""The text and the name of a new session file."""

from __future__ import annotations

import re
import unicodedata
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from workbench.session.fields import FORMAT, TABLES
from workbench.session.literal import literal

if TYPE_CHECKING:
    from collections.abc import Mapping

    from workbench.session.literal import TomlValue

__all__ = ["ASIDE", "fresh_text", "safe_file_name"]

ASIDE = r"\.mine(?:-\d+)?"
"""How the names of files that were put aside end, before .toml; no batch gets such a name."""
_SUFFIX = ".toml"
_MOST_BYTES = 100
_NOT_IN_NAMES = re.compile(r'[\s<>:"/\\|?*]+')
_RESERVED = re.compile(
    r"con|prn|aux|nul|com[\d¹²³]|lpt[\d¹²³]|conin\$|conout\$", re.ASCII
)  # names that some systems keep for devices

_HEAD = """\
# One batch. A line that begins with # is a remark; write as many as you like, they are kept.
# Quantities are text with a unit, as you would say them: "23 L", "5 gal", "1.056", "13.8 °P", "68 °F", "90 min".
# What is left out has a usual value, or the plan says that it still needs it.
"""
_BATCH = """\
# pitch_at = 2026-11-28T15:00:00+01:00 is when the yeast goes into the beer.
# pitch = "whole" or "decanted"; chance = 0.5 to 0.95 is how likely the need is to be met; note = "…".
"""
_SHELF = """\
# pitch_at = 2026-11-28T15:00:00+01:00 is when the starter goes into the fridge. There is no beer: all is kept.
"""
_BEER = """\
# volume = "23 L", gravity = "1.056", type = "ale" or "lager"; pitch_rate = 0.75 million cells per mL and °P.
"""
_YEAST = """\
# The yeast on hand, as many [[yeast]] as there are lots. kind = "pack", "dry", "slurry", "kept" or "counted".
#   [[yeast]]
#   kind = "pack"
#   made_on = 2026-10-19        packed, harvested, kept or counted on
#   cells = "100 B"             in each pack, when new
#   count = 1
# A jar counted under the microscope may give its raw count instead of cells.
#   [[yeast]]
#   kind = "counted"
#   squares = "33 38 31 41 32"    cells found in each square, dead and alive
#   square = "0.004 µL"           over a square of 0.2 mm; over one of 1 mm 0.1 µL
#   dilution = 40                 times the sample was diluted
#   stained = 12                  dead ones among all that were found
#   volume = "200 mL"             in the jar
"""
_FLASK = """\
# size = "3 L", glass = "0.7 kg", count = 1; fill_limit = "2.7 L" while growing, boil_limit = "2.1 L" while boiling.
"""
_WORT = """\
# How wort is made here: gravity = "1.034", boil_time = "10 min", boil_off = "80 mL" in that time,
# boil_in = "flask" or "pot", motion = "stirred", "swirled" or "still", temperature = "21 °C" while growing.
"""
_STEPS = """\
# The feedings, in order, each as a [[step]].
#   [[step]]
#   wort = "1.6 L"
#   decant = false              true: the spent wort is poured off first
"""
_KEEP = """\
# What is held back for another batch: cells = "60 B", or volume = "0.5 L"; every = "28 d" from batch to batch.
"""


def fresh_text(name: str, *, flask: Mapping[str, TomlValue], wort: Mapping[str, TomlValue], shelf: bool = False) -> str:
    """The text of a new session called `name`, with remarks that teach the format.

    `flask` and `wort` are the brewer's own by key, as typed or as TOML has them. With `shelf` it is a build for the
    shelf, without a beer.
    Raises QuantityError for a value that the format does not allow, KeyError for a key it has not.
    """
    blocks = [
        f"{_HEAD}format = {FORMAT}\n",
        f"{_SHELF if shelf else _BATCH}[batch]\nname = {literal(name)}\n",
        f"{_KEEP}[keep]\n" if shelf else f"{_BEER}[beer]\n",
        _YEAST,
        _FLASK + _table("flask", flask),
        _WORT + _table("wort", wort),
        _STEPS,
    ]
    return "\n".join(blocks)


def safe_file_name(name: str) -> str:
    """A file name for a batch called `name`, good on any system: at most 100 bytes of UTF-8, ending in .toml.

    >>> safe_file_name("Alder Lane Amber")
    'alder-lane-amber.toml'
    """
    seen = "".join(c for c in name.lower() if c.isspace() or unicodedata.category(c)[0] != "C")
    kept = _NOT_IN_NAMES.sub("-", unicodedata.normalize("NFC", seen).removesuffix(_SUFFIX))
    stem = re.sub("-+", "-", kept).strip("-. ") or "batch"
    if _RESERVED.fullmatch(stem.partition(".")[0]):
        stem = f"batch-{stem}"
    stem = stem.encode()[: _MOST_BYTES - len(_SUFFIX)].decode(errors="ignore").rstrip("-. ")
    return re.sub(f"{ASIDE}$", lambda mine: f"-{mine[0][1:]}", stem) + _SUFFIX


def _table(name: str, values: Mapping[str, TomlValue]) -> str:
    return "\n".join([f"[{name}]", *(f"{key} = {_written(name, key, text)}" for key, text in values.items()), ""])


def _written(table: str, key: str, value: TomlValue) -> str:
    field = TABLES[table].field(key)
    if field is None:
        raise KeyError(f"{table}.{key}")
    if not isinstance(value, str):
        field.from_toml(value)
        return literal(value)
    return literal(field.from_typed(value, datetime.now(UTC), UTC)[1])
