from __future__ import annotations

from tests.panes.scenes import EMPTY, ONE, TWO, row_of, scene, text_of
from workbench.panes import clock, day, doses


def test_what_to_weigh_for_each_feeding_and_how_much_to_the_litre() -> None:
    first, second = (text_of(doses.rows(scene(TWO)._replace(step=step), 44), 44) for step in (0, 1))
    assert "feeding 1 of 2 [ ]: 600 mL" in first
    assert "feeding 2 of 2 [ ]: 1.60 L" in second
    text = text_of(doses.rows(scene(TWO), 34), 34)
    assert text.count("93 g/L") == 1  # 149.1 g in 1.6 L
    assert "boiling      2.10 L at most" in text


def test_nothing_known_says_where_to_begin() -> None:
    assert "1, then ⏎," in text_of(doses.rows(scene(EMPTY), 34), 34)
    assert "1, then ⏎," in text_of(clock.rows(scene(EMPTY), 34), 34)
    assert "1, then ⏎," in text_of(day.rows(scene(EMPTY), 34), 34)


def test_the_brewers_day_can_be_edited() -> None:
    keys = {row.key for row in day.rows(scene(ONE), 47)}
    assert {"batch.name", "batch.note", "day.prepare", "day.awake", "batch.chance"} <= keys
    assert "awake      07:00-22:30" in text_of(day.rows(scene(ONE), 47), 47)


MEASURED = ONE + '[[reading]]\nat = 2026-11-27T15:00:00Z\nstep = 1\nkind = "gravity"\nvalue = "1.0385"\n'


def test_what_mends_a_measured_wort_and_that_it_may_be_left() -> None:
    text = text_of(doses.rows(scene(MEASURED), 44), 44)
    assert "measured; to make it 1.034, one of:" in text
    assert "add water" in text
    assert "or leave it" in text
    assert "add powder" not in text


def test_a_doubt_about_the_reading_stands_beside_the_volume_it_would_mean() -> None:
    rows = doses.rows(scene(MEASURED.replace("1.0385", "1.0500")), 44)
    volume = row_of(rows, "fix.0.volume")
    assert "reading-contradicts" in [warning.code for warning in volume.warnings]
    after = text_of(rows[rows.index(volume) + 1 :], 44)
    assert "measure the volume" in " ".join(after.split())


def test_once_the_yeast_is_in_nothing_mends_the_wort() -> None:
    pitched = '[[event]]\nat = 2026-11-27T16:00:00Z\nstep = 1\nwhat = "yeast-in"\n'
    assert "one of:" not in text_of(doses.rows(scene(MEASURED + pitched), 44), 44)


def test_ice_and_bath_are_told_and_what_the_bath_holds_can_be_typed() -> None:
    rows = doses.rows(scene(ONE), 44)
    assert {"place.altitude", "bath.water", "bath.temperature", "foam.drops", "foam.drop", "foam.active"} <= {
        row.key for row in rows
    }
    text = text_of(rows, 44)
    for said in ("boils at", "tap first", "bath to", "floats: 113 mm", "silicone"):
        assert said in text


def test_the_float_line_beside_the_bath_is_that_of_the_wort_alone() -> None:
    kept = TWO.replace('kind = "pack"', 'kind = "kept"\nvolume = "500 mL"')
    text = text_of(doses.rows(scene(kept), 44), 44)
    alone = text_of(doses.rows(scene(TWO), 44), 44)
    (line,) = [line for line in alone.splitlines() if "floats: " in line]
    assert line in text


def test_a_pot_stands_in_ice_but_floats_nowhere() -> None:
    text = text_of(doses.rows(scene(ONE + 'boil_in = "pot"\n'), 44), 44)
    assert "ice " in text
    assert "float" not in text
    assert "bath to" not in text
    two = text_of(doses.rows(scene(ONE.replace("[flask]", "[flask]\ncount = 2") + 'boil_in = "pot"\n'), 44), 44)
    assert "cooling one flask's share to 21 °C" in two


def test_where_it_grows_as_hot_as_it_boils_nothing_is_cooled() -> None:
    rows = doses.rows(scene(ONE + 'temperature = "90 °C"\n[place]\naltitude = "4000 m"\n'), 44)
    text = text_of(rows, 44)
    assert "nothing to cool: it grows at 90 °C" in text
    assert "place.altitude" in {row.key for row in rows}  # so that it can be put right
    for said in (" ice ", "heat", "tap first", "bath to"):
        assert said not in text


def test_the_glass_is_told_where_it_is_reckoned_and_the_wall_to_a_tenth() -> None:
    own = ONE.replace("[flask]", '[flask]\nglass = "0.7 kg"\nwall = "1.9 mm"')
    typical, measured = (text_of(doses.rows(scene(text), 44), 44) for text in (ONE, own))
    assert "glass      588 g    typical" in typical
    assert "wall         2.2 mm typical" in typical
    assert "glass    • 700 g    when empty" in measured
    assert "wall     •   1.9 mm" in measured


def test_a_us_brewer_reads_us_units_all_through() -> None:
    text = text_of(doses.rows(scene(ONE)._replace(system="us"), 44), 44)
    for said in (
        "3.1 oz/qt",  # 93.2 g/L: 88.2 g in 0.946 L
        "ice          3.71 lb",  # 1.68 kg
        "bath to      3.9 in floats: 4.5 in",
        "altitude     0 ft",
        "wall         0.09 in typical",
    ):
        assert said in text
    for metric in ("/L\n", " kg", " g ", " mm", " mL"):
        assert metric not in text


def test_powder_that_does_not_reach_says_so() -> None:
    text = text_of(doses.rows(scene(ONE + '[supplies]\npowder = "100 g"\n'), 44), 44)
    assert "it does not reach" in text


def test_a_large_flask_asks_for_its_brim() -> None:
    def brim(text: str) -> str:
        return next(line for line in text_of(doses.rows(scene(text), 44), 44).splitlines() if "brim" in line)

    assert "weigh it full" in brim(ONE)  # 3 L, typical measures
    assert "to the rim" in brim(ONE.replace("[flask]", '[flask]\nbrim = "3.2 L"'))
