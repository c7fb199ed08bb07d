"""No settings or indexes from the tester's own machine."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import settings

from tests.examples import profile

if TYPE_CHECKING:
    from pathlib import Path


settings.register_profile("project", profile())
settings.load_profile("project")


@pytest.fixture(autouse=True)
def _no_settings(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("WORKBENCH_CONFIG", str(tmp_path / "no-settings.toml"))
    monkeypatch.setenv("WORKBENCH_CACHE", str(tmp_path / "no-cache"))
