"""The sheet: what a brewer needs on paper, in full, with the brewer's own units and mark."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from tests.panes.scenes import AMBER, CET, ONE, READING, TWO
from workbench.paper import as_markdown, as_text
from workbench.plan.derive import derive
from workbench.session.load import parsed
from workbench.session.read import read
from workbench.sheet import page

NOW = datetime(2026, 11, 26, 7, 0, tzinfo=UTC)


def sheet(text: str, *, system: str = "metric", comma: bool = False) -> str:
    outcome = read(parsed(text.encode(), "a").data, text)
    assert not outcome.faults
    return as_text(page(derive(outcome.session, NOW), system, CET, comma=comma))  # type: ignore[arg-type]


def test_paper_has_full_dates() -> None:
    text = sheet(ONE)
    assert "as of Thu 26 Nov 2026 08:00" in text
    assert "Fri 27 Nov 2026 17:00  yeast in" in text


def test_columns_never_touch() -> None:
    for line in sheet(TWO + READING + '[keep]\ncells = "60 B"\n').split("Mind")[0].splitlines():
        label = line[:12].rstrip()
        if label and not line.startswith(" ") and len(line) > 14 and "  " in line:
            assert line[12:14] == "  " or "  " in line.strip(), line


def test_the_decimal_mark_is_the_brewers_everywhere_but_in_reasons() -> None:
    figures = sheet(ONE, comma=True).split("Mind")[0]
    assert "1,034 (8,5 °P)" in figures
    assert "0,64" in figures
    assert "1,0546" in figures


@pytest.mark.parametrize(("extra", "told"), [("", True), ('pitch = "decanted"\n', False)])
def test_the_beers_gravity_is_told_only_where_the_starter_changes_it(extra: str, told: bool) -> None:
    text = sheet(ONE.replace("[beer]", extra + "[beer]"))
    assert ("with the starter in it" in text) is told


def test_what_is_needed_is_no_mere_note() -> None:
    assert "needed: set the beer's volume" in sheet("format = 1\n")


def test_the_pot_takes_all_the_wort_of_several_flasks() -> None:
    pot = AMBER.replace('size = "3 L"', 'size = "3 L"\ncount = 2') + '[[step]]\nwort = "2 L"\nboil_in = "pot"\n'
    line = next(line for line in sheet(pot).splitlines() if line.startswith("boiling"))
    assert float(line.split()[1]) > 2.2


def test_a_late_start_is_told_on_paper() -> None:
    outcome = read(parsed(ONE.encode(), "a").data, ONE)
    late = datetime(2026, 11, 28, 11, 0, tzinfo=UTC)
    assert "CAUTION: by this plan the yeast went in 19 h" in as_text(page(derive(outcome.session, late), tz=CET))


def test_markdown_says_the_same() -> None:
    outcome = read(parsed(ONE.encode(), "a").data, ONE)
    text = as_markdown(page(derive(outcome.session, NOW), tz=CET))
    assert "| powder | 149 g |" in text
    assert text.startswith("# Alder Lane Amber\n")
