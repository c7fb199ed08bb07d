from __future__ import annotations

from tests.panes.scenes import EMPTY, ONE, TWO, scene, text_of
from workbench.panes import clock, day, doses


def test_what_to_weigh_for_each_feeding_and_how_much_to_the_litre() -> None:
    first, second = (text_of(doses.rows(scene(TWO)._replace(step=step), 44), 44) for step in (0, 1))
    assert "feeding 1 of 2, [ ] the others: 600 mL" in first
    assert "feeding 2 of 2, [ ] the others: 1.60 L" in second
    text = text_of(doses.rows(scene(TWO), 34), 34)
    assert text.count("93 g/L") == 1  # 149.1 g in 1.6 L
    assert "boiling      2.10 L at most" in text


def test_the_clock_does_not_run_yet() -> None:
    text = text_of(clock.rows(scene(ONE), 36), 36)
    assert text.startswith(" not running")
    assert "boil        10 min" in text
    assert "from     Fri 17:00 to Sat 15:00" in text


def test_nothing_known_says_where_to_begin() -> None:
    assert "pane 3" in text_of(doses.rows(scene(EMPTY), 34), 34)
    assert "pane 3" in text_of(clock.rows(scene(EMPTY), 34), 34)
    assert "pane 1" in text_of(day.rows(scene(EMPTY), 34), 34)


def test_the_brewers_day_can_be_edited() -> None:
    keys = {row.key for row in day.rows(scene(ONE), 47)}
    assert {"batch.name", "batch.note", "day.prepare", "day.awake", "batch.chance"} <= keys
    assert "awake      07:00-22:30" in text_of(day.rows(scene(ONE), 47), 47)
