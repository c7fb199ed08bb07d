from __future__ import annotations

import pytest

from tests.panes.scenes import ONE, row_of, said, scene, text_of
from workbench.panes import keeping, steps
from workbench.panes.glyphs import ASCII, FULL, Glyphs
from workbench.panes.rows import Row, Rows

KEPT = ONE + '[keep]\ncells = "60 B"\n'
LEVEL = KEPT.replace("1.6 L", "2.2 L")
VOLUME = ONE + '[keep]\nvolume = "0.5 L"\nevery = "42 d"\n'
SHELF = KEPT.replace('[beer]\nvolume = "23 L"\ngravity = "1.056"\n', "")


def rows_of(text: str, cells: int = 30, glyphs: Glyphs = FULL) -> list[Row]:
    pane = Rows(scene(text, glyphs=glyphs), cells)
    keeping.add(pane)
    return pane.rows


def test_without_anything_kept_there_is_the_row_to_say_so_and_no_more() -> None:
    for text in (ONE, ONE + '[keep]\ncells = "0 B"\n', ONE + '[keep]\nevery = "14 d"\n'):
        assert [row.id for row in rows_of(text)] == ["keep.cells"]


def test_what_is_kept_how_often_and_the_batches_to_come() -> None:
    assert text_of(rows_of(LEVEL), 30).splitlines() == [
        " keep     •  60 B",
        " every       28 d    apart",
        " coming, B   in ▸ out pitch",
        " batch +1    49 ▸ 307   247 ✓",
        " batch +2    49 ▸ 307   247 ✓",
        " batch +3    49 ▸ 307   247 ✓",
        " batch +4    49 ▸ 307   247 ✓",
        " level at   188 g    2.13 L",
    ]


def test_a_chain_that_runs_down_is_signed_and_told_beside_what_is_kept() -> None:
    rows = rows_of(KEPT)
    assert [w.code for w in row_of(rows, "keep.cells").warnings] == ["runs-down"]
    assert said(row_of(rows, "chain.1")).endswith("!")


def test_for_the_shelf_the_last_column_is_what_is_kept() -> None:
    lines = text_of(rows_of(SHELF), 30).splitlines()
    assert lines[2].split() == ["coming,", "B", "in", "▸", "out", "kept"]
    assert lines[3].split()[4:6] == ["360", "360"]


def test_where_nothing_holds_it_the_reason_stands_there() -> None:
    text = text_of(rows_of(KEPT.replace("60 B", "0.2 B")), 30)
    assert "level at     –" in text
    assert "keep more" in text.replace("\n ", " ")


def test_every_line_can_be_asked_why_and_the_days_be_edited() -> None:
    rows = rows_of(KEPT)
    assert all(row_of(rows, f"chain.{n}").figure is not None for n in (1, 2, 3, 4, "level"))
    assert row_of(rows, "keep.every").value == "28 d"


@pytest.mark.parametrize("glyphs", [FULL, ASCII])
@pytest.mark.parametrize("text", [KEPT, LEVEL, SHELF, VOLUME])
def test_it_fits_thirty_cells(text: str, glyphs: Glyphs) -> None:
    assert max(map(len, text_of(rows_of(text, 30, glyphs), 200, glyphs).splitlines())) <= 30


def test_it_stands_in_the_steps_pane_with_and_without_feedings() -> None:
    assert "chain.4" in {row.id for row in steps.rows(scene(KEPT), 47)}
    assert "keep.cells" in {row.id for row in steps.rows(scene(KEPT.partition("[[step]]")[0]), 47)}
