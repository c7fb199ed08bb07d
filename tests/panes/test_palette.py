from __future__ import annotations

import pytest

from workbench.panes import palette

TINTED = [name for name in palette.names() if not palette.load(name).ansi]


def luminance(colour: str) -> float:
    """Relative luminance, WCAG 2.1."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(a: str, b: str) -> float:
    high, low = sorted((luminance(a), luminance(b)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_there_are_themes() -> None:
    assert palette.DEFAULT in TINTED
    assert len(TINTED) >= 5
    assert "ansi" in palette.names()


@pytest.mark.parametrize("name", TINTED)
def test_every_text_can_be_read_on_every_ground(name: str) -> None:
    """WCAG 2.1 asks for 4.5."""
    colours = palette.load(name).colours
    for ink in ("text", "dim", "accent", "warning", "danger", "fine", "typed"):
        for ground in ("ground", "bar", "cursor"):
            assert contrast(colours[ink], colours[ground]) >= 4.5, (ink, ground)
    assert contrast(colours["ground"], colours["accent"]) >= 4.5
    assert contrast(colours["ground"], colours["typed"]) >= 4.5
    assert contrast(colours["wort"], colours["ground"]) >= 3.0


@pytest.mark.parametrize("name", palette.names())
@pytest.mark.parametrize("colour", [True, False])
def test_every_theme_has_a_style_for_every_role(name: str, colour: bool) -> None:
    usual = palette.styles(palette.load(palette.DEFAULT), colour=True)
    assert palette.styles(palette.load(name), colour=colour).keys() == usual.keys()


@pytest.mark.parametrize("name", palette.names())
def test_without_colour_there_is_none(name: str) -> None:
    for style in palette.styles(palette.load(name), colour=False).values():
        assert style.color is None
        assert style.bgcolor is None


def test_without_colour_the_cursor_is_reversed() -> None:
    table = palette.styles(palette.load(palette.DEFAULT), colour=False)
    assert all(style.reverse for role, style in table.items() if role.endswith("@"))


def test_the_terminals_own_colours_leave_its_ground_alone() -> None:
    assert all(style.bgcolor is None for style in palette.styles(palette.load("ansi"), colour=True).values())


def test_a_theme_that_is_not_there() -> None:
    with pytest.raises(KeyError):
        palette.load("../pyproject")
