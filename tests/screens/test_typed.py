from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

import pytest

from tests.panes.scenes import AMBER, COUNTED, EMPTY, NOW, ONE, READING, TWO
from tests.screens.desks import desk_on, do, write
from workbench.brewing.density import sg
from workbench.panes.spans import width
from workbench.screens import bars, drawing, typed

if TYPE_CHECKING:
    from pathlib import Path

    from workbench.screens.desk import Desk


@pytest.fixture
def one(tmp_path: Path) -> Desk:
    return desk_on(tmp_path / "one.toml", ONE)


def test_an_edit_begins_with_what_the_file_says_letter_for_letter(tmp_path: Path) -> None:
    desk = desk_on(tmp_path / "a.toml", ONE.replace('"1.6 L"', '"54,1 FL OZ"'))
    do(desk, "pane-3", "edit")
    assert desk.entry is not None
    assert desk.entry.line.text == "54,1 FL OZ"


def test_keeping_it_as_it_is_changes_nothing(one: Desk) -> None:
    do(one, "down", "edit")
    write(one, "", clear=False)
    assert one.entry is None
    assert not one.store.undo()


def test_a_number_alone_is_in_the_usual_unit_and_all_is_recomputed(one: Desk) -> None:
    before = one.plan.need.cells_b.value
    do(one, "down", "edit")
    write(one, "46")
    assert one.plan.session.beer is not None
    assert one.plan.session.beer.volume_l == 46.0
    assert before is not None
    assert one.plan.need.cells_b.value == pytest.approx(2 * before)


@pytest.mark.parametrize("text", ["1041", "41", "1.041", "1,041", "10.2 °P"])
def test_a_gravity_may_be_typed_as_brewers_do(one: Desk, text: str) -> None:
    do(one, "down", "down", "edit")
    write(one, text)
    assert one.plan.session.beer is not None
    assert sg(one.plan.session.beer.gravity_w or 0) == pytest.approx(1.041, abs=3e-4)


def test_a_day_may_be_typed_as_spoken(one: Desk) -> None:
    one.put("yeast.0.made_on")
    do(one, "edit")
    write(one, "12 d ago")
    assert one.plan.session.yeast[0].made_on == date(2026, 11, 14)


@pytest.mark.parametrize("text", ["twenty", "-3 L", "23 kg", "1e999", "5 L 3"])
def test_a_bad_entry_keeps_the_text_says_what_is_wrong_and_changes_nothing(one: Desk, text: str) -> None:
    before = one.store.text
    do(one, "down", "edit")
    write(one, text)
    assert one.entry is not None
    assert one.entry.line.text == text
    assert one.entry.error
    assert one.store.text == before
    drawn = drawing.pane(one, 0, 80, 20, titled=True)
    assert any("‼" in part and role == "danger" for line in drawn for part, role in line)
    typed.press(one, one.entry, "escape", None)
    assert one.entry is None
    assert one.store.text == before


def test_what_is_wrong_goes_away_with_the_next_letter(one: Desk) -> None:
    do(one, "down", "edit")
    write(one, "x")
    assert one.entry is not None
    typed.press(one, one.entry, "backspace", None)
    assert one.entry.error == ""


def test_an_edit_that_would_be_a_fault_is_refused_beside_the_field(one: Desk) -> None:
    one.put("yeast.0.made_on")
    do(one, "edit")
    write(one, "2027-01-01")  # made after it is pitched
    assert one.entry is not None
    assert one.entry.error
    assert one.plan.session.yeast[0].made_on == date(2026, 10, 19)


def test_an_empty_line_leaves_the_value_out(one: Desk) -> None:
    do(one, "pane-3", "edit")
    write(one, "")
    assert not one.plan.session.is_given("step.0.wort")


def test_a_word_is_turned_by_the_arrows_and_by_space(one: Desk) -> None:
    do(one, "pane-3")
    one.put("step.0.motion")
    do(one, "edit")
    assert one.entry is not None
    typed.press(one, one.entry, "down", None)
    assert one.entry.line.text == "swirled"
    typed.press(one, one.entry, "enter", "\r")
    assert one.plan.session.step[0].motion == "swirled"
    do(one, "turn")
    assert one.plan.session.step[0].motion == "still"
    do(one, "turn")
    assert one.plan.session.step[0].motion == "stirred"


