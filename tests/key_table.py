"""The tables of keys in the guides, made from the program's own: `python -m tests.key_table` writes them anew."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from workbench.screens.keys import ACTIONS, HOME_ACTIONS, PANES

if TYPE_CHECKING:
    from collections.abc import Iterable

    from workbench.screens.keys import Action

ROOT = Path(__file__).parent.parent
BEGIN, END = "<!-- keys -->\n", "<!-- end of keys -->"


def readme_table() -> str:
    """Both tables of actions as Markdown."""
    return (
        f"On a batch:\n\n{_table(ACTIONS, where=True)}\nOn the list of batches:\n\n{_table(HOME_ACTIONS, where=False)}"
    )


def _table(actions: Iterable[Action], *, where: bool) -> str:
    head = "| key | name | what it does |" + (" where |" if where else "") + " in the settings |"
    lines = [head, "| --- " * head.count(" |") + "|"]
    for action in actions:
        keys = " ".join(f"`{key}`" for key in action.keys)
        panes = ", ".join(PANES[pane] for pane in sorted(action.panes)) if len(action.panes) < len(PANES) else "all"
        told = f"| {keys} | {action.called} | {action.help} |" + (f" {panes} |" if where else "")
        lines.append(f"{told} `{action.id}` |")
    return "\n".join(lines) + "\n"


def sample() -> str:
    """All actions with their keys, as they would stand in the settings."""
    told: dict[str, list[Action]] = {}
    for action in (*ACTIONS, *HOME_ACTIONS):
        told.setdefault(action.id, []).append(action)
    lines = []
    for name, actions in told.items():
        setting = f'# {name} = "{", ".join(actions[0].keys)}"'
        lines.append(f"{setting:<34} # {'; list: '.join(dict.fromkeys(action.help for action in actions))}")
    return "```toml\n[keys]\n" + "\n".join(lines) + "\n```\n"


BLOCKS = {"README.md": readme_table, "DEVELOPERS.md": sample}


def block_of(guide: str) -> str:
    """What the guide has now."""
    return (ROOT / guide).read_text("utf-8").partition(BEGIN)[2].partition(END)[0]


if __name__ == "__main__":
    for guide, made in BLOCKS.items():
        text = (ROOT / guide).read_text("utf-8")
        before, _, rest = text.partition(BEGIN)
        (ROOT / guide).write_text(before + BEGIN + made() + END + rest.partition(END)[2], "utf-8")
