"""The sheet: what a brewer needs on paper, in full, with the brewer's own units and mark."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from tests.panes.scenes import AMBER, CET, COUNTED, ONE, READING, TWO
from workbench.paper import as_markdown, as_text
from workbench.plan.derive import derive
from workbench.plan.habits import Habits
from workbench.session.load import parsed
from workbench.session.read import read
from workbench.sheet import Page, Row, Section, page

NOW = datetime(2026, 11, 26, 7, 0, tzinfo=UTC)


def sheet(text: str, *, system: str = "metric", comma: bool = False) -> str:
    outcome = read(parsed(text.encode(), "a").data, text)
    assert not outcome.faults
    return as_text(page(derive(outcome.session, NOW, Habits(tz=CET)), system, CET, comma=comma))  # type: ignore[arg-type]


def test_paper_has_full_dates() -> None:
    text = sheet(ONE)
    assert "as of Thu 26 Nov 2026 08:00" in text
    times = text.split("Times, with the earliest and the latest\n")[1].splitlines()
    assert times[1:4] == [
        "Fri 27 Nov 2026",
        "15:45         yeast out; warm, swell as labelled  Fri 03:26 to Fri 22:44",
        "15:45         clean, sanitise flask, bar and foil",
    ]
    assert times[11] == "17:00         yeast in              Fri 04:41 to Fri 23:59"
    assert times[14:18] == [
        "Sat 28 Nov 2026",
        "07:00         look and smell: does it work?",
        "13:00         bring near the beer's temperature",
        "15:00         yeast into the beer",
    ]


def test_what_is_stamped_is_done() -> None:
    text = sheet(ONE + '[[event]]\nat = 2026-11-26T06:30:00Z\nstep = 1\nwhat = "yeast-in"\n')
    assert "07:30         yeast in              done" in text


def test_what_may_hurt_is_told_once_and_only_where_it_applies() -> None:
    text = sheet(TWO)
    assert text.count("Hot wort scalds") == text.count("Never seal working yeast") == 1
    assert "Antifoam" not in sheet(ONE + "[foam]\ndrops = 0\n")
    assert "Mind" not in sheet(AMBER.replace("23 L", "2 L"))


STAMPED = """
[[event]]
at = 2026-11-27T14:10:00Z
what = "boil-on"
[[event]]
at = 2026-11-27T14:22:00Z
what = "boil-done"
[[event]]
at = 2026-11-27T14:30:00Z
what = "cool-on"
temperature = "2 °C"
[[event]]
at = 2026-11-27T14:50:00Z
what = "cool-done"
[[reading]]
at = 2026-11-27T14:52:00Z
kind = "gravity"
value = "1.036"
[[reading]]
at = 2026-11-27T14:52:00Z
kind = "volume"
value = "1.55 L"
[[event]]
at = 2026-11-27T15:30:00Z
what = "yeast-in"
[[reading]]
at = 2026-11-28T13:00:00Z
kind = "count"
value = "240 B"
[[event]]
at = 2026-11-28T13:30:00Z
step = 0
what = "pitched"
[[event]]
at = 2026-11-28T13:30:00Z
step = 0
what = "note"
text = "smelt clean"
"""


def test_planned_against_actual() -> None:
    text = sheet(ONE + STAMPED)
    lines = text.split("Planned and actual\n")[1].splitlines()[1:10]
    assert [line.split("  ")[0] for line in lines] == [
        "feeding 1 gravity",
        "feeding 1 volume",
        "feeding 1 boiled",
        "feeding 1 boil-off",
        "feeding 1 cooled in",
        "feeding 1 yeast in",
        "feeding 1 grown for",
        "feeding 1 cells",
        "pitched",
    ]
    assert lines[0].split() == ["feeding", "1", "gravity", "1.0360", "planned", "1.0340"]
    assert lines[2].split() == ["feeding", "1", "boiled", "12", "min", "planned", "10", "min"]
    assert lines[6].split() == ["feeding", "1", "grown", "for", "22.0", "h", "planned", "22.0", "h"]
    assert "planned Fri 17:00" in lines[5]
    assert "smelt clean" in text
    assert "Planned and actual" not in sheet(ONE)


def test_wort_that_was_lost_is_told_of_afterwards() -> None:
    spilt = '[[event]]\nat = 2026-11-27T14:20:00Z\nwhat = "lost"\nvolume = "150 mL"\n'
    text = sheet(ONE + STAMPED.replace("[[event]]\nat = 2026-11-27T15:30", spilt + "[[event]]\nat = 2026-11-27T15:30"))
    lines = text.split("Planned and actual\n")[1].splitlines()
    lost = next(line for line in lines if line.startswith("feeding 1 lost"))
    assert lost.split()[:5] == ["feeding", "1", "lost", "150", "mL"]


def test_a_task_in_the_night_is_told_where_its_hour_stands() -> None:
    text = sheet(ONE + 'hours = "12 h"\n')
    line = text[text.index("03:00         yeast in") :].splitlines()[1]
    assert line.startswith("  ! note: yeast in at 03:00 is outside 07:00–22:30: hours of 17 instead of 12")


def typeset(*rows: Row, subtitles: tuple[str, ...] = ()) -> list[str]:
    """The lines of one section; those of its title and below."""
    text = as_text(Page("Alder Lane Amber", subtitles, (Section("Times", rows),)))
    return text.split("Mind")[0].splitlines()


def test_columns_never_touch_and_stay_in_line() -> None:
    lines = typeset(Row("Fri 27 Nov 2026 14:45", "make the wort"), Row("Sat 5 Dec 2026 14:45", "pitch"))
    assert lines[4:6] == ["Fri 27 Nov 2026 14:45  make the wort", "Sat 5 Dec 2026 14:45   pitch"]
    lines = typeset(
        Row("need", "1 2 3 4 5 6 7 8 9 10 11 12", "as typed"), Row("a label of more than twenty-four", "1", "x")
    )
    assert lines[4] == "need          1 2 3 4 5 6 7 8 9 10 11 12  as typed"
    assert lines[5].startswith("a label of more than twenty-four  1  ")


def test_what_is_too_long_for_a_line_goes_on_under_its_column() -> None:
    first, second = typeset(Row("chance", "0.62", "good odds; a tenth under is no drama, a top-up helps"))[4:6]
    assert first[36:] == "good odds; a tenth under is no drama, a"
    assert second == " " * 36 + "top-up helps"


def test_a_long_note_is_wrapped() -> None:
    assert max(map(len, sheet(ONE.replace("[beer]", f'note = "{"top-up " * 40}"\n[beer]')).splitlines())) <= 80


def test_paper_says_what_glass_and_how_warm_the_sample() -> None:
    text = sheet(ONE.replace('size = "3 L"', 'size = "3 L"\ncount = 2') + READING)
    assert "3.00 L                2 of them, feedings shared" in text
    assert "read 1.0335 at 24 °C" in text


def test_the_decimal_mark_is_the_brewers_everywhere_but_in_reasons() -> None:
    figures = sheet(ONE, comma=True).split("Mind")[0]
    assert "1,034 (8,5 °P)" in figures
    assert "0,64" in figures
    assert "1,0546" in figures
    assert "0,75 million per mL and °P" in figures
    half = sheet(ONE + 'hours = "30.5 h"\n', comma=True)
    assert "30,5 h" in half


@pytest.mark.parametrize(("extra", "told"), [("", True), ('pitch = "decanted"\n', False)])
def test_the_beers_gravity_is_told_only_where_the_starter_changes_it(extra: str, told: bool) -> None:
    text = sheet(ONE.replace("[beer]", extra + "[beer]"))
    assert ("with the starter in it" in text) is told


def test_what_is_needed_is_no_mere_note() -> None:
    assert "needed: set the beer's volume" in sheet("format = 1\n")


def test_the_pot_takes_all_the_wort_of_several_flasks() -> None:
    pot = AMBER.replace('size = "3 L"', 'size = "3 L"\ncount = 2') + '[[step]]\nwort = "2 L"\nboil_in = "pot"\n'
    line = next(line for line in sheet(pot).splitlines() if line.startswith("boiling"))
    assert float(line.split()[1]) > 2.2


def test_a_late_start_is_told_on_paper() -> None:
    outcome = read(parsed(ONE.encode(), "a").data, ONE)
    late = datetime(2026, 11, 28, 11, 0, tzinfo=UTC)
    assert "CAUTION: by this plan the yeast went in 19 h" in as_text(page(derive(outcome.session, late), tz=CET))


def test_paper_says_what_the_range_of_the_pitch_comes_from() -> None:
    reasons = " ".join(sheet(ONE).split("How it was reckoned")[1].split())
    pitched = "pitched: 263 B, 110 % of the 238 B needed; the range comes mostly from growth in the flask (81 %)"
    assert pitched in reasons
    assert reasons.count("the range comes") == 1


def test_markdown_says_the_same() -> None:
    outcome = read(parsed(ONE.encode(), "a").data, ONE)
    text = as_markdown(page(derive(outcome.session, NOW), tz=CET))
    assert "| powder | 149 g |" in text
    assert text.startswith("# Alder Lane Amber\n")


def test_what_is_kept_has_its_chain_on_paper_with_the_jars_caution() -> None:
    text = sheet(ONE + '[keep]\ncells = "60 B"\n')
    kept = text.partition("Kept, for a batch every 28 d")[2].partition("Times")[0]
    for said in (
        "60 B (42.4–79.4)",
        "vented",
        "batch +1      176 B",
        "falls short",
        "188 g",
        "note: falls short, batch +1",
    ):
        assert said in kept
    assert text.count("falls short, batch") == 1
    assert "Kept," not in sheet(ONE)


def test_for_the_shelf_the_chain_is_of_what_is_kept() -> None:
    shelf = ONE.replace('[beer]\nvolume = "23 L"\ngravity = "1.056"\n', "") + '[keep]\ncells = "60 B"\n'
    text = sheet(shelf)
    assert "batch +1      360 B                 from 213 B, grown to 360 B: holds" in text
    assert "- beer" not in text


def test_paper_tells_the_raw_count_and_what_is_odd_about_it_under_its_lot() -> None:
    text = " ".join(sheet(COUNTED).split())
    assert "kept at 4 °C; 175 cells in 5 squares of 0.004 µL, diluted 40 times, 14 of them stained" in text
    assert "175/5/0.004 µL × 40 × 200 mL × 0.92" in text
    plain = sheet(COUNTED.replace("33 38 31 41 32", "14 16"))
    lines = plain.splitlines()
    at = next(i for i, line in enumerate(lines) if "note: 30 cells found" in line)
    assert not any(line.startswith("on hand") for line in lines[:at])
    assert "To know" not in plain


def test_a_count_on_paper_has_the_brewers_mark() -> None:
    figures = " ".join(sheet(COUNTED.replace("= 40", "= 2.5"), comma=True).split("Mind")[0].split())
    assert "5 squares of 0,004 µL, diluted 2,5 times" in figures


def test_drops_ice_and_the_depth_of_the_bath_are_on_paper() -> None:
    text = sheet(ONE)
    for said in ("drops         1", "of foam control, in cold", "after tap water, to 21 °C", "it floats at 113 mm"):
        assert said in text
    in_a_pot = sheet(ONE + 'boil_in = "pot"\n')
    assert "ice  " in in_a_pot
    assert "bath  " not in in_a_pot
    kept = ONE.replace('kind = "pack"', 'kind = "kept"\nvolume = "500 mL"')
    assert "it floats at 113 mm" in sheet(kept)  # in the bath stands the wort alone
    as_hot = sheet(ONE + 'temperature = "90 °C"\n[place]\naltitude = "4000 m"\n')
    assert "ice  " not in as_hot
    assert "to 3.9 in " in sheet(ONE, system="us")
    assert "drops" not in sheet(ONE + "[foam]\ndrops = 0\n").partition("Feeding 1")[2].partition("Pitch")[0]


def test_foam_that_climbs_is_told_at_its_boil_with_drops_and_without() -> None:
    for drops in (0, 2):
        text = sheet(ONE.replace("1.6 L", "2.5 L") + f"[foam]\ndrops = {drops}\n")
        feeding = text[text.index("Feeding 1") :]
        after = feeding[feeding.index("boiling  ") : feeding.index("ice  ")]
        assert "mL of foam climb 17 mm here" in after
        assert "To know" not in text
