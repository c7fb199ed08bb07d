"""Exports: each form as its command would write it, beside the batch, over nothing that is not ours."""

from __future__ import annotations

import csv
import json
from typing import TYPE_CHECKING

import pytest

from tests.panes.scenes import ONE
from tests.screens.desks import desk_on, do
from tests.screens.homes import batches, home_on, settled, shown
from workbench.app import _in_form
from workbench.calendar import as_icalendar
from workbench.forms import _FORMS, SUFFIXES
from workbench.paper import as_markdown, as_text
from workbench.screens.choices import FORMS
from workbench.screens.exporting import export
from workbench.sheet import page
from workbench.table import HEADER

if TYPE_CHECKING:
    from pathlib import Path

    from workbench.screens.desk import Desk


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    desk = desk_on(tmp_path / "Alder Lane.toml", ONE)
    desk.in_form = _in_form
    return desk


def test_every_form_that_is_offered_can_be_made() -> None:
    assert FORMS.keys() == SUFFIXES.keys() == _FORMS.keys()


def test_each_form_is_what_the_command_prints(desk: Desk, tmp_path: Path) -> None:
    for form in FORMS:
        export(desk, form)
        assert desk.said.startswith("written: alder-lane.")
        assert str(tmp_path) in desk.said
    made = {path.suffix: path.read_bytes().decode() for path in tmp_path.glob("alder-lane.*")}
    sheet = page(desk.plan, "metric", desk.tz)
    assert made[".txt"] == as_text(sheet)
    assert made[".md"] == as_markdown(sheet)
    assert json.loads(made[".json"])["batch"]["name"] == "Alder Lane Amber"
    assert made[".ics"] == as_icalendar(desk.plan, "Alder Lane.toml")
    assert next(csv.reader(made[".csv"].splitlines())) == list(HEADER)
    assert made[".csv"].count("\r\n") == 2


def test_a_file_that_is_not_ours_is_left_alone(desk: Desk, tmp_path: Path) -> None:
    (tmp_path / "alder-lane.txt").write_text("mine", "utf-8")
    export(desk, "text")
    assert (tmp_path / "alder-lane.txt").read_text("utf-8") == "mine"
    assert "alder-lane-2.txt" in desk.said


def test_our_own_file_is_brought_up_to_date_until_another_hand_changes_it(desk: Desk, tmp_path: Path) -> None:
    export(desk, "text")
    before = (tmp_path / "alder-lane.txt").read_text("utf-8")
    do(desk, "units")
    export(desk, "text")
    after = (tmp_path / "alder-lane.txt").read_text("utf-8")
    assert before != after
    assert "gal" in after
    (tmp_path / "alder-lane.txt").write_text(f"{after}and a remark\n", "utf-8")
    export(desk, "text")
    assert (tmp_path / "alder-lane.txt").read_text("utf-8").endswith("a remark\n")
    assert (tmp_path / "alder-lane-2.txt").exists()


def test_a_link_is_not_followed(desk: Desk, tmp_path: Path) -> None:
    (tmp_path / "alder-lane.txt").symlink_to(tmp_path / "elsewhere")
    export(desk, "text")
    assert not (tmp_path / "elsewhere").exists()
    assert (tmp_path / "alder-lane-2.txt").exists()


def test_what_the_system_refuses_is_said(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("workbench.session.saving._write_new", refuse)
    export(desk, "text")
    assert desk.said == "alder-lane.txt could not be written: No space left on device"


def test_where_all_names_are_taken_nothing_is_written(desk: Desk, tmp_path: Path) -> None:
    for number in ["", *(f"-{n}" for n in range(2, 100))]:
        (tmp_path / f"alder-lane{number}.md").touch()
    export(desk, "markdown")
    assert "are there already" in desk.said
    assert not any(path.read_bytes() for path in tmp_path.glob("*.md"))


async def test_the_batch_under_the_cursor_of_the_list_is_written_in_every_form(tmp_path: Path) -> None:
    folder = batches(tmp_path / "b")
    app = home_on(folder, units="us")
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        for form in FORMS:
            await pilot.press("colon", *form[:4], "enter")
            assert f"written: alder-lane-amber{SUFFIXES[form]} in {folder}".replace(" ", "") in "".join(
                shown(app).split()
            )
        await pilot.press("E", "enter")
        await pilot.press("down", "E", "enter")
        await pilot.press("end", "E", "enter")
        assert "its file has a fault in line 6: beer.volume" in shown(app)
    made = {path.name for path in folder.iterdir() if path.suffix != ".toml"}
    assert made == {f"alder-lane-amber{suffix}" for suffix in SUFFIXES.values()} | {"quarry-lager.txt"}
    assert "6.08 gal" in (folder / "alder-lane-amber.txt").read_text("utf-8"), "in the units of the settings"


async def test_with_no_batch_there_is_nothing_to_write(tmp_path: Path) -> None:
    app = home_on(tmp_path / "none")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("E", "enter")
        assert "no batch here: n makes one" in shown(app)
    assert not (tmp_path / "none").exists()
