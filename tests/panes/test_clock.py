from __future__ import annotations

from datetime import timedelta

import pytest

from tests.panes.scenes import EMPTY, NOW, ONE, plan, scene, text_of
from workbench.panes import clock
from workbench.panes.digits import clock_text, large
from workbench.panes.glyphs import ASCII, CONSOLE, FULL
from workbench.panes.rows import Scene
from workbench.plan.clock import live
from workbench.units.mark import Mark


def stamp(what: str, at: str, rest: str = "") -> str:
    return f'[[event]]\nat = 2026-11-26T{at}Z\nstep = 1\nwhat = "{what}"\n{rest}'


def read(celsius: str, at: str) -> str:
    return f'[[reading]]\nat = 2026-11-26T{at}Z\nstep = 1\nkind = "temperature"\nvalue = "{celsius}"\n'


BOILING = ONE + stamp("boil-on", "06:50:00")
BOILED = BOILING + stamp("boil-done", "06:59:30")
COOLING = BOILED + stamp("cool-on", "07:00:00", 'temperature = "2 °C"\n')
READ = COOLING + read("80 °C", "07:02:00") + read("64 °C", "07:04:00") + read("52 °C", "07:06:00")


def shown(text: str, *, minutes: float = 0.0, cells: int = 47, **more: object) -> str:
    """The pane so many minutes after NOW, 08:00 local."""
    there = scene(text)._replace(**more)
    runs = there.plan.clock
    at = None if runs is None else live(runs, Mark(NOW + timedelta(minutes=minutes)))
    return text_of(clock.rows(there._replace(live=at), cells), cells, there.glyphs)


def test_before_the_boil_it_says_how_to_start_it() -> None:
    lines = shown(ONE).splitlines()
    assert lines[0] == " feeding 1, boils in the flask"
    assert lines[1].endswith("of 10:00")
    assert lines[2].endswith("b starts it")
    assert lines[5] == " to boil     10 min  + - a minute"


def test_without_a_feeding_it_says_where_to_begin() -> None:
    assert "1, then ⏎, leads" in shown(EMPTY)


def test_the_boil_in_large_digits_with_what_is_left() -> None:
    lines = shown(BOILING, minutes=-6.0).splitlines()
    assert lines[1:4] == [
        " █▀█ █ █ ▄ █▀█ █▀█    of 10:00",
        " █ █ ▀▀█ ▄ █ █ █ █    6 min left",
        " ▀▀▀   ▀   ▀▀▀ ▀▀▀",
    ]


def test_at_its_end_it_says_what_to_do() -> None:
    assert "the last minute" in shown(BOILING, minutes=-0.5)
    assert "over: heat off, e" in shown(BOILING, minutes=2.0)


def test_held_it_says_for_how_long_and_how_often() -> None:
    text = shown(BOILING + stamp("boil-hold", "06:53:00"), minutes=-6.0)
    assert "held" in text
    assert "for 01:00" in text
    assert "1 hold, 00:00" in text  # those before this one


def test_boiled_it_takes_one_line() -> None:
    held = BOILING + stamp("boil-hold", "06:53:00") + stamp("boil-on", "06:54:10")
    text = shown(held + stamp("boil-done", "07:01:10"), minutes=30.0)
    assert " to boil     10 min  boiled 10:00" in text
    assert " held      1 hold, 01:10" in text
    assert "▀" not in text


def test_what_was_lost_or_is_not_known_is_told() -> None:
    lost = stamp("lost", "06:52:00", 'volume = "100 mL"\n')
    assert " lost     • 100 mL" in shown(BOILING + lost)
    unsure = shown(BOILING + stamp("boil-hold", "06:58:00", 'task = "unsure"\n'))
    assert "8 min of it are not known" in unsure


def test_a_wall_clock_that_was_set_is_told() -> None:
    first = stamp("boil-on", "06:50:00", 'mark = "a 100.0"\n')
    text = shown(ONE + first + stamp("boil-hold", "07:55:00", 'mark = "a 400.0"\n'))
    assert "set by 1 h 00 min" in text


def test_the_cool_down_with_rate_and_hour() -> None:
    text = shown(READ, minutes=7.0)
    assert " cooling for 7 min: 47 °C by now" in text
    assert " cooling for 7 min: 116 °F by now" in shown(READ, minutes=7.0, system="us")
    assert " bath     •   2 °C" in text
    assert " read     •  52 °C   08:06" in text
    assert " rate         0.112 /min" in text
    assert " cool at   08:14  21 °C  08:13–08:15" in text
    assert " pitch at  08:12  26 °C, near enough" in text
    assert text.count("●") == 3


def test_before_two_readings_it_says_what_it_needs() -> None:
    assert "needs two readings of the wort: t" in shown(COOLING, minutes=3.0)


@pytest.mark.parametrize("glyphs", [FULL, CONSOLE, ASCII])
@pytest.mark.parametrize("cells", [24, 36, 47, 90])
def test_the_curve_keeps_to_its_width_and_its_signs(glyphs: object, cells: int) -> None:
    text = shown(READ, minutes=7.0, cells=cells, glyphs=glyphs)
    assert all(len(line) <= cells for line in text.splitlines())
    assert glyphs is not ASCII or text.isascii()
    assert any(line.strip().startswith("0") for line in text.splitlines())


def test_what_has_cooled_unread_asks_for_no_readings() -> None:
    assert "needs two readings" in shown(COOLING, minutes=10.0)
    cooled = shown(COOLING + stamp("cool-done", "07:20:00"), minutes=30.0)
    assert "cooled" in cooled
    assert "rate" not in cooled
    assert "needs two readings" not in cooled


def test_growth_with_what_is_left_and_what_a_gravity_says() -> None:
    grows = BOILED + stamp("yeast-in", "07:00:00")
    text = shown(grows, minutes=10 * 60.0)
    assert " feeding 1 grows" in text
    assert "by the model" in text
    assert "to Sat 15:00" in text
    assert "left      over by 1 h 00 min, since Sat 15:00" in shown(grows, minutes=56 * 60.0)
    tested = grows + '[[reading]]\nat = 2026-11-26T17:00:00Z\nstep = 1\nkind = "gravity"\nvalue = "1.010"\n'
    assert "by test" in shown(tested, minutes=601.0)
    assert "done" in shown(tested, minutes=601.0)


def test_a_boil_that_ran_on_unseen_is_asked_about() -> None:
    rows = clock.rows(scene(BOILING)._replace(asked=True), 47)
    assert [row.does for row in rows if row.does] == ["boil-went-on", "boil-off-at", "boil-unsure"]
    assert "Did it boil?" in text_of(rows, 47)


@pytest.mark.parametrize(
    ("seconds", "text"), [(0.0, "00:00"), (59.9, "00:59"), (600.0, "10:00"), (4181.0, "1:09:41"), (-3.0, "00:00")]
)
def test_time_in_digits(seconds: float, text: str) -> None:
    assert clock_text(seconds) == text
    assert len({sum(len(part) for part, _ in line) for line in large(seconds, "text", FULL)}) == 1
    assert " ".join(text) in large(seconds, "text", ASCII)[1][0][0]


def test_every_digit_looks_like_no_other() -> None:
    drawn = {tuple(line[0][0] for line in large(60.0 * n + n, "text", FULL)) for n in range(10)}
    assert len(drawn) == 10


def test_the_plan_of_the_scene_has_its_clock() -> None:
    assert isinstance(scene(ONE), Scene)
    assert plan(ONE).clock is not None
