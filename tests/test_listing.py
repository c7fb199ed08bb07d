"""The list of batches: a thousand of them, some odd, each derived once."""

from __future__ import annotations

import json
from collections import Counter
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING

import pytest

from tests.panes.scenes import CET, NOW, ONE
from workbench import listing
from workbench.cli import main
from workbench.plan.habits import Habits
from workbench.session import beside

if TYPE_CHECKING:
    from pathlib import Path

    from workbench.plan.summary import Summary
    from workbench.session.index import Index

HABITS = Habits(tz=CET)
FED = '[[event]]\nat = 2026-11-27T16:10:00Z\nstep = 1\nwhat = "yeast-in"\n'


def indexed(folder: Path) -> Index[Summary]:
    index = listing.index_of(folder, HABITS)
    index.look()
    index.read()
    index.save()
    return index


def printed(folder: Path, now: datetime = NOW) -> list[str]:
    return list(listing.lines(indexed(folder), now, CET))


@pytest.fixture
def derived(monkeypatch: pytest.MonkeyPatch) -> Counter[str]:
    """How often each file was derived."""
    count: Counter[str] = Counter()
    read_summary = listing.read_summary

    def counted(path: Path, habits: Habits) -> Summary:
        count[path.name] += 1
        return read_summary(path, habits)

    monkeypatch.setattr(listing, "read_summary", counted)
    return count


def generated(folder: Path, count: int) -> None:
    """Batches over two years, dry ones as they are quick to reckon: some pitched, some without an hour, some faulty."""
    folder.mkdir()
    for number in range(count):
        pitch_at = NOW + timedelta(hours=number * 7919 % 18000 - 17000)
        text = f'format = 1\n[batch]\nname = "Batch {number}"\n'
        text += f"pitch_at = {pitch_at.isoformat()}\n" if number % 9 else ""
        text += f'[beer]\nvolume = "20 L"\ngravity = "1.0{38 + number % 32}"\n'
        text += f'[[yeast]]\nkind = "dry"\nmade_on = {(pitch_at - timedelta(days=60)).date()}\nmass = "11.5 g"\n'
        text += "[[step]]\n[wrong\n" if number % 50 == 3 else ""
        (folder / f"batch-{number:04}.toml").write_text(text, "utf-8")


def test_of_a_thousand_batches_each_is_derived_once(tmp_path: Path, derived: Counter[str]) -> None:
    folder = tmp_path / "batches"
    generated(folder, 1000)
    first = printed(folder)
    assert len(first) == 1001
    assert set(derived.values()) == {1}
    assert len(derived) == 1000
    assert printed(folder) == first
    assert derived.total() == 1000
    (folder / "batch-0500.toml").write_text(ONE, "utf-8")
    assert any(line.startswith("Alder Lane Amber ") for line in printed(folder))
    assert derived.total() == 1001
    assert sum(" faulty " in line for line in first) == 20


def test_the_list_stays_true_as_time_goes_by(tmp_path: Path, derived: Counter[str]) -> None:
    (tmp_path / "a.toml").write_text(ONE + FED, "utf-8")
    fed = datetime(2026, 11, 27, 17, 10, tzinfo=UTC)
    assert "growing 20 h 50 min" in printed(tmp_path, fed)[1]
    assert "growing 19 h 50 min" in printed(tmp_path, fed + timedelta(hours=1))[1]
    assert "past 28 Nov" in printed(tmp_path, fed + timedelta(days=9))[1]
    assert derived.total() == 1


def test_lines_are_in_order_of_time_and_aligned(tmp_path: Path) -> None:
    (tmp_path / "z.toml").write_text(ONE, "utf-8")
    (tmp_path / "y.toml").write_text(ONE.replace("-28T", "-30T").replace("Alder Lane Amber", "Küche 麦酒"), "utf-8")
    (tmp_path / "x.toml").write_text("format = 1\n", "utf-8")
    (tmp_path / "w.toml").write_text(ONE.replace("-28T", "-01T"), "utf-8")
    (tmp_path / "v.toml").write_text("format = 2\n", "utf-8")
    head, *rows = printed(tmp_path)
    assert [row.split("  ")[0] for row in rows] == ["Alder Lane Amber", "Küche 麦酒", "x", "Alder Lane Amber", "v.toml"]
    assert rows[0] == (
        f"{'Alder Lane Amber':34}{'plan':21}{'Sat 15:00':19}{'Fri 15:45':19}yeast out; warm, swell as labelled"
    )
    assert head.index("state") == rows[0].index("plan")
    assert head.index("next") == rows[0].index("Fri 15:45")
    assert rows[1].index("plan") == rows[0].index("plan") - 2  # two signs that are two cells wide
    assert "faulty" in rows[4]
    assert "line 1: format: format 2 is newer than this program" in rows[4]


