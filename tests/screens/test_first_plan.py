"""From an empty folder to a plan by keys alone, and how few they are."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.screens.apps import app_on
from tests.screens.desks import desk_on, do, pane_text, write
from tests.screens.homes import home_on
from workbench.screens import bars, editor, guide, typed
from workbench.screens.bench import Bench
from workbench.session.load import load
from workbench.session.read import read

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from textual.pilot import Pilot

    from workbench.app import Workbench

MOST_KEYS = 25
NAMES = {" ": "space", ".": "full_stop", "+": "plus"}


def screen(app: Workbench) -> str:
    return "\n".join(canvas.text for canvas in app.screen.canvases if canvas.display)  # type: ignore[attr-defined]


class Keys:
    """Presses keys and counts them."""

    def __init__(self, pilot: Pilot[int]) -> None:
        self.pilot, self.count = pilot, 0

    async def press(self, text: str, *keys: str) -> None:
        pressed = [*(NAMES.get(sign, sign) for sign in text), *keys]
        self.count += len(pressed)
        await self.pilot.press(*pressed)


@pytest.mark.parametrize(("when", "made"), [("sat 15", "19.10"), ("+2d", "6w")])
async def test_an_empty_folder_leads_to_a_plan(
    tmp_path: Path, when: str, made: str, record_testsuite_property: Callable[[str, object], None]
) -> None:
    app = home_on(tmp_path / "b")
    async with app.run_test(size=(80, 24)) as pilot:
        keys = Keys(pilot)
        await keys.press("nale", "enter")
        assert isinstance(app.screen, Bench)
        assert "▸pitching   when?  ⏎ set it" in screen(app)
        assert "when the yeast goes into the beer" in screen(app)
        await keys.press("", "enter")
        assert "⏎ keep, next  Esc leave as it was" in screen(app)
        assert "28.11. 15, +2d" in screen(app), "the examples to their end"
        await keys.press(when, "enter")
        assert "beer in the fermenter; usually 19–25 L" in screen(app)
        await keys.press("23", "enter")
        await keys.press("56", "enter")
        assert "▸made on" in screen(app)
        assert "⏎ keep, plan  Esc leave as it was" in screen(app)
        assert "6 weeks" in screen(app)
        await keys.press(made, "enter")
        assert "a plan stands: 3 Steps has its feedings" in screen(app)
        plan = app._desk.plan  # type: ignore[union-attr]
        await pilot.press("q")
    assert plan.planned_by == "planner"
    assert plan.steps
    assert plan.final.meets_need
    assert plan.moments
    record_testsuite_property(f"keys from an empty folder to a plan ({when}, {made})", keys.count)
    assert keys.count <= MOST_KEYS
    loaded = load(tmp_path / "b" / "ale.toml")
    session = read(loaded.data, loaded.text).session
    assert session.given >= {"batch.pitch_at", "beer.volume", "beer.gravity", "yeast.0.kind", "yeast.0.made_on"}
    for presumed in ("beer.type", "yeast.0.cells", "flask.size", "wort.gravity"):
        assert not session.is_given(presumed), "nothing is put in that was not typed"


async def test_what_is_presumed_says_so_and_why(tmp_path: Path) -> None:
    app = app_on(tmp_path / "a.toml", "format = 1\n")
    async with app.run_test(size=(80, 24)) as pilot:
        keys = Keys(pilot)
        for text in ("", "sat 15", "23", "56", "6w"):
            await keys.press(text, "enter")
        assert "100 B    usual" in screen(app)
        await pilot.press("down", "down", "w")
        assert "usual" in screen(app)
        assert "common practice, no source" in screen(app)


def test_one_undo_takes_the_pack_with_its_day_back(tmp_path: Path) -> None:
    desk = do(desk_on(tmp_path / "a.toml", "format = 1\n"), "edit")
    for text in ("sat 15", "23", "56", "6w"):
        write(desk, text)
    assert desk.entry is None
    assert len(desk.plan.session.yeast) == 1
    do(desk, "undo")
    assert desk.plan.session.yeast == ()


def test_escape_ends_it_and_leaves_no_lot(tmp_path: Path) -> None:
    desk = do(desk_on(tmp_path / "a.toml", "format = 1\n"), "edit")
    for text in ("sat 15", "23", "56"):
        write(desk, text)
    assert desk.entry is not None
    assert len(desk.plan.session.yeast) == 1
    typed.press(desk, desk.entry, "escape", None)
    assert desk.entry is None
    assert desk.plan.session.yeast == ()
    assert "⏎ add a pack" in pane_text(desk)
    assert guide.missing(desk) == guide.NO_LOT
    do(desk, "edit")
    assert desk.entry is not None
    assert desk.entry.key == "yeast.0.made_on"


def test_what_is_wrong_stays_and_an_empty_line_leads_nowhere(tmp_path: Path) -> None:
    desk = do(desk_on(tmp_path / "a.toml", "format = 1\n"), "edit")
    write(desk, "someday")
    assert desk.entry is not None
    assert desk.entry.error
    write(desk, "")
    assert desk.entry is None
    do(desk, "down", "down", "edit")
    write(desk, "56")  # typed out of turn: no other line opens
    assert desk.entry is None


@pytest.mark.parametrize("keys", [("enter",), ("ctrl+u", "enter")])
def test_a_lot_left_out_of_turn_is_gone_and_asked_for_no_more(tmp_path: Path, keys: tuple[str, ...]) -> None:
    desk = do(desk_on(tmp_path / "a.toml", "format = 1\n"), "pane-1")
    desk.put(guide.NO_LOT)
    do(desk, "edit")
    for key in keys:
        assert desk.entry is not None
        typed.press(desk, desk.entry, key, None)
    assert (desk.entry, desk.store.text) == (None, "format = 1\n")


@pytest.mark.parametrize(
    ("lot", "key"),
    [
        ("", "kind"),
        ('kind = "pack"\n', "made_on"),
        ('kind = "dry"\nmade_on = 2026-10-01\n', "mass"),
        ('kind = "slurry"\nmade_on = 2026-11-10\n', "volume"),
        ('kind = "kept"\nmade_on = 2026-11-10\n', "cells"),
        ('kind = "counted"\nmade_on = 2026-11-10\n', "squares"),
        ('kind = "counted"\nmade_on = 2026-11-10\nsquares = "40 40"\n', "volume"),
    ],
)
def test_of_a_lot_the_first_thing_that_counts_is_wanted(tmp_path: Path, lot: str, key: str) -> None:
    beer = '[batch]\npitch_at = 2026-11-28T15:00:00+01:00\n[beer]\nvolume = "23 L"\ngravity = "1.056"\n'
    desk = desk_on(tmp_path / "a.toml", f"format = 1\n{beer}[[yeast]]\n{lot}")
    assert guide.missing(desk) == f"yeast.0.{key}"
    desk.pane = 5
    guide.stand(desk)
    assert desk.pane == 0
    row = desk.row()
    assert row is not None
    assert row.id == f"yeast.0.{key}"


BREW = '[batch]\npitch_at = 2026-11-28T15:00:00+01:00\n[beer]\nvolume = "23 L"\ngravity = "1.056"\n'


@pytest.mark.parametrize(
    ("file", "answers"),
    [
        ("", ("sat 15", "23", "56", "6w")),
        (BREW + "[[yeast]]\n", ("pack", "6w")),
        (BREW + "[[yeast]]\n", ("kept", "10.11.", "60")),
        (BREW + "[[yeast]]\nmade_on = 2026-11-10\n", ("slurry", "150 mL")),
        (BREW + "[[yeast]]\nmade_on = 2026-11-10\n", ("pack",)),
        (BREW + '[[yeast]]\nkind = "counted"\n', ("20.11.", "33 38 31 41 32", "200 mL")),
        (BREW + '[[yeast]]\nkind = "counted"\nvolume = "200 mL"\n', ("20.11.", "33 38 31 41 32")),
        (BREW + '[[yeast]]\nkind = "dry"\n[[yeast]]\nkind = "kept"\n', ("1.10.", "11.5")),
        (BREW.replace('volume = "23 L"\n', "") + '[[yeast]]\nkind = "pack"\n', ("23", "6w")),
    ],
)
def test_the_bottom_line_says_at_each_question_what_enter_does(
    tmp_path: Path, file: str, answers: tuple[str, ...]
) -> None:
    desk = desk_on(tmp_path / "a.toml", f"format = 1\n{file}")
    guide.stand(desk)
    do(desk, "edit")
    for text in answers:
        assert desk.entry is not None
        desk.entry.line = editor.start(text)
        (line,) = bars.bottom(desk, 80)
        said = "".join(part for part, _ in line)
        typed.press(desk, desk.entry, "enter", "\r")
        went_on = desk.entry is not None
        assert ("⏎ keep, next  Esc" in said) == went_on
        assert ("⏎ keep, plan  Esc" in said) == (not went_on and desk.said != "")
    assert desk.entry is None
    assert guide.missing(desk) == ""


def test_a_value_typed_out_of_turn_is_kept_and_no_more(tmp_path: Path) -> None:
    desk = do(desk_on(tmp_path / "a.toml", "format = 1\n"), "down", "edit")
    assert "⏎ keep  Esc" in "".join(part for part, _ in bars.bottom(desk, 80)[0])


def test_of_the_shelf_the_cells_to_keep_are_wanted(tmp_path: Path) -> None:
    pack = '[[yeast]]\nkind = "pack"\nmade_on = 2026-10-19\n'
    desk = desk_on(tmp_path / "a.toml", f"format = 1\n{pack}[batch]\npitch_at = 2026-11-28T15:00:00+01:00\n[keep]\n")
    assert guide.missing(desk) == "keep.cells"
    guide.stand(desk)
    assert desk.pane == 2
    do(desk, "edit")
    write(desk, "150")
    assert desk.said.startswith("a plan stands")
