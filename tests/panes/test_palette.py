from __future__ import annotations

import pytest

from workbench import themes
from workbench.panes import palette


@pytest.mark.parametrize("name", themes.names())
@pytest.mark.parametrize("colour", [True, False])
def test_every_theme_has_a_style_for_every_role(name: str, colour: bool) -> None:
    usual = palette.styles(themes.load(themes.DEFAULT), colour=True)
    assert palette.styles(themes.load(name), colour=colour).keys() == usual.keys()


@pytest.mark.parametrize("name", themes.names())
def test_without_colour_there_is_none(name: str) -> None:
    for style in palette.styles(themes.load(name), colour=False).values():
        assert style.color is None
        assert style.bgcolor is None


def test_without_colour_the_cursor_is_reversed() -> None:
    table = palette.styles(themes.load(themes.DEFAULT), colour=False)
    assert all(style.reverse for role, style in table.items() if role.endswith("@"))


def test_the_terminals_own_colours_leave_its_ground_alone() -> None:
    assert all(style.bgcolor is None for style in palette.styles(themes.load("ansi"), colour=True).values())
