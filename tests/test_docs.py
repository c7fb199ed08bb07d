"""The guides say what the code is."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from tests.key_table import BLOCKS, block_of, sample
from workbench import themes
from workbench.config import SAMPLE, Config, read_config
from workbench.screens.keys import ACTIONS, HOME_ACTIONS, remapped

ROOT = Path(__file__).parent.parent
GUIDE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
README = (ROOT / "README.md").read_text(encoding="utf-8")


def test_every_module_has_its_line() -> None:
    for path in (ROOT / "workbench").rglob("*.py"):
        assert path.name.startswith("__") or f"- `{path.name}`: " in GUIDE, path


def test_the_sample_of_the_settings_is_the_one_in_the_code_and_equals_the_defaults() -> None:
    assert SAMPLE in GUIDE
    config, faults = read_config(tomllib.loads(SAMPLE), SAMPLE)
    assert faults == ()
    assert config._replace(flask={}, wort={}, keys={}) == Config()._replace(flask={}, wort={}, keys={})


def test_the_sample_theme_can_be_used(tmp_path: Path) -> None:
    sample = GUIDE.split("## Themes")[1].split("```toml\n")[1].split("```")[0]
    (tmp_path / "mine.toml").write_text(sample, encoding="utf-8")
    theme = themes.load("mine", tmp_path)
    assert themes.faint(theme) == ""
    assert min(themes.contrast(theme.colours["wort"], theme.colours[on]) for on in ("ground", "cursor")) >= 3.0
    assert all(f"`{name}`" in README for name in themes.names())


def test_ci_runs_the_command_of_the_readme() -> None:
    command = next(line for line in README.splitlines() if line.endswith("-m pytest"))
    assert command in (ROOT / ".ci" / "run").read_text(encoding="utf-8")


def test_the_readme_session_is_the_demo() -> None:
    text = README.split("```toml\n")[1].split("```")[0]
    demo = tomllib.loads((ROOT / "demo" / "alder-lane-amber.toml").read_text(encoding="utf-8"))
    assert tomllib.loads(text) == demo


@pytest.mark.parametrize("guide", BLOCKS)
def test_the_keys_in_the_guides_are_those_of_the_code(guide: str) -> None:
    assert block_of(guide) == BLOCKS[guide](), "python -m tests.key_table writes them anew"


def test_the_sample_of_keys_equals_the_defaults() -> None:
    text = sample().removeprefix("```toml\n").removesuffix("```\n").replace("\n# ", "\n")
    config, faults = read_config(tomllib.loads(text), text)
    assert faults == ()
    assert config.keys.keys() == {action.id for action in (*ACTIONS, *HOME_ACTIONS)}
    for table in (ACTIONS, HOME_ACTIONS):
        assert [action.keys for action in remapped(config.keys, table)] == [action.keys for action in table]
