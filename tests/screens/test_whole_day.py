"""A whole brew day by keys alone, from opening a demo to the yeast in the beer, by a clock that is told to go."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tests.panes.scenes import CET
from tests.screens.clocks import FakeClock
from workbench.app import Workbench
from workbench.config import Config

if TYPE_CHECKING:
    from collections.abc import Callable

    from textual.pilot import Pilot

DEMO = Path(__file__).parents[2] / "demo" / "alder-lane-amber.toml"
MOST_KEYS = 60


class Brewer:
    """Presses keys, counts them, and lets time pass."""

    def __init__(self, pilot: Pilot[int], app: Workbench, clock: FakeClock) -> None:
        self.pilot, self.app, self.clock, self.keys = pilot, app, clock, 0

    async def press(self, *keys: str) -> None:
        self.keys += len(keys)
        await self.pilot.press(*keys)

    async def write(self, text: str) -> None:
        await self.press(*("space" if sign == " " else "full_stop" if sign == "." else sign for sign in text), "enter")

    async def wait(self, **span: float) -> None:
        self.clock.go(**span)
        self.app._tick()
        await self.pilot.pause()

    def top(self) -> str:
        return str(self.app.screen.query_one("#top").text)  # type: ignore[attr-defined]


@pytest.mark.asyncio
async def test_from_the_demo_to_the_pitch(
    tmp_path: Path, record_testsuite_property: Callable[[str, object], None]
) -> None:
    path = tmp_path / DEMO.name
    path.write_bytes(DEMO.read_bytes())
    clock = FakeClock(datetime(2026, 11, 27, 13, 45, tzinfo=UTC))  # Fri 14:45, an hour before weighing
    app = Workbench(path, clock=clock, config=Config(), tz=CET)
    async with app.run_test(size=(80, 24)) as pilot:
        brewer = Brewer(pilot, app, clock)
        assert "NEXT Fri 15:45 yeast out" in brewer.top()
        await brewer.press("6")
        for minutes in (60, 5, 10, 5):  # the yeast out, cleaned, weighed, dissolved
            await brewer.wait(minutes=minutes)
            await brewer.press("d")
        await brewer.wait(minutes=12)
        await brewer.press("d")  # it boils
        await brewer.wait(minutes=2)
        assert "BOIL 02:00 of 10:00" in brewer.top()
        await brewer.press("b")  # foam
        await brewer.wait(seconds=45)
        assert "HELD 00:45, boiled 02:00 of 10:00" in brewer.top()
        await brewer.press("b")
        await brewer.wait(minutes=7, seconds=5)
        assert "RING a minute of the boil is left" in brewer.top()
        await brewer.wait(seconds=60)
        assert "RING boil done: heat off" in brewer.top()
        await brewer.press("d")
        await brewer.wait(minutes=4)
        await brewer.press("d")
        await brewer.write("2")
        for minutes, celsius in ((3, "74"), (3, "56.5"), (3, "43")):
            await brewer.wait(minutes=minutes)
            await brewer.press("t")
            await brewer.write(celsius)
        assert "COOLING 43 °C by now, cool at 16:49" in brewer.top()
        await brewer.wait(minutes=7)
        await brewer.press("d")
        await brewer.wait(minutes=2)
        await brewer.press("d")
        await brewer.write("1.0345 24")
        await brewer.wait(minutes=5)
        await brewer.press("d", "d", "d")  # yeast in, shaken, on the plate
        assert "look and smell" in brewer.top()
        await brewer.wait(hours=12)
        await brewer.press("d")
        await brewer.wait(hours=8)
        await brewer.press("d")
        await brewer.wait(hours=2)
        await brewer.press("d")
        assert "nothing more planned" in brewer.top()
        session = app._desk.store.session  # type: ignore[union-attr]
        await brewer.press("q")
    record_testsuite_property("keys of the whole day", brewer.keys)
    assert brewer.keys <= MOST_KEYS
    whats = [event.what for event in session.event if event.what not in {"task-done", "rang"}]
    assert whats == ["boil-on", "boil-hold", "boil-on", "boil-done", "cool-on", "cool-done", "yeast-in", "pitched"]
    assert [reading.kind for reading in session.reading] == ["temperature"] * 3 + ["gravity"]
    assert path.read_text(encoding="utf-8").count("pitched") == 1  # all of it on the disk
    assert session.event[-1].at - session.batch.pitch_at < timedelta(hours=1)  # type: ignore[operator]
