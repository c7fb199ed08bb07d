from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from workbench.panes.spans import clean, fit, halves, join, pad, split, turn, width, wrap

ROLES = st.sampled_from(["text", "dim", "typed", "tag", "text@", "dim_"])
SPANS = st.lists(st.tuples(st.text("ab 酵麦x👍\u0301\u3099", max_size=6), ROLES), max_size=6)


def flat(spans: object) -> str:
    return "".join(text for text, _ in spans)  # type: ignore[attr-defined]


@given(SPANS)
def test_joining_changes_no_sign(spans: list[tuple[str, str]]) -> None:
    assert flat(join(spans)) == flat(spans)


def test_a_blank_goes_to_its_neighbour_but_not_to_one_with_a_ground_of_its_own() -> None:
    assert join([("a", "dim"), ("  ", "text"), ("b", "text")]) == (("a  ", "dim"), ("b", "text"))
    assert join([("a", "tag"), (" ", "text"), ("b", "text")]) == (("a", "tag"), (" b", "text"))
    assert join([("a", "text@"), (" ", "text")]) == (("a", "text@"), (" ", "text"))


@given(SPANS, st.integers(0, 20))
def test_fitted_spans_fit(spans: list[tuple[str, str]], cells: int) -> None:
    assert width(fit(spans, cells)) <= max(cells, 0) or width(spans) <= cells


def test_what_is_cut_ends_in_the_sign_of_it() -> None:
    assert fit([("yeast ", "text"), ("on hand", "dim")], 9) == (("yeast ", "text"), ("on…", "dim"))


@given(SPANS, st.integers(0, 30))
def test_the_two_parts_of_a_split_are_the_whole(spans: list[tuple[str, str]], at: int) -> None:
    before, after = split(spans, at)
    assert flat(before) + flat(after) == flat(spans)
    assert width(before) <= at


@given(SPANS, st.integers(0, 20))
def test_halves_stand_side_by_side_without_a_hole(spans: list[tuple[str, str]], at: int) -> None:
    """A line as the bars have them: a blank before it, a gap with blanks of its own in it."""
    line = ((" ", "text"), *spans, ("  ", "dim"), *spans)
    before, after = halves(line, at)
    assert flat((*before, *after)).split() == flat(line).split()
    if at and after:
        assert width(before) == at
    if any("  " in text for text, _ in split(line, at)[1]):
        assert width((*before, *after)) == width(line)


def test_a_word_across_the_middle_begins_a_blank_later_and_nothing_behind_it_moves() -> None:
    line = ((" Mild 麦酒", "text"), ("   ", "dim"), ("need", "dim"))
    before, after = halves(line, 7)  # one cell of 麦
    assert (before, after) == (((" Mild  ", "text"),), (("麦酒", "text"), ("  ", "dim"), ("need", "dim")))
    assert halves(line, 8) == split(line, 8)


def test_padding_fills_up_to_the_cell() -> None:
    assert width(pad([("ab", "text")], 5)) == 5
    assert pad([("abcdef", "text")], 5) == (("abcdef", "text"),)


def test_turning_leaves_a_ground_of_its_own_alone() -> None:
    assert turn([("a", "dim"), ("b", "tag"), ("c", "text_")], "@") == (("a", "dim@"), ("b", "tag"), ("c", "text@"))


@given(st.text("ab c麦酒\u0301", max_size=60), st.integers(2, 12))
def test_wrapped_lines_fit_and_lose_no_letter(text: str, cells: int) -> None:
    lines = wrap(text, cells)
    assert all(cell_len(line) <= cells for line in lines)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")


def test_a_wide_letter_alone_stands_where_it_has_no_room() -> None:
    assert wrap("麦酒", 1) == ["麦", "酒"]


@given(st.text(max_size=20))
def test_a_clean_text_is_as_wide_as_its_signs_one_by_one(text: str) -> None:
    assert cell_len(clean(text)) == sum(map(cell_len, clean(text)))


def test_controls_become_blanks() -> None:
    assert clean("a\x1b[31mb\n\u202ec") == "a [31mb  c"
    assert clean("a❤\ufe0fb") == "a❤b", "no terminal makes a picture of it, two cells wide"