def test_pouring_off_is_a_yes_or_no(tmp_path: Path) -> None:
    desk = desk_on(tmp_path / "a.toml", TWO)
    do(desk, "pane-3", "step-on")
    desk.put("step.1.decant")
    do(desk, "turn")
    assert desk.plan.session.step[1].decant is True


@pytest.mark.parametrize(
    ("text", "gravity", "temperature"),
    [
        ("1.0335 24 °C", 1.0335, 24.0),
        ("1033.5 at 24", 1.0335, 24.0),
        ("8.4 °P 75 °F", 1.0335, 23.9),
        ("1.0335", 1.0335, None),
    ],
)
def test_a_reading_is_noted_with_its_hour(one: Desk, text: str, gravity: float, temperature: float | None) -> None:
    do(one, "pane-2", "measure")
    write(one, text)
    (reading,) = one.plan.session.reading
    assert reading.at == NOW
    assert reading.step == 1
    assert sg(reading.value or 0) == pytest.approx(gravity, abs=3e-4)
    assert reading.temperature_c == (None if temperature is None else pytest.approx(temperature, abs=0.05))


def test_a_bad_reading_is_not_noted(one: Desk) -> None:
    do(one, "pane-2", "measure")
    write(one, "warm")
    assert one.entry is not None
    assert one.plan.session.reading == ()


def test_a_reading_in_brix_is_edited_as_brix(tmp_path: Path) -> None:
    brix = READING.replace('"gravity"', '"brix"').replace('"1.0335"', '"8.7 °Bx"')
    desk = desk_on(tmp_path / "a.toml", ONE + brix)
    do(desk, "pane-2")
    desk.put("reading.0.value")
    do(desk, "edit")
    write(desk, "9.1")
    assert desk.plan.session.reading[0].value == pytest.approx(9.1)


def test_a_paste_goes_to_the_cursor(one: Desk) -> None:
    do(one, "down", "edit")
    assert one.entry is not None
    typed.press(one, one.entry, "home", None)
    typed.paste(one.entry, "1")
    assert one.entry.line.text == "123 L"


def told_of(desk: Desk, cells: int, height: int = 20) -> tuple[str, str]:
    """What the pane and the bottom line of a screen of 80 cells say."""
    desk.widths[desk.pane] = cells
    pane = drawing.pane(desk, desk.pane, cells, height, titled=True)
    assert all(width(line) <= cells for line in pane)
    said = "\n".join("".join(text for text, _ in line).rstrip() for line in pane)
    return said, "".join(text for text, _ in bars.bottom(desk, 80)[0])


def wrongly(desk: Desk, key: str, text: str) -> str:
    """What is wrong with that text where the key is edited."""
    desk.put(key)
    do(desk, "edit")
    write(desk, text)
    assert desk.entry is not None
    return desk.entry.error


def test_what_is_wrong_is_told_once_beside_the_field_and_the_bottom_line_keeps_its_units(one: Desk) -> None:
    error = wrongly(one, "beer.volume", "23 kg")
    pane, bottom = told_of(one, 80)
    assert f"▸beer      23 kg        ‼ {error}" in pane
    assert "keep" in bottom
    assert "units L mL" in bottom
    assert "‼" not in bottom


def test_where_a_pane_has_no_room_for_it_the_bottom_line_tells_it_with_its_sign(one: Desk) -> None:
    error = wrongly(one, "beer.volume", "23 kg")
    pane, bottom = told_of(one, 34)
    assert bottom == f" ‼ {error}"
    assert "‼" not in pane
    assert "▸beer      23 kg" in pane


@pytest.mark.parametrize(("height", "below"), [(20, True), (10, False)])
def test_what_is_too_long_for_either_stands_next_to_the_field_in_whole(one: Desk, height: int, below: bool) -> None:
    error = wrongly(one, "yeast.0.made_on", "some day")
    pane, bottom = told_of(one, 80, height)
    lines = pane.splitlines()
    at = next(n for n, line in enumerate(lines) if "▸made on   some day" in line)
    told = lines[at + 1 : at + 3] if below else lines[at - 2 : at]
    assert " ".join(told).split() == ["‼", *error.split()]
    assert "keep" in bottom


