"""Invented session files, with all that makes editing a text hard."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

COMMENTED = '''\
# Kettle Row Porter, second try
format = 1

[batch]   # the batch
name = "Kettle Row \\"Porter\\""
pitch_at = 2026-11-28T15:00:00+01:00   # after lunch
note = """
[[step]]
# no comment, but text = 1
"""
my_own.colour = 'dark'   # a key of my own

# the beer
[beer]
volume = "23 L"          # to the fermenter
gravity = "1.056"

# pack from the shop
[[yeast]]
kind = "pack"
made_on = 2026-10-19
cells = "100 B"
# the label says 100

[[yeast]]
kind = 'kept'
made_on = 2026-09-01
cells = "40 B"
# a jar from the fridge

# ---- set apart ----

[flask]
size = "5 L"

[shopping]               # not of the format
list = [ "malt", # two bags
  "hops" ]

# first feeding
[[step]]
  wort = "1,6 l"
  # hours = "30 h"

# second feeding
[[step]]
wort = "2 L"
decant = true
[step.remark]
text = "pour slowly"

[[step]]
wort = "2.5 L"

[[event]]
at = 2026-11-27T15:02:00Z
what = "boil-on"
'''

COMPACT = """\
format=1
beer={volume="20 L",gravity="1.050"}
flask.size="3 L"
flask.count=2
yeast=[{kind="dry",mass="11.5 g"},# one
  {kind="pack"} # two
]
[[step]]
wort="1 L"
[[step]]
wort="2 L"
[keep]
cells="20 B"
"""

BARE = "format = 1\n"

ENDLESS = 'format = 1\n\n[batch]\nname = "no line ending at the end"\n\n[[step]]\nwort = "1 L"'

ALL = {
    "commented": COMMENTED,
    "compact": COMPACT,
    "bare": BARE,
    "endless": ENDLESS,
    "crlf": COMMENTED.replace("\n", "\r\n"),
    "bom": "\ufeff" + COMMENTED,
}


def names(directory: Path) -> list[str]:
    """What is in the directory, in order; locks are left out."""
    return sorted(path.name for path in directory.iterdir() if path.suffix != ".lock")
