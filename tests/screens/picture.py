"""Makes the README's picture of the screen: `python -m tests.screens.picture`."""

from __future__ import annotations

import asyncio
import tempfile
from pathlib import Path

from tests.panes.scenes import CET, NOW
from workbench.app import Workbench
from workbench.config import Config
from workbench.units.mark import Mark

DEMO = Path(__file__).parents[2] / "demo"
PICTURE = DEMO / "screen.svg"


async def picture(name: str = "long-night-barley-wine", size: tuple[int, int] = (120, 40), keys: str = "3") -> str:
    """The screen of a demo batch as SVG, at a fixed hour."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"{name}.toml"
        path.write_bytes((DEMO / path.name).read_bytes())
        app = Workbench(path, clock=lambda: Mark(NOW), config=Config(), tz=CET)
        async with app.run_test(size=size) as pilot:
            await pilot.press(*keys)
            await pilot.pause()
            return app.export_screenshot(title=name)


if __name__ == "__main__":
    PICTURE.write_text(asyncio.run(picture()), encoding="utf-8")
