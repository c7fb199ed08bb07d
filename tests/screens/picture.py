"""Makes the pictures in `demo/` that the README shows: `python -m tests.screens.picture`."""

from __future__ import annotations

import asyncio
import os
import tempfile
from datetime import datetime
from pathlib import Path
from typing import NamedTuple
from unittest.mock import patch

from tests.panes.scenes import CET, NOW
from workbench.app import Workbench
from workbench.config import Config
from workbench.screens.home import Home
from workbench.units.mark import Mark

DEMO = Path(__file__).parents[2] / "demo"
COOLING = datetime(2026, 11, 27, 16, 38, tzinfo=CET)
_DAY = "2026-11-27T16"
_COOLED = "".join(
    f'\n[[event]]\nat = {_DAY}:{at}:00+01:00\nstep = 1\nwhat = "{what}"\n{more}'
    for at, what, more in (("14", "boil-on", ""), ("24", "boil-done", ""), ("27", "cool-on", 'temperature = "12 °C"\n'))
) + "".join(
    f'\n[[reading]]\nat = {_DAY}:{at}:00+01:00\nstep = 1\nkind = "temperature"\nvalue = "{celsius} °C"\n'
    for at, celsius in (("29", 79), ("32", 58), ("36", 41))
)


class Picture(NamedTuple):
    """What one shows: a demo batch, or all of them on the home screen; how large, after which keys, and when."""

    batch: str
    size: tuple[int, int]
    keys: tuple[str, ...] = ()
    theme: str = "harbour-dusk"
    at: datetime = NOW
    more: str = ""  # what has happened since, in the words of the session file


PICTURES = {
    "screen": Picture("long-night-barley-wine", (120, 40), ("3",)),
    "narrow": Picture("alder-lane-amber", (80, 24), ("3",)),
    "cooling": Picture("alder-lane-amber", (100, 30), ("5",), at=COOLING, more=_COOLED),
    "home": Picture("", (100, 24), ("down",)),
    "light": Picture("mill-race-porter", (120, 40), ("3", "p"), "linen-noon"),
}


async def picture(name: str) -> str:
    """One of them as SVG."""
    shown = PICTURES[name]
    with tempfile.TemporaryDirectory() as folder, patch("workbench.screens.home_drawing.short", lambda _: "~/brewing"):
        for demo in DEMO.glob("*.toml"):
            more = shown.more if demo.stem == shown.batch else ""
            (Path(folder) / demo.name).write_text(demo.read_text("utf-8") + more, "utf-8")
        path = Path(folder) / f"{shown.batch}.toml" if shown.batch else Path(folder)
        config = Config(theme=shown.theme)
        app = Workbench(path, clock=lambda: Mark(shown.at), config=config, tz=CET, home=not shown.batch)
        async with app.run_test(size=shown.size) as pilot:
            while isinstance(app.screen, Home) and app.screen.desk.index.pending:
                await pilot.pause(0.02)
            await pilot.press(*shown.keys)
            await pilot.pause()
            return app.export_screenshot(title=shown.batch or "workbench")


def path_of(name: str) -> Path:
    """Where it is kept."""
    return DEMO / f"{name}.svg"


if __name__ == "__main__":
    os.environ |= {"TERM": "xterm-256color", "COLORTERM": "truecolor"}
    os.environ.pop("NO_COLOR", None)
    for each in PICTURES:
        path_of(each).write_text(asyncio.run(picture(each)), encoding="utf-8")
