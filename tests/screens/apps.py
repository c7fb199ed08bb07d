"""The app on a file, at a fixed hour and in a fixed zone."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tests.panes.scenes import CET, NOW
from workbench.app import Workbench
from workbench.config import Config
from workbench.units.mark import Mark

if TYPE_CHECKING:
    from pathlib import Path


def app_on(path: Path, text: str, **config: object) -> Workbench:
    path.write_text(text, "utf-8")
    return Workbench(path, clock=lambda: Mark(NOW), config=Config(**config), tz=CET)  # type: ignore[arg-type]