def test_a_line_opened_where_no_row_can_have_the_cursor_is_seen(tmp_path: Path) -> None:
    desk = do(desk_on(tmp_path / "a.toml", EMPTY), "pane-5")
    assert desk.row() is None
    do(desk, "note")
    assert desk.entry is not None
    for sign in "mild":
        typed.press(desk, desk.entry, sign, sign)
    pane, _ = told_of(desk, 80)
    assert "▸note      mild" in pane
    assert "Nothing to time yet" in pane
    assert drawing.caret(desk, 80, 20, titled=True) == (len("▸note      mild"), 1)


def test_a_number_alone_is_in_the_unit_that_the_row_shows(tmp_path: Path) -> None:
    desk = do(desk_on(tmp_path / "a.toml", ONE.replace('"1.6 L"', '"0.7 L"')), "pane-3", "edit")
    write(desk, "800")
    assert desk.plan.session.step[0].wort_l == pytest.approx(0.8)
    assert 'wort = "800 mL"' in desk.store.text


@pytest.mark.parametrize(("wort", "typed"), [("0.5 L", "1.5"), ("0.5 L", "2"), ("1.6 L", "500"), ("0.9 L", "0,7")])
def test_a_number_alone_that_more_likely_is_in_the_other_unit_is_asked_back(
    tmp_path: Path, wort: str, typed: str
) -> None:
    desk = do(desk_on(tmp_path / "a.toml", ONE.replace("1.6 L", wort)), "pane-3", "edit")
    before = desk.store.text
    write(desk, typed)
    assert desk.entry is not None
    assert f'could be L or mL: write "{typed} L" or "{typed} mL"' in desk.entry.error
    assert desk.store.text == before
    write(desk, f"{typed} L")
    assert f'wort = "{typed} L"' in desk.store.text


def test_none_is_none_in_either_unit(tmp_path: Path) -> None:
    desk = do(desk_on(tmp_path / "a.toml", ONE + 'boil_off = "90 mL"\n'), "pane-2")
    desk.put("step.0.boil_off")
    do(desk, "edit")
    write(desk, "0")
    assert 'boil_off = "0 mL"' in desk.store.text


def test_in_us_units_too(tmp_path: Path) -> None:
    desk = do(desk_on(tmp_path / "a.toml", ONE), "units", "pane-3", "edit")
    write(desk, "2")
    assert 'wort = "2 qt"' in desk.store.text
    desk.put("step.0.temperature")
    do(desk, "edit")
    write(desk, "68")
    assert 'temperature = "68 °F"' in desk.store.text
    do(desk, "pane-2")
    desk.put("step.0.powder")
    do(desk, "edit")
    write(desk, "5")
    assert desk.plan.steps[0].powder_g.value == pytest.approx(5 * 28.349523, rel=1e-3)


def test_the_usual_value_typed_is_a_value_given(one: Desk) -> None:
    do(one, "pane-3")
    one.put("step.0.motion")
    do(one, "edit")
    write(one, "stirred")
    assert one.plan.session.is_given("step.0.motion")


def test_what_is_kept_may_be_cells_or_a_volume(one: Desk) -> None:
    for text, key in (("60 B", "keep.cells"), ("0.5 L", "keep.volume"), ("40 B", "keep.cells")):
        do(one, "pane-3")
        one.put("keep.volume" if one.plan.session.is_given("keep.volume") else "keep.cells")
        do(one, "edit")
        write(one, text)
        assert {k for k in one.plan.session.given if k.startswith("keep.")} == {key}
    do(one, "default")
    assert one.plan.session.keep is None


def test_a_number_alone_to_keep_is_what_the_row_shows(tmp_path: Path) -> None:
    desk = do(desk_on(tmp_path / "a.toml", ONE + '[keep]\nvolume = "0.5 L"\n'), "pane-3")
    desk.put("keep.volume")
    do(desk, "edit")
    write(desk, "600")
    assert 'volume = "600 mL"' in desk.store.text


