"""A scratch copy of a demo batch, its days moved so that it is about to happen, or its hours so that it happens now."""

from __future__ import annotations

import re
import tempfile
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from workbench import data

if TYPE_CHECKING:
    from datetime import tzinfo

__all__ = ["DEFAULT", "names", "scratch_copy", "shifted"]

DEFAULT = "heron-weir-pale"
_LEAD_DAYS = 2  # the first feeding is then due within a day or so
_LONGER = {"long-night-barley-wine": 6, "mill-race-porter": 4, "quarry-lager": 5}
_PITCH_AT = re.compile(r"^pitch_at = (\d{4}-\d\d-\d\d)T", re.MULTILINE)
_QUARTER_S = 900
_SINCE = timedelta(minutes=1)  # the last stamp of one that is under way is so long ago
_STAMP = re.compile(r"^at = (\S+)", re.MULTILINE)
_DATE = re.compile(r"\b(\d{4}-\d\d-\d\d)(T\d\d:\d\d:\d\d)?(?:Z|[+-]\d\d:\d\d)?")


def names() -> list[str]:
    """The demo batches there are."""
    return sorted(path.stem for path in data.folder("demo").glob("*.toml"))


def shifted(text: str, now: datetime, tz: tzinfo | None = None, lead_days: int = _LEAD_DAYS) -> str:
    """The text of a session with every date moved by whole days, so that pitching is `lead_days` after `now`.

    Hours of the day stand; offsets become those of the local zone on that day. One with stamps is moved by the minute
    instead: the last of them is then just over.
    """
    if stamps := _STAMP.findall(text):
        return _at_work(text, now - _SINCE - max(map(datetime.fromisoformat, stamps)), tz)
    found = _PITCH_AT.search(text)
    if found is None:
        return text
    target = (now.astimezone(tz) + timedelta(days=lead_days)).date()
    days = target - datetime.fromisoformat(found[1]).date()

    def moved(match: re.Match[str]) -> str:
        date = datetime.fromisoformat(match[1]).date() + days
        if match[2] is None:
            return date.isoformat()
        local = datetime.fromisoformat(f"{date.isoformat()}{match[2]}")
        return (local.astimezone(tz) if tz is None else local.replace(tzinfo=tz)).isoformat()

    return _DATE.sub(moved, text)


def _at_work(text: str, by: timedelta, tz: tzinfo | None) -> str:
    """Every stamp (in UTC) moved by the same time; what is planned to the quarter hour, days by whole days."""
    days = round(by / timedelta(days=1))

    def moved(match: re.Match[str]) -> str:
        if match[2] is None:
            return (datetime.fromisoformat(match[1]) + timedelta(days=days)).date().isoformat()
        at = datetime.fromisoformat(match[0]) + by
        if not match[0].endswith("Z"):
            at = datetime.fromtimestamp(round(at.timestamp() / _QUARTER_S) * _QUARTER_S, UTC)
        return at.astimezone(tz).isoformat(timespec="seconds")

    return _DATE.sub(moved, text)


def scratch_copy(name: str, now: datetime, tz: tzinfo | None = None) -> Path:
    """Write demo batch `name` into a new temporary folder and give its path. FileNotFoundError if there is none."""
    text = (data.folder("demo") / f"{name}.toml").read_text(encoding="utf-8")
    path = Path(tempfile.mkdtemp(prefix="workbench-demo-")) / f"{name}.toml"
    path.write_text(shifted(text, now, tz, _LONGER.get(name, _LEAD_DAYS)), encoding="utf-8")
    return path
