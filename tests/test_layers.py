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
        (["sheet", "demo/mill-race-porter.toml", "--markdown"], 0),
        (["sheet", "{tmp}/none.toml"], 1),
        (["check", "{tmp}/none.toml"], 1),
        (["demo", "none"], 1),
        (["demo/quarry-lager.toml"], 2),  # the screen, without a terminal
        ([], 2),
        (["--folder"], 2),
    ],
)
def test_a_command_without_a_screen_imports_none(words: list[str], code: int, tmp_path: Path) -> None:
    assert imported(words, code, tmp_path) & {"textual", "rich", "asyncio"} == set()


@pytest.mark.parametrize(
    ("words", "code"), [(["--help"], 0), (["sheet", "--help"], 0), (["--version"], 0), (["sheet"], 2), (["a.toml"], 2)]
)
def test_what_needs_no_batch_reads_none(words: list[str], code: int, tmp_path: Path) -> None:
    parts = {"brewing", "session", "plan", "panes", "screens", "config", "sheet"}
    assert imported(words, code, tmp_path) & {f"workbench.{part}" for part in parts} == set()


def imported(words: list[str], code: int, tmp_path: Path) -> set[str]:
    """The modules that a command has imported by its end."""
    program = (
        "import sys, atexit\n"
        "from workbench.cli import main\n"
        "atexit.register(lambda: print('\\nIMPORTED', *sys.modules, file=sys.stderr))\n"
        "sys.exit(main(sys.argv[1:]))\n"
    )
    words = [word.format(tmp=tmp_path) for word in words]
    done = subprocess.run(
        [sys.executable, "-c", program, *words], cwd=ROOT, capture_output=True, text=True, stdin=subprocess.DEVNULL
    )
    assert done.returncode == code, done.stderr
    sign, *modules = done.stderr.splitlines()[-1].split()
    assert sign == "IMPORTED", done.stderr
    return set(modules)


def test_the_first_line_is_out_before_textual_is_looked_for(tmp_path: Path) -> None:
    program = (
        "import sys\n"
        "sys.modules['textual'] = None\n"  # its import fails from now on
        "from pathlib import Path\n"
        "from workbench.opening import _screen\n"
        "_screen(Path('a.toml'))\n"
    )
    done = subprocess.run([sys.executable, "-c", program], cwd=ROOT, capture_output=True, text=True)
    assert done.stdout == "opening a.toml ...\n"
    assert "textual" in done.stderr


def test_the_home_screen_does_not_wait_for_the_bench() -> None:
    program = (
        "import sys, workbench.app, workbench.listing, workbench.screens.home, workbench.screens.home_desk\n"
        "print(*sys.modules)\n"
    )
    done = subprocess.run([sys.executable, "-c", program], cwd=ROOT, capture_output=True, text=True, check=True)
    parts = {"screens.bench", "screens.desk", "screens.drawing", "session.store", "plan.derive", "plan.planner"}
    assert set(done.stdout.split()) & {f"workbench.{part}" for part in parts} == set()