def test_a_raw_count_is_typed_from_top_to_bottom(tmp_path: Path) -> None:
    desk = do(desk_on(tmp_path / "a.toml", EMPTY), "add")
    for text in ("counted", "20 Nov", "33 38 31 41 32", "200 mL"):  # each leads to the next that is wanted
        write(desk, text)
    assert desk.entry is None
    desk.put("yeast.0.squares")
    for text in ("0.004", "40", "14"):  # what has a usual value
        do(desk, "down", "edit")
        write(desk, text)
        assert desk.entry is None
    (lot,) = desk.plan.session.yeast
    assert (lot.made_on, lot.squares, lot.square_ul) == (date(2026, 11, 20), (33, 38, 31, 41, 32), 0.004)
    assert (lot.dilution, lot.stained, lot.volume_l) == (40.0, 14, 0.2)
    count = desk.plan.hand.lots[0].raw_count
    assert count is not None
    assert count.cells_b.value == pytest.approx(70.0)
    assert count.viability.value == pytest.approx(0.92)
    for line in COUNTED[COUNTED.index("[[yeast]]") :].splitlines():
        assert line in desk.store.text.splitlines()


def test_cells_typed_over_a_count_win_until_they_are_left_out_again(tmp_path: Path) -> None:
    desk = desk_on(tmp_path / "a.toml", COUNTED)
    desk.put("yeast.0.cells")
    do(desk, "edit")
    assert desk.entry is not None
    assert desk.entry.line.text == "70 B"
    write(desk, "50")
    assert desk.plan.session.yeast[0].cells_b == 50.0
    assert "count-unused" in {warning.code for warning in desk.plan.warnings}
    do(desk, "default")
    assert desk.store.text == COUNTED
    assert "count-unused" not in {warning.code for warning in desk.plan.warnings}


@pytest.mark.parametrize(
    ("key", "text", "told"),
    [
        ("stained", "176", "176 stained are more than the 175"),
        ("squares", "3 4", "14 stained are more than the 7"),
        ("squares", "33 38,5x", '"5x" is no count of cells'),
        ("square", "0.1 L", '"0.1 L" is no small volume'),
        ("dilution", "0.1", '"0.1" is out of range'),
    ],
)
def test_a_count_that_cannot_be_is_refused_beside_the_field(tmp_path: Path, key: str, text: str, told: str) -> None:
    desk = desk_on(tmp_path / "a.toml", COUNTED)
    desk.put(f"yeast.0.{key}")
    do(desk, "edit")
    write(desk, text)
    assert desk.entry is not None
    assert told in desk.entry.error
    assert desk.store.text == COUNTED


def test_a_flask_of_ones_own_is_picked_by_its_name(tmp_path: Path) -> None:
    desk = desk_on(tmp_path / "a.toml", AMBER.replace("[flask]", '[flask]\nglass = "0.5 kg"'))
    desk.flasks = {"jug": {"size": "5 L", "brim": "5.3 L"}}
    do(desk, "pane-4")
    desk.put("flask.size")
    do(desk, "edit")
    assert "or jug" in desk.entry.means
    write(desk, "jug")
    flask = desk.store.session.flask
    assert (flask.size_l, flask.brim_l, flask.glass_g) == (5.0, 5.3, None)
    do(desk, "undo")
    assert (desk.store.session.flask.size_l, desk.store.session.flask.glass_g) == (3.0, 500.0)


def test_a_volume_just_measured_is_noted_as_one(tmp_path: Path) -> None:
    desk = do(desk_on(tmp_path / "a.toml", AMBER + '[[step]]\nwort = "1.6 L"\n'), "pane-4", "measure")
    write(desk, "1.52 L")
    (reading,) = desk.store.session.reading
    assert (reading.kind, reading.value, reading.step) == ("volume", 1.52, 1)
    do(desk, "measure")
    write(desk, "1.0335 24 °C")
    assert [r.kind for r in desk.store.session.reading] == ["volume", "gravity"]
