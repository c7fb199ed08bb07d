from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.screens.layout import Box, arrange


@pytest.mark.parametrize(
    ("size", "wide"), [((120, 36), True), ((119, 36), False), ((120, 35), False), ((80, 24), False), ((200, 60), True)]
)
def test_wide_needs_both_width_and_height(size: tuple[int, int], wide: bool) -> None:
    assert arrange(*size).wide is wide


def test_at_120_the_upper_panes_have_the_widths_they_need() -> None:
    slots = arrange(120, 36).slots
    assert [slot.width for slot in slots[:3] if slot] == [35, 37, 48]


@pytest.mark.parametrize("size", [(176, 48), (200, 60), (300, 90)])
def test_with_room_for_it_doses_and_day_go_from_top_to_bottom(size: tuple[int, int]) -> None:
    layout = arrange(*size)
    yeast, wort, steps, doses, clock, day = (slot for slot in layout.slots if slot)
    assert doses.height == day.height == size[1] - 3
    assert (yeast.x, steps.x) == (wort.x, clock.x)
    assert yeast.width >= 40
    assert steps.width >= 52


@pytest.mark.parametrize(("size", "pair"), [((100, 30), True), ((99, 30), False), ((119, 60), True), ((200, 35), True)])
def test_where_six_do_not_fit_the_day_stands_beside_the_chosen_pane(size: tuple[int, int], pair: bool) -> None:
    layout = arrange(*size)
    assert (layout.pair, layout.wide) == (pair, False)
    assert [slot is not None for slot in layout.slots] == [True, False, False, False, False, pair]
    assert not arrange(*size, zoomed=True).pair


def cells(box: Box) -> set[tuple[int, int]]:
    return {(x, y) for x in range(box.x, box.x + box.width) for y in range(box.y, box.y + box.height)}


@given(st.integers(80, 220), st.integers(24, 70), st.booleans())
def test_every_cell_belongs_to_one_box(width: int, height: int, zoomed: bool) -> None:
    layout = arrange(width, height, zoomed=zoomed)
    boxes = [box for box in (layout.top, layout.rail, *layout.slots, layout.hint, layout.bottom) if box is not None]
    covered = [cell for box in boxes for cell in cells(box)]
    assert len(covered) == len(set(covered)) == width * height


@pytest.mark.parametrize("size", [(79, 24), (80, 23), (20, 5), (1, 1)])
def test_too_small_is_said_so(size: tuple[int, int]) -> None:
    layout = arrange(*size)
    assert not layout.fits
    assert layout.slots[0] == Box(0, 0, *size)


def test_zoomed_one_pane_has_it_all() -> None:
    assert [box is not None for box in arrange(150, 50, zoomed=True).slots] == [True] + [False] * 5
