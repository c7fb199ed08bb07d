from __future__ import annotations

import pytest
from rich.cells import cell_len

from tests.panes.scenes import READING, TWO, scene, text_of
from workbench.panes import clock, day, doses, steps, wort, yeast
from workbench.panes.glyphs import ASCII, CONSOLE, FULL, OUTLINE, Glyphs, choose, plain

PANES = (yeast, wort, steps, doses, clock, day)


@pytest.mark.parametrize(
    ("encoding", "term", "wanted", "tinted", "chosen"),
    [
        ("UTF-8", "xterm-256color", "", True, FULL),
        ("utf8", "xterm-256color", "auto", False, OUTLINE),
        ("UTF-8", "linux", "", True, CONSOLE),
        ("ANSI_X3.4-1968", "xterm", "", True, ASCII),
        ("ISO-8859-1", "linux", "", True, ASCII),
        ("UTF-8", "xterm", "ascii", True, ASCII),
        ("ANSI_X3.4-1968", "xterm", "full", True, FULL),
    ],
)
def test_the_set_fits_the_terminal(encoding: str, term: str, wanted: str, tinted: bool, chosen: Glyphs) -> None:
    assert choose(encoding, term, wanted, tinted=tinted) is chosen


@pytest.mark.parametrize("glyphs", [FULL, OUTLINE])
def test_every_sign_of_the_full_sets_is_one_cell_wide(glyphs: Glyphs) -> None:
    signs = [sign for name, sign in glyphs._asdict().items() if name not in {"name", "solid"}]
    assert [sign for sign in signs if cell_len(sign) != 1] == []


@pytest.mark.parametrize("pane", PANES)
def test_the_ascii_set_leaves_nothing_but_ascii(pane: object) -> None:
    rows = pane.rows(scene(TWO + READING, step=1, glyphs=ASCII), 44)  # type: ignore[attr-defined]
    assert text_of(rows, 44, ASCII).isascii()


@pytest.mark.parametrize("pane", PANES)
def test_the_console_set_keeps_to_code_page_437(pane: object) -> None:
    rows = pane.rows(scene(TWO + READING, step=1, glyphs=CONSOLE), 44)  # type: ignore[attr-defined]
    low = str.maketrans("", "", "►▼▲•")  # these are 437's signs below 32, which Python's codec leaves out
    text_of(rows, 44, CONSOLE).translate(low).encode("cp437")


def test_text_is_put_into_the_signs_there_are() -> None:
    assert plain("8.5 °P × 2 – 3…", ASCII) == "8.5 P x 2 - 3~"
    assert plain("Käse", ASCII) == "K?se"
    assert plain("8.5 °P", FULL) == "8.5 °P"