@pytest.mark.parametrize(
    "raw",
    [
        b"", b"\xff\xfe\x00", b"\x00", b"[", b"format = 1\n[yeast]\n", b"a = " + b"[" * 3000, b"format = nan",
        b"<<<<<<< mine\n", b"format = 1\n[beer]\nvolume = 1e400\n", b"format = 1\nx\x1b[2J = 3\n[beer\n",
    ],
    ids=range(10),
)  # fmt: skip
def test_a_broken_batch_is_listed_as_such_and_hurts_no_other(tmp_path: Path, raw: bytes) -> None:
    (tmp_path / "a.toml").write_text(ONE, "utf-8")
    (tmp_path / "broken.toml").write_bytes(raw)
    rows = printed(tmp_path)[1:]
    assert [row.split()[0] for row in rows] == ["Alder", "broken.toml"]
    assert " faulty " in rows[1]
    assert all(row.isprintable() for row in rows)


def test_what_was_put_aside_is_told_from_a_batch_and_rings_nowhere(tmp_path: Path) -> None:
    path = tmp_path / "a.toml"
    path.write_text(ONE + FED, "utf-8")
    for _ in range(2):
        beside.set_aside(path, (ONE + FED).encode())
    (tmp_path / "gold.mines.toml").write_text(ONE, "utf-8")
    index = indexed(tmp_path)
    row = f"{'Alder Lane Amber':34}{'aside':59}was not taken into a.toml: compare, then put it away"
    assert list(listing.lines(index, NOW, CET))[3:] == [row, row]
    assert sum(bool(told.tasks or told.rings) for told in index.known.values()) == 2


def test_text_of_a_file_cannot_steer_the_terminal(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    name = json.dumps("\x1b]0;owned\x07\x1b[2J\u202e\u200b\x9b31m\nsecond line\r\x00 cells")
    (tmp_path / "a\x1b[31m\n.toml").write_text(ONE.replace('"Alder Lane Amber"', name), "utf-8")
    (tmp_path / "b\x1b[31m.toml").write_text("[", "utf-8")
    assert main(["list", "--folder", str(tmp_path)]) == 0
    out = capsys.readouterr().out
    assert len(out.splitlines()) == 3
    assert all(line.isprintable() for line in out.splitlines())


def test_a_name_of_any_length_keeps_its_column(tmp_path: Path) -> None:
    (tmp_path / "a.toml").write_text(ONE.replace("Alder Lane Amber", "麦" * 500), "utf-8")
    assert printed(tmp_path)[1].startswith("麦" * 15 + "…   plan")


def test_an_empty_folder_says_how_to_begin(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["list", "--folder", str(tmp_path / "none")]) == 0
    said = capsys.readouterr()
    assert said.out == ""
    assert "no batches in" in said.err
    assert "workbench new NAME" in said.err


def test_the_folder_may_be_named_before_or_behind_the_command(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "a.toml").write_text(ONE, "utf-8")
    for words in (["list", "--folder", str(tmp_path)], ["--folder", str(tmp_path), "list"]):
        assert main(words) == 0
        assert "Alder Lane Amber" in capsys.readouterr().out


def test_the_settings_say_where_batches_are(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "a.toml").write_text(ONE, "utf-8")
    settings = tmp_path / "config"
    settings.write_text(f'folder = "{tmp_path}"\n', encoding="utf-8")
    monkeypatch.setenv("WORKBENCH_CONFIG", str(settings))
    assert main(["list"]) == 0
    assert "Alder Lane Amber" in capsys.readouterr().out


def test_a_folder_that_cannot_be_looked_into_is_one_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "file").write_text("", "utf-8")
    assert main(["list", "--folder", str(tmp_path / "file")]) == 1
    assert capsys.readouterr().err.count("\n") == 1


def test_other_settings_are_reckoned_anew(tmp_path: Path, derived: Counter[str]) -> None:
    (tmp_path / "a.toml").write_text(ONE, "utf-8")
    printed(tmp_path)
    index = listing.index_of(tmp_path, HABITS._replace(brix_per_plato=1.1))
    index.look()
    assert len(index.pending) == 1
    assert derived.total() == 1


def test_every_folder_has_an_index_of_its_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert listing.index_file(tmp_path / "a") != listing.index_file(tmp_path / "b")
    monkeypatch.delenv("WORKBENCH_CACHE")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    assert listing.index_file(tmp_path / "a").parent.name == "brew-day-workbench"
