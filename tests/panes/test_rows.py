from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.panes.scenes import EMPTY, ONE, scene, text_of
from workbench.panes.glyphs import ASCII, FULL
from workbench.panes.rows import Row, Rows, draw, number, scroll, stops
from workbench.plan.model import Warning as Warned


def test_a_note_without_room_stands_below_its_row() -> None:
    pane = Rows(scene(ONE), 30)
    pane.add(Row("leaves", number("8.5", "fl oz", FULL), id="a"), note=[("decanted", "dim")])
    pane.add(Row("rest", number("48", "h", FULL), id="b"), note=[("cold", "dim")])
    assert [text.rstrip() for text in text_of(pane.rows, 30).splitlines()] == [
        " leaves       8.5 fl oz",
        "                      decanted",
        " rest        48 h    cold",
    ]


def test_a_note_wider_than_the_pane_is_wrapped_not_cut() -> None:
    pane = Rows(scene(ONE), 30)
    pane.add(Row("rings"), note=[("feeding 1 has grown as long as planned", "dim")])
    assert [text.strip() for text in text_of(pane.rows, 30).splitlines()] == [
        "rings",
        "feeding 1 has grown as long",
        "as planned",
    ]


def test_five_digits_stand_on_their_point_where_nothing_is_typed() -> None:
    shown = ["".join(text for text, _ in number(said, "B", FULL)) for said in ("79156", "4841", "74", "1.5")]
    assert [line.index(" B") if "." not in line else line.index(".") for line in shown] == [5, 5, 5, 5]


@pytest.mark.parametrize(("shown", "column"), [("1.60", 15), ("23", 15), ("1.0335", 15), ("-3", 15), ("1,6", 15)])
def test_numbers_stand_on_their_point(shown: str, column: int) -> None:
    text = "".join(t for t, _ in draw(Row("wort", number(shown, "L", FULL)), 35, FULL))
    point = min((text.index(mark) for mark in ".," if mark in text), default=len(text.rstrip(" L")))
    assert point == column


def test_a_typed_value_has_a_mark_and_is_bold() -> None:
    assert number("23", "L", FULL, typed=True)[:2] == (("•", "typed"), ("  23", "typed"))
    assert number("23", "L", ASCII, typed=True)[0] == ("*", "typed")
    assert number("23", "L", FULL)[1] == ("  23", "text")


def test_the_cursor_marks_its_row_with_a_sign_and_a_ground() -> None:
    row = Row("beer", number("23", "L", FULL), id="beer.volume")
    lit = draw(row, 35, FULL, lit=True)
    assert lit[0][0].startswith("▸beer")
    assert all(role.endswith("@") for _, role in lit)


def warned(text: str, level: str = "caution") -> Rows:
    plan = scene(ONE).plan._replace(warnings=(Warned("x", level, text, "beer.volume"),))  # type: ignore[arg-type]
    pane = Rows(scene(ONE)._replace(plan=plan), 40)
    pane.add(Row("beer", number("23", "L", FULL), id="beer.volume", key="beer.volume"))
    return pane


def test_a_short_warning_stands_beside_its_figure() -> None:
    assert text_of(warned("4 low").rows, 40) == " beer        23 L  ! 4 low"


def test_a_long_warning_goes_below_and_says_where_it_is_cut() -> None:
    lines = text_of(warned("much too long to stand beside it " * 6, "danger").rows, 40).splitlines()
    assert lines[1].startswith(" ‼ much too long")
    assert len(lines) == 4
    assert lines[3].endswith("…")


def test_the_cursor_passes_over_rows_without_anything_to_do() -> None:
    assert stops([Row("a"), Row("b", id="b"), Row(), Row("c", id="c")]) == [1, 3]


def test_what_does_not_fit_ends_in_the_sign_of_it() -> None:
    row = Row("note", ((" a long note about the yeast", "text"),))
    assert "".join(t for t, _ in draw(row, 20, FULL)) == " note      a long n…"
    assert "".join(t for t, _ in draw(row, 20, ASCII)).endswith("~")


@given(st.integers(1, 40), st.integers(4, 20), st.data())
def test_the_row_under_the_cursor_is_in_sight(count: int, height: int, data: st.DataObject) -> None:
    top = data.draw(st.integers(0, count - 1))
    first = scroll(count, height, top, top, data.draw(st.integers(0, 60)))
    hidden_above, hidden_below = first > 0, first + height < count
    assert first + hidden_above <= top <= first + height - 1 - hidden_below
    assert first == 0 or first + height <= count


def test_a_list_that_fits_is_not_scrolled() -> None:
    assert scroll(10, 12, 9, 9, 5) == 0


def test_a_blank_row_is_not_doubled() -> None:
    pane = Rows(scene(EMPTY), 35)
    pane.blank()
    pane.say("a")
    pane.blank()
    pane.blank()
    assert len(pane.rows) == 2
