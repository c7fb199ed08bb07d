"""The home screen on a folder of invented batches, at a fixed hour and in a fixed zone."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tests.panes.scenes import AMBER, CET, NOW, ONE
from workbench.app import Workbench
from workbench.config import Config
from workbench.screens.home import Home
from workbench.units.mark import Mark

if TYPE_CHECKING:
    from pathlib import Path

    from textual.pilot import Pilot

__all__ = ["batches", "home_on", "settled", "shown"]


def _stamp(at: str, what: str, step: int = 1) -> str:
    return f'[[event]]\nat = {at}\nstep = {step}\nwhat = "{what}"\n'


def _named(name: str, text: str = ONE) -> str:
    return text.replace("Alder Lane Amber", name)


def batches(folder: Path) -> Path:
    """Eight batches, each at another point of its way."""
    fed = _stamp("2026-11-25T17:30:00Z", "yeast-in")
    texts = {
        "alder-lane-amber": ONE,
        "mill-race-porter": _named("Mill Race Porter").replace("28T15", "27T22") + fed,
        "quarry-lager": _named("Quarry Lager").replace("28T15", "27T20").replace("[beer]", 'pitch = "decanted"\n[beer]')
        + _stamp("2026-11-24T17:30:00Z", "yeast-in") + _stamp("2026-11-25T19:00:00Z", "chill-on"),
        "gatehouse-bitter": _named("Gatehouse Bitter").replace("11-28", "12-12").replace("1.6 L", "0.8 L"),
        "fen-row-mild": _named("Fen Row Mild", AMBER.replace("pitch_at", "# pitch_at")),
        "harbour-stout": _named("Harbour Stout").replace("11-28", "11-12")
        + _stamp("2026-11-12T14:10:00Z", "pitched", 0),
        "willow-wheat": _named("Willow Wheat").replace("2026-11-28", "2025-10-01").replace("2026-10", "2025-09"),
        "copper-house": _named("Copper House").replace("23 L", "23 kg"),
    }  # fmt: skip
    folder.mkdir(exist_ok=True)
    for name, text in texts.items():
        (folder / f"{name}.toml").write_text(text, "utf-8")
    return folder


def home_on(folder: Path, **config: object) -> Workbench:
    return Workbench(folder, clock=lambda: Mark(NOW), config=Config(**config), tz=CET, home=True)  # type: ignore[arg-type]


async def settled(pilot: Pilot[int]) -> None:
    """Until every batch has been read."""
    screen = pilot.app.screen
    assert isinstance(screen, Home)
    while screen.desk.index.pending:
        await pilot.pause(0.02)
    await pilot.pause()


def shown(app: Workbench) -> str:
    """What stands on the home screen."""
    assert isinstance(app.screen, Home)
    return "\n".join(canvas.text for canvas in app.screen.canvases if canvas.display)
