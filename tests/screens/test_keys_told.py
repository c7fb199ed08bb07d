"""What is to be pressed is told by the keys that the brewer has set, wherever a key is told."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest

from tests.panes.scenes import AMBER, ONE, TWO
from tests.screens.desks import desk_on, pane_text
from tests.screens.test_pages import SESSIONS
from workbench.panes.rows import stops
from workbench.screens import bars
from workbench.screens.hints import hint
from workbench.screens.keys import ACTIONS, PANES

if TYPE_CHECKING:
    from pathlib import Path

    from workbench.panes.spans import Spans
    from workbench.screens.desk import Desk

# a key with a verb, with a colon, or asked to be pressed; an article or a unit is none
OURS = re.compile(r"⏎|Enter|\[ \]|(?:^|[ :;,(])[b-zC-EN?+:-]:? (?:[a-z]+s\b|a minute|done)|space turns|[Pp]ress \w\b")


def own_keys(desk: Desk) -> Desk:
    """Every action on a key of the brewer's own."""
    desk.actions = tuple(action._replace(keys=(f"<{action.id}>",), shown="") for action in ACTIONS)
    desk.redraw()
    return desk


def said(spans: Spans) -> str:
    return "".join(text for text, _ in spans)


def everything(desk: Desk) -> str:
    """All panes, the hint of each row, the lines around them."""
    texts = []
    for desk.pane in range(len(PANES)):
        texts.append(pane_text(desk))
        for index in stops(desk.rows(desk.pane)):
            desk.put(desk.rows(desk.pane)[index].id)
            texts.append(said(hint(desk, 200)))
        texts += map(said, (*bars.top(desk, 200, 2), *bars.bottom(desk, 200)))
    return "\n".join(texts)


@pytest.mark.parametrize(("text", "told"), [(ONE, "d: done"), (ONE, "Press m"), (AMBER, "p shows"), (TWO, "[ ]")])
def test_ours_are_found_where_they_are_told(tmp_path: Path, text: str, told: str) -> None:
    found = {found.strip() for found in OURS.findall(everything(desk_on(tmp_path / "a.toml", text)))}
    assert found >= {"⏎", told}


@pytest.mark.parametrize("text", SESSIONS.values(), ids=SESSIONS)
def test_no_key_of_ours_is_told_where_the_brewer_has_own_ones(tmp_path: Path, text: str) -> None:
    told = everything(own_keys(desk_on(tmp_path / "a.toml", text)))
    assert not OURS.findall(told)
    assert "<done>" in told
