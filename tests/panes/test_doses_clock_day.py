from __future__ import annotations

from tests.panes.scenes import EMPTY, ONE, TWO, scene, text_of
from workbench.panes import clock, day, doses


def test_what_to_weigh_for_each_feeding_and_how_much_to_the_litre() -> None:
    text = text_of(doses.rows(scene(TWO), 34), 34)
    assert "feeding 1: 600 mL of wort" in text
    assert "feeding 2: 1.60 L of wort" in text
    assert text.count("93 g/L") == 2  # 149.1 g in 1.6 L: the same wort, the same dose
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
