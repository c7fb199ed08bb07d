"""Imports run downward only, and commands without a screen do not pay for one."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
PACKAGE = ROOT / "workbench"

# What each layer may import of the package besides itself; `errors` is open to all.
ALLOWED = {
    "brewing": set(),
    "units": {"brewing"},
    "session": {"brewing", "units"},
    "plan": {"brewing", "units", "session"},
    "panes": {"brewing", "units", "session", "plan", "themes"},
    "screens": {"brewing", "units", "session", "plan", "panes", "themes"},
}
CORE = ("brewing", "units", "session", "plan")


def imports(path: Path) -> set[str]:
    """Every module that a file imports, anywhere in it, those for typing alone included."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found |= {f"{node.module}.{alias.name}" for alias in node.names}
    return found


@pytest.mark.parametrize("layer", ALLOWED)
def test_a_layer_imports_downward_only(layer: str) -> None:
    files = sorted((PACKAGE / layer).rglob("*.py"))
    assert files
    for path in files:
        own = {name.split(".")[1] for name in imports(path) if name.startswith("workbench.")}
        assert own <= ALLOWED[layer] | {layer, "errors"}, path


@pytest.mark.parametrize("layer", CORE)
def test_the_core_cannot_see_the_screen(layer: str) -> None:
    for path in (PACKAGE / layer).rglob("*.py"):
        tops = {name.split(".")[0] for name in imports(path)}
        assert tops.isdisjoint({"textual", "rich"}), path


@pytest.mark.parametrize(
    ("words", "code"),
    [
        (["--help"], 0),
        (["--version"], 0),
        (["sheet", "demo/alder-lane-amber.toml", "--json"], 0),
        (["sheet", "demo/long-night-barley-wine.toml"], 0),
        (["calendar", "demo/quarry-lager.toml", "--at", "2026-11-26T08:00:00Z"], 0),
        (["table", "demo/quarry-lager.toml"], 0),
        (["check", "demo/quarry-lager.toml"], 0),
        (["list", "--folder", "demo"], 0),
        (["demo"], 0),
        (["new", "{tmp}/a.toml"], 0),
        (["new", "{tmp}/a.toml", "--from", "demo/long-night-barley-wine.toml"], 0),
    ],
)
def test_a_command_without_a_screen_imports_none(words: list[str], code: int, tmp_path: Path) -> None:
    program = (
        "import sys, atexit\n"
        "from workbench.cli import main\n"
        "def told():\n"
        "    heavy = sorted({m.split('.')[0] for m in sys.modules} & {'textual', 'rich', 'asyncio'})\n"
        "    print('HEAVY', *heavy, file=sys.stderr)\n"
        "atexit.register(told)\n"
        "sys.exit(main(sys.argv[1:]))\n"
    )
    words = [word.format(tmp=tmp_path) for word in words]
    done = subprocess.run(
        [sys.executable, "-c", program, *words], cwd=ROOT, capture_output=True, text=True, stdin=subprocess.DEVNULL
    )
    assert done.returncode == code, done.stderr
    assert done.stderr.strip().splitlines()[-1] == "HEAVY", done.stderr
