from __future__ import annotations

import pytest

from tests.panes.scenes import AMBER, COUNTED, EMPTY, row_of, said, scene, text_of
from workbench.panes import steps, yeast


def test_the_beer_its_need_and_the_lot() -> None:
    text = text_of(yeast.rows(scene(AMBER), 34), 34)
    assert " beer     •  23 L" in text
    assert " gravity  •   1.056  13.8 °P" in text
    assert " need       238 B" in text
    assert " made on  • 19 Oct" in text
    assert "starter    wanted" in text


def test_typed_values_are_marked_and_others_are_not() -> None:
    rows = yeast.rows(scene(AMBER), 34)
    assert row_of(rows, "beer.volume").spans[0] == ("•", "typed")
    assert row_of(rows, "beer.pitch_rate").spans[0] == (" ", "text")
    assert "usual" in said(row_of(rows, "beer.pitch_rate"))


def test_an_empty_session_says_what_to_press() -> None:
    text = text_of(yeast.rows(scene(EMPTY), 34), 34)
    assert "⏎ add a pack" in text
    assert "+ adds a lot of any kind" in text
    assert "beer         –  ⏎ set it" in text
    assert "can't say yet" in text
    assert "the pitching time" in text


PAST = {"generation", "cycle"}
RAW = {"squares", "square", "dilution", "stained", "volume", "cells"}


@pytest.mark.parametrize(
    ("lot", "asked"),
    [
        ('kind = "pack"', {"count", "cells", "viability", "stored_at"}),
        ('kind = "dry"\nmass = "11.5 g"', {"count", "mass", "viability", "stored_at"}),
        ('kind = "slurry"\nvolume = "150 mL"', {"volume", "density", "viability", "stored_at", *PAST}),
        (
            'kind = "kept"\ncells = "60 B"\nvolume = "0.5 L"',
            {"cells", "cells_low", "cells_high", "volume", "viability", "stored_at", *PAST},
        ),
        (
            'kind = "counted"\ncells = "70 B"',
            {"squares", "cells", "cells_low", "cells_high", "viability", "stored_at"},
        ),
        ('kind = "counted"', RAW | {"viability", "stored_at"}),
        ('kind = "counted"\nsquares = "42 38"', RAW | {"viability", "stored_at"}),
        ('kind = "counted"\ncells_low = "9 B"', RAW | {"cells_low", "viability", "stored_at"}),
        (
            'kind = "counted"\ncells = "70 B"\nstained = 3',
            RAW | {"cells_low", "cells_high", "viability", "stored_at"},
        ),
        ("count = 1", set()),
    ],
)
def test_a_lot_is_asked_what_its_kind_has(lot: str, asked: set[str]) -> None:
    rows = yeast.rows(scene(EMPTY + "[[yeast]]\nmade_on = 2026-11-01\n" + lot + "\n"), 34)
    keys = {row.key.removeprefix("yeast.0.") for row in rows if row.key.startswith("yeast.0.")}
    assert keys == asked | {"kind", "made_on"}


def test_dry_yeast_wants_no_starter() -> None:
    dry = EMPTY + (
        '[batch]\npitch_at = 2026-11-28T15:00:00+01:00\n[beer]\nvolume = "20 L"\ngravity = "1.050"\n'
        '[[yeast]]\nkind = "dry"\nmade_on = 2026-09-01\nmass = "11.5 g"\n'
    )
    row = row_of(yeast.rows(scene(dry), 34), "starter")
    assert row.spans[0] == ("✓ not needed", "fine")
    row = row_of(yeast.rows(scene(dry.replace("20 L", "40 L")), 34), "starter")
    assert row.spans[0] == ("  none; more yeast", "accent")


def test_a_build_for_the_shelf_shows_what_is_to_be_kept() -> None:
    text = text_of(yeast.rows(scene(EMPTY + '[keep]\ncells = "60 B"\n'), 34), 34)
    assert "to keep     60 B" in text
    assert "none so far" in text  # a beer can still be typed


def test_what_is_kept_for_the_shelf_is_nowhere_said_to_be_pitched() -> None:
    lot = AMBER[AMBER.index("[[yeast]]") :]
    shelf = scene(AMBER[: AMBER.index("[beer]")] + '[keep]\ncells = "150 B"\n' + lot)
    text = text_of(yeast.rows(shelf, 34), 34) + text_of(steps.rows(shelf, 60), 60)
    assert " fridge   • Sat 15:00" in text
    assert "pitch" not in text
    assert "goes in" not in text


def test_every_row_of_a_lot_belongs_to_it() -> None:
    rows = yeast.rows(scene(AMBER), 34)
    assert {row.table for row in rows if row.id.startswith("yeast.")} == {("yeast", 0)}
    assert row_of(rows, "beer.volume").table is None


def test_the_reason_goes_with_the_figure() -> None:
    figure = row_of(yeast.rows(scene(AMBER), 34), "need").figure
    assert figure is not None
    assert "23000 mL" in figure.why.says


def test_a_raw_count_from_top_to_bottom_and_what_it_comes_to() -> None:
    lines = text_of(yeast.rows(scene(COUNTED), 34), 34).splitlines()
    at = lines.index(" squares  • 33 38 31 41 32")
    assert lines[at + 1 : at + 8] == [
        " each     •   0.004 µL one square",
        " diluted  •  40      times",
        " stained  •  14      dead of 175",
        " jar      • 200 mL   at 0.35 B/mL",
        " cells       70 B    (60–81)",
        " viable       0.92   (0.87–0.95)",
        " kept at      4 °C",
    ]


def test_what_is_worked_out_of_a_count_gives_its_reason() -> None:
    rows = yeast.rows(scene(COUNTED), 34)
    for key, said_of in (("cells", "Garwood"), ("viability", "Wilson"), ("volume", "Garwood")):
        figure = row_of(rows, f"yeast.0.{key}").figure
        assert figure is not None
        assert said_of in figure.why.says


def test_cells_and_viability_typed_are_no_longer_worked_out() -> None:
    rows = yeast.rows(scene(COUNTED + 'cells = "50 B"\nviability = 0.9\n'), 34)
    assert said(row_of(rows, "yeast.0.cells")).startswith("•  50 B")
    assert "when made" in said(row_of(rows, "yeast.0.viability"))
    assert row_of(rows, "yeast.0.cells").figure is row_of(rows, "yeast.0.viability").figure is None
    assert [w.code for w in row_of(rows, "yeast.0.squares").warnings] == ["count-unused"]
    assert [w.code for w in row_of(rows, "yeast.0.stained").warnings] == ["count-unused"]


def test_an_uneven_count_is_told_right_below_its_squares() -> None:
    lines = text_of(yeast.rows(scene(COUNTED.replace("33 38 31 41 32", "16 38 52 49 20")), 60), 60).splitlines()
    at = next(i for i, line in enumerate(lines) if line.startswith(" squares"))
    assert lines[at + 1].startswith(" ! uneven beyond chance, index 7.7 over 2.4")
