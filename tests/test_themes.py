"""The themes that come along can be read in any light; the brewer's own are used, or told of."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from rich.color import Color, ColorSystem

from workbench import themes

if TYPE_CHECKING:
    from pathlib import Path

TINTED = [name for name in themes.names() if not themes.load(name).ansi]
SUN = "linen-noon"
OWN = """\
dark = true
ground = "#101010"
bar = "#181818"
cursor = "#202020"
text = "#f0f0f0"
dim = "#c0c0c0"
accent = "#80d0f0"
warning = "#f0c060"
danger = "#ff9080"
fine = "#90d090"
typed = "#f0e0b0"
wort = "#c08030"
rule = "#404040"
"""


def own(tmp_path: Path, text: str, name: str = "mine") -> Path:
    (tmp_path / f"{name}.toml").write_text(text, "utf-8")
    return tmp_path


def refused(tmp_path: Path, text: str) -> str:
    with pytest.raises(themes.ThemeRefused) as wrong:
        themes.load("mine", own(tmp_path, text))
    return str(wrong.value)


# ---- contrast -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("ink", "ground", "ratio"),
    [
        ("#000000", "#ffffff", 21.0),  # by the definition itself: (1 + 0.05) / (0 + 0.05)
        ("#777777", "#ffffff", 4.48),  # the two greys next to the limit of 4.5 on white: from memory, widely quoted
        ("#767676", "#ffffff", 4.54),
        ("#123456", "#123456", 1.0),
    ],
)
def test_contrast_is_that_of_wcag(ink: str, ground: str, ratio: float) -> None:
    """W3C, WCAG 2.2: (L1 + 0.05) / (L2 + 0.05) of relative luminances, whichever is the lighter."""
    assert themes.contrast(ink, ground) == pytest.approx(ratio, abs=0.005)
    assert themes.contrast(ground, ink) == themes.contrast(ink, ground)


def test_there_are_dark_and_light_themes_and_the_terminals_own() -> None:
    assert themes.DEFAULT in TINTED
    dark = [themes.load(name).dark for name in TINTED]
    assert dark.count(True) >= 2
    assert dark.count(False) >= 2
    assert themes.load("ansi").ansi


@pytest.mark.parametrize("name", TINTED)
@pytest.mark.parametrize("ground", themes.GROUNDS)
def test_every_text_can_be_read_on_every_ground(name: str, ground: str) -> None:
    """WCAG 2.2, 1.4.3: 4.5 for text; none here is large. For bright sun 7, as 1.4.6 asks."""
    colours = themes.load(name).colours
    least = 7.0 if name == SUN else 4.5
    assert {ink for ink in themes.INKS if themes.contrast(colours[ink], colours[ground]) < least} == set()


@pytest.mark.parametrize("name", TINTED)
def test_what_brings_its_own_ground_can_be_read(name: str) -> None:
    colours = themes.load(name).colours
    for ground in ("accent", "typed"):  # the tag of the chosen pane, the field that is typed in
        assert themes.contrast(colours["ground"], colours[ground]) >= (7.0 if name == SUN else 4.5)
    for ground in ("ground", "cursor"):  # wort and empty glass: a picture, WCAG 2.2, 1.4.11
        assert themes.contrast(colours["wort"], colours[ground]) >= 3.0
    assert themes.contrast(colours["danger"], colours["cursor"]) >= 3.0  # the limit across the glass


@pytest.mark.parametrize("name", TINTED)
def test_in_256_colours_every_text_can_still_be_read(name: str) -> None:
    """In the colours that are sent in the end: Rich rounds once more."""
    theme = themes.rounded(themes.load(name))
    sent = {
        word: Color.parse(colour).downgrade(ColorSystem.EIGHT_BIT).get_truecolor().hex
        for word, colour in theme.colours.items()
    }
    assert themes.faint(theme._replace(colours=sent)) == ""
    assert themes.contrast(sent["wort"], sent["ground"]) >= 3.0
    assert sent["cursor"] != sent["ground"]


def test_the_terminals_own_colours_are_not_rounded() -> None:
    assert themes.rounded(themes.load("ansi")) == themes.load("ansi")


@pytest.mark.parametrize("name", TINTED)
def test_a_theme_says_truly_whether_it_is_dark(name: str) -> None:
    theme = themes.load(name)
    assert theme.dark == (themes.contrast(theme.colours["ground"], "#ffffff") > 4.5)
    assert themes.faint(theme) == ""


# ---- the brewer's own -----------------------------------------------------------------------------------------


def test_an_own_theme_stands_behind_ours(tmp_path: Path) -> None:
    place = own(tmp_path, OWN)
    assert themes.names(place) == [*themes.names(), "mine"]
    assert themes.load("mine", place).colours["dim"] == "#c0c0c0"
    assert themes.names(tmp_path / "nowhere") == themes.names()


def test_an_own_theme_never_hides_one_of_ours(tmp_path: Path) -> None:
    place = own(tmp_path, OWN, "pine-frost")
    assert themes.load("pine-frost", place) == themes.load("pine-frost")
    assert themes.names(place) == themes.names()
    assert themes.shadowed(place) == ["pine-frost"]


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (('dim = "#c0c0c0"\n', ""), 'theme mine: dim is missing: write dim = "#99adbc"'),
        (('"#c0c0c0"', '"blue"'), 'theme mine: dim = blue is no colour: write dim = "#99adbc"'),
        (('"#c0c0c0"', "7"), "dim = 7 is no colour"),
        (("dark = true", 'dark = "yes"'), "dark is true or false"),
        (("dark = true", "dark = "), "line 1"),
        (("dark = true", "ansi = true"), 'ground = #101010 is no colour: write ground = "cyan" or "default dim"'),
        (("dark = true", "ansi = true"), "(and 11 more)"),
    ],
)
def test_a_broken_theme_says_what_would_be_right(tmp_path: Path, change: tuple[str, str], says: str) -> None:
    assert says in refused(tmp_path, OWN.replace(*change))


def test_what_is_no_text_is_told(tmp_path: Path) -> None:
    (tmp_path / "mine.toml").write_bytes(b"\xff\xfe")
    with pytest.raises(themes.ThemeRefused, match="utf-8"):
        themes.load("mine", tmp_path)
    (tmp_path / "other.toml").mkdir()
    with pytest.raises(themes.ThemeRefused, match="theme other"):
        themes.load("other", tmp_path)


@pytest.mark.parametrize("name", ["nosuch", "../pyproject", ""])
def test_a_theme_that_is_not_there(name: str) -> None:
    with pytest.raises(themes.ThemeRefused, match="there are ansi, "):
        themes.load(name)


def test_a_theme_that_is_hard_to_read_says_so(tmp_path: Path) -> None:
    faint = themes.faint(themes.load("mine", own(tmp_path, OWN.replace("#c0c0c0", "#505050"))))
    assert faint.startswith("theme mine: dim on cursor is hard to read, contrast 2.")


def test_own_sixteen_colours(tmp_path: Path) -> None:
    words = "".join(f'{colour} = "bright_cyan"\n' for colour in themes.COLOURS)
    theme = themes.load("mine", own(tmp_path, "ansi = true\n" + words))
    assert theme.ansi
    assert themes.faint(theme) == ""
