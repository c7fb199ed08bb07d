"""Lint and types are part of the tests: one command tells whether a change is fit to land."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent


@pytest.mark.slow
@pytest.mark.parametrize(
    "words",
    [["ruff", "check", "."], ["ruff", "format", "--check", "."], ["mypy"]],
    ids=["lint", "format", "types"],
)
def test_the_tree_is_tidy(words: list[str]) -> None:
    done = subprocess.run([sys.executable, "-m", *words], cwd=ROOT, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr


def test_no_file_outgrows_a_reader() -> None:
    lengths = {path: len(path.read_text(encoding="utf-8").splitlines()) for path in (ROOT / "workbench").rglob("*.py")}
    assert lengths
    assert {path.name for path, lines in lengths.items() if lines > 400} == set()
