from __future__ import annotations

from datetime import timedelta

import pytest

from tests.panes.scenes import CET, NOW, ONE, TWO, row_of, scene, text_of
from workbench.panes import day
from workbench.panes.rows import Scene, stops
from workbench.plan.derive import derive
from workbench.plan.habits import Habits

CHILLED = ONE.replace("[beer]", 'pitch = "decanted"\n[beer]') + '[keep]\ncells = "60 B"\n'


def at(text: str, **later: float) -> Scene:
    """The scene so much later than the others."""
    shown = scene(text)
    return shown._replace(plan=derive(shown.plan.session, NOW + timedelta(**later), Habits(tz=CET)))


def lines(shown: Scene, cells: int = 47) -> list[str]:
    return text_of(day.rows(shown, cells), cells).splitlines()


def test_the_next_thing_stands_first_and_the_rest_by_day() -> None:
    assert lines(scene(ONE))[:10] == [
        " NEXT Fri 15:45, in 1 d 07 h",
        "      make the wort, yeast out",
        " Hot wort scalds in seconds: at 60 °C in 5 or",
        " 6, at 65 °C in 2. Keep children and pets",
        " away. w: all that may hurt here.",
        "",
        " Fri 27 Nov",
        " 17:00  yeast in",
        " Sat 28 Nov",
        " 15:00  yeast into the beer",
    ]


def test_what_has_gone_by_comes_last_and_dim() -> None:
    shown = at(ONE, hours=33)  # Fri 17:00, and the yeast goes in
    told = lines(shown)
    assert told[0] == " NEXT Fri 17:00, now"
    assert told[2].startswith(" ! weighing was to begin 1 h 15 min ago")
    assert told[3].startswith(" Lift a full flask with a dry hand")
    after = told[told.index("") + 1 :]
    assert after[:4] == [
        " Sat 28 Nov",
        " 15:00  yeast into the beer",
        " Fri 27 Nov",
        " 15:45  make the wort, yeast out",
    ]
    gone = row_of(day.rows(shown, 47), "moment.1.make the wort, yeast out")
    assert {role for _, role in gone.spans} == {"dim"}


def test_what_is_stamped_is_neither_next_nor_warned_of() -> None:
    stamped = ONE + '[[event]]\nat = 2026-11-26T22:30:00Z\nstep = 1\nwhat = "yeast-in"\n'
    told = lines(at(stamped, hours=15.5))  # Thu 23:30, this minute
    assert told[:2] == [" NEXT Sat 15:00, in 1 d 15 h", "      yeast into the beer"]
    assert told[3:6] == [" Thu 26 Nov", " 22:15  make the wort, yeast out", " 23:30  yeast in"]


def test_how_early_and_how_late_where_there_is_room_and_it_says_something() -> None:
    wide = lines(scene(ONE), 80)
    assert wide[1].split("  ")[-1].strip() == "03:26–22:44"
    assert wide[6].endswith(" 04:41–23:59")
    assert wide[8] == " 15:00  yeast into the beer"
    given = lines(scene(ONE + 'hours = "22 h"\n'), 80)  # no spread, nothing to tell
    assert not any("–" in line for line in [*lines(scene(ONE))[:10], *given[:9]])


def test_a_warning_stands_at_its_task() -> None:
    told = lines(scene(ONE + 'hours = "12 h"\n'), 80)
    assert told[0] == " NEXT Sat 01:45, in 1 d 17 h"
    assert told[2].startswith(" · weighing at 01:45 is outside 07:00–22:30: hours of 17 instead of 12 put it")
    assert told[told.index(" 03:00  yeast in") + 1].startswith(" · yeast in at 03:00 is outside")


def test_every_task_can_be_asked_why() -> None:
    rows = day.rows(scene(CHILLED), 47)
    tasks = [rows[i] for i in stops(rows) if rows[i].id.startswith("moment.")]
    assert len(tasks) == 5
    assert all(row.figure is not None and row.figure.why.says for row in tasks)


@pytest.mark.parametrize("cells", [44, 47])
def test_every_task_is_told_whole_in_the_narrowest_pane(cells: int) -> None:
    text = "\n".join(lines(scene(TWO + 'decant = true\n[keep]\ncells = "60 B"\n'), cells))
    for what in ("make the wort of feeding 2", "pour off, feed 2", "keep part of it back"):
        assert what in text
