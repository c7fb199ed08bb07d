from __future__ import annotations

from datetime import timedelta

import pytest

from tests.panes.scenes import CET, NOW, ONE, TWO, scene, text_of
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
        "      yeast out; warm, swell as labelled",
        " d: done, next",
        "",
        " Fri 27 Nov",
        " 15:45  clean, sanitise flask, bar and foil",
        " 15:54  weigh powder into cold water",
        " 16:04  stir bar and drops in cold, dissolve",
        " 16:14  it boils: start the clock",
        " 16:24  heat off, cover loosely",
    ]


def test_the_next_thing_brings_its_figures_what_is_asked_and_what_may_hurt() -> None:
    told = lines(scene(ONE + done("boil-on") + done("boil-done", at="2026-11-26T06:40:00Z")))
    assert told[1:7] == [
        "      into the bath, mouth covered",
        " ice          1.68 kg",
        " bath to     98 mm",
        " d: done, and how cold the bath is",
        " Only sound borosilicate glass, rested first,",
        " goes from heat to ice; never thick, scratched",
    ]


def done(what: str, task: str = "", *, at: str = "2026-11-26T06:30:00Z", step: int = 1) -> str:
    return f'[[event]]\nat = {at}\nstep = {step}\nwhat = "{what}"\ntask = "{task}"\n'


def test_what_is_done_stands_with_its_hour_and_a_sign_and_what_was_passed_over_without() -> None:
    told = lines(scene(ONE + done("task-done", "packs") + done("task-skipped", "clean") + done("boil-on")))
    assert told[1] == "      heat off, cover loosely"
    first = told.index(" 07:30✓ yeast out; warm, swell as labelled")
    assert told[first - 2 : first] == ["", " Thu 26 Nov"], "set apart: the days begin anew"
    assert " 07:30– clean, sanitise flask, bar and foil" in told
    assert " 07:30✓ it boils: start the clock" in told
    assert " 07:30  weigh powder into cold water" in told  # not after what came after it


def test_what_has_gone_by_comes_last_where_nobody_steps_through_the_day() -> None:
    told = lines(at(ONE, hours=33.5))  # Fri 17:30, half an hour after the yeast was to go in
    assert told[:2] == [" NEXT Fri 15:45, 1 h 45 min ago", "      yeast out; warm, swell as labelled"]
    told = lines(at(ONE, hours=40))
    assert told[0] == " NEXT Sat 07:00, in 7 h 00 min"
    assert told.index(" 15:00  yeast into the beer") < told.index(" 17:00  yeast in")


def test_what_is_stamped_is_neither_next_nor_warned_of() -> None:
    told = lines(at(ONE + done("yeast-in", at="2026-11-26T22:30:00Z"), hours=15.5))  # Thu 23:30, this minute
    assert told[:2] == [" NEXT Thu 23:30, now", "      shake for air"]
    assert " 23:30✓ yeast in" in told


def test_notes_stand_with_their_hour() -> None:
    noted = ONE + '[[event]]\nat = 2026-11-26T06:30:00Z\nstep = 0\nwhat = "note"\ntext = "smells of \\u001b[31mbread"\n'
    assert " Thu 07:30 smells of [31mbread" in lines(scene(noted))


def test_how_early_and_how_late_where_there_is_room_and_it_says_something() -> None:
    wide = lines(scene(ONE), 80)
    assert wide[1].split("  ")[-1].strip() == "03:26–22:44"
    assert next(line for line in wide if "  yeast in" in line).endswith(" 04:41–23:59")
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
    assert len(tasks) == len(scene(CHILLED).plan.moments) == 18
    assert all(row.figure is not None and row.figure.why.says for row in tasks)


@pytest.mark.parametrize("cells", [44, 47])
def test_every_task_is_told_whole_in_the_narrowest_pane(cells: int) -> None:
    shown = scene(TWO + 'decant = true\n[keep]\ncells = "60 B"\n')
    text = "\n".join(lines(shown, cells))
    assert len(shown.plan.moments) > 25
    assert all(task.what in text for task in shown.plan.moments)


def test_what_is_open_stands_by_its_hours() -> None:
    kept = ONE.replace("[beer]", 'pitch = "whole"\n[beer]') + '[keep]\ncells = "60 B"\n'
    told = lines(scene(kept))
    here = [line for line in told if "keep part of it back" in line or "bring near" in line or "into the beer" in line]
    assert [line[1:6] for line in here] == ["13:00", "15:00", "15:00"]
    assert "bring near" in here[0]
    assert "keep part" in here[1]
