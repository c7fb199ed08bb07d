from __future__ import annotations

import pytest

from tests.panes.scenes import AMBER, EMPTY, ONE, TWO, row_of, said, scene, text_of
from workbench.panes import steps


def test_each_feeding_has_a_line() -> None:
    text = text_of(steps.rows(scene(TWO), 47), 47)
    first, when, second = text.splitlines()[:3]
    assert first.startswith(" 1 • 600 mL")
    assert second.startswith(" 2 • 1.60 L")
    assert "▸" in first
    assert "1.034" in first
    assert "600 mL in" in when
    assert "–" in when
    assert "feeding 1 of 2" in text


@pytest.mark.parametrize("system", ["metric", "us"])
def test_the_feedings_stand_below_each_other_in_whatever_units(system: str) -> None:
    text = AMBER.replace("3 L", "20 L") + '[[step]]\nwort = "0.6 L"\n[[step]]\nwort = "12.25 L"\n'
    rows = steps.rows(scene(text)._replace(system=system), 80)  # type: ignore[arg-type]
    first, second = (said(row_of(rows, f"step.{i}.wort")) for i in (0, 1))
    for sign in ("1.034", "▸", " B"):
        assert first.index(sign) == second.index(sign)


def test_what_has_no_room_in_a_feedings_lines_stands_below_them() -> None:
    text = AMBER.replace("3 L", "20 L") + '[[step]]\nwort = "12.25 L"\n' * 2 + "decant = true\n"
    lines = text_of(steps.rows(scene(text)._replace(system="us"), 44), 44).splitlines()
    lists = lines[: lines.index("")]
    assert not any("…" in line for line in lists)
    assert sum(line.strip().endswith(("gal in ‼", "gal in")) for line in lists) == 2
    assert len(lists) > 4  # two lines each were not enough


def test_the_feeding_considered_has_its_motion_and_temperature() -> None:
    rows = steps.rows(scene(TWO, step=1), 47)
    assert said(row_of(rows, "step.1.motion")).strip() == "• swirled"
    assert row_of(rows, "step.1.temperature").value == "21 °C"
    assert row_of(rows, "step.1.decant").choices == ("no", "yes")


def test_the_flask_stands_beside_with_its_level_and_its_limit() -> None:
    text = text_of(steps.rows(scene(ONE), 47), 47)
    assert "╌╌╌" in text
    assert "2.70" in text
    assert "1.60" in text


def test_beside_the_flask_a_limit_has_its_word_and_where_there_is_room_its_litres() -> None:
    def drawn(cells: int) -> str:
        return "\n".join("".join(text for text, _ in row.picture) for row in steps.rows(scene(ONE), cells))

    for word in ("fill", "boil", "foam"):
        assert word in drawn(47)
    assert "2.70" not in drawn(47)
    assert "2.70 fill" in drawn(80)
    assert "1.60" in drawn(47)
    assert "1.60" in drawn(80)


def test_the_end_is_told_with_its_chance_in_words() -> None:
    rows = steps.rows(scene(ONE), 47)
    assert "✓ enough" in said(row_of(rows, "final.pitched"))
    assert said(row_of(rows, "final.chance")).split() == ["0.64", "good", "odds"]
    assert row_of(rows, "batch.pitch").choices == ("whole", "decanted")
    assert row_of(rows, "keep.cells").figure is not None
    assert "1.05" in said(row_of(rows, "final.beer_gravity"))


def test_with_room_the_range_of_the_pitch_is_there_too() -> None:
    assert "(" in said(row_of(steps.rows(scene(ONE), 80), "final.pitched"))


@pytest.mark.parametrize("cells", [35, 47, 80])
def test_rows_are_made_for_their_width(cells: int) -> None:
    assert max(map(len, text_of(steps.rows(scene(TWO), cells), cells).splitlines())) <= cells


def test_a_kept_volume_is_edited_as_a_volume() -> None:
    rows = steps.rows(scene(ONE + '[keep]\nvolume = "0.3 L"\n'), 47)
    assert row_of(rows, "keep.volume").value == "300 mL"


def test_without_a_feeding_the_planner_proposes_some() -> None:
    text = text_of(steps.rows(scene(AMBER), 47), 47)
    assert "proposed: p" in text
    assert "1.60 L" in text
    assert "•" not in text.splitlines()[1]  # nothing of it is typed


def test_without_yeast_it_says_what_to_press() -> None:
    assert "+ adds a feeding" in text_of(steps.rows(scene(EMPTY), 47), 47)


@pytest.mark.parametrize(("mass", "says"), [("5 g", "more yeast meets the need"), ("25 g", "yeast on hand is enough")])
def test_dry_yeast_that_falls_short_is_not_called_enough(mass: str, says: str) -> None:
    dry = AMBER.replace('kind = "pack"', 'kind = "dry"').replace('cells = "100 B"', f'mass = "{mass}"')
    assert says in " ".join(text_of(steps.rows(scene(dry), 47), 47).split())


def test_where_nothing_fits_it_says_what_would() -> None:
    text = " ".join(text_of(steps.rows(scene(AMBER.replace("3 L", "1 L")), 47), 47).split())
    assert "fill limit binds" in text
    assert "p shows what can be done" in text


def test_too_much_for_the_flask() -> None:
    row = row_of(steps.rows(scene(ONE.replace("1.6 L", "2.8 L")), 47), "step.0.flask")
    assert "of 2.70 L" not in said(row)  # the warning says it
    assert [w.code for w in row.warnings] == ["over-fill"]


@pytest.mark.parametrize(("wort", "mark"), [("1.6 L", ""), ("2.8 L", "!"), ("2.1 L", "‼"), ("3.2 L", "‼")])
def test_the_mark_at_too_full_is_that_of_its_warning(wort: str, mark: str) -> None:
    text = ONE.replace("1.6 L", wort) + ('boil_in = "pot"\n' if mark == "!" else "")
    when = text_of(steps.rows(scene(text), 80), 80).splitlines()[1]
    assert when.partition(" L in")[2].strip() == mark
