"""A batch under another name: its file follows, a copy starts afresh, and nothing else of the text changes."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import TYPE_CHECKING

import pytest

from tests.session.samples import names
from workbench.errors import FileRefused, SaveFailed
from workbench.session.faults import FaultyFile
from workbench.session.folder import archive
from workbench.session.load import load
from workbench.session.read import read
from workbench.session.renaming import copied_text, rename
from workbench.session.store import Store

if TYPE_CHECKING:
    from pathlib import Path

TEXT = """\
# mine
format = 1
[batch]
name = "Alder Lane Amber"   # the old one
pitch_at = 2026-11-28T15:00:00+01:00
[beer]
volume = "23 L"
[[step]]
wort = "1.6 L"
[[reading]]
at = 2026-11-26T06:30:00Z
kind = "gravity"
value = "1.0335"
[[event]]
at = 2026-11-27T16:00:00Z
step = 1
what = "yeast-in"
"""
BEFORE, AFTER = datetime(2026, 11, 26, tzinfo=UTC), datetime(2026, 12, 26, tzinfo=UTC)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "alder-lane-amber.toml"
    path.write_text(TEXT, "utf-8")
    return path


def test_the_file_follows_the_name(path: Path) -> None:
    renamed = rename(path, "Mill/Race: Porter")
    assert renamed == path.with_name("mill-race-porter.toml")
    assert renamed.read_text("utf-8") == TEXT.replace("Alder Lane Amber", "Mill/Race: Porter")
    assert names(path.parent) == [renamed.name]


def test_a_batch_that_is_open_elsewhere_is_left_alone(path: Path) -> None:
    store = Store.open(path)
    for act in (lambda: rename(path, "Mill Race"), lambda: archive(path)):
        with pytest.raises(SaveFailed, match=r"alder-lane-amber.toml is open in another terminal \(.+@.+\): leave it"):
            act()
    assert not (path.parent / "archive").exists()
    assert path.read_text("utf-8") == TEXT
    assert store.close()
    assert archive(rename(path, "Mill Race")).name == "mill-race.toml"


def test_a_name_that_makes_the_same_file_name_changes_only_the_text(path: Path) -> None:
    assert rename(path, "ALDER lane amber") == path
    assert 'name = "ALDER lane amber"' in path.read_text("utf-8")


def test_another_batch_of_that_name_is_left_alone(path: Path) -> None:
    other = path.with_name("porter.toml")
    other.write_text("format = 1\n", "utf-8")
    with pytest.raises(SaveFailed, match="there already"):
        rename(path, "Porter")
    assert path.read_text("utf-8") == TEXT
    assert other.read_text("utf-8") == "format = 1\n"


@pytest.mark.parametrize("raw", [b"format = 1\n[beer]\nvolume = 3\n", b"[", b"\xff\xfe"])
def test_a_faulty_file_keeps_its_name(path: Path, raw: bytes) -> None:
    path.write_bytes(raw)
    with pytest.raises(FaultyFile):
        rename(path, "Porter")
    assert path.read_bytes() == raw
    with pytest.raises(FileRefused):
        rename(path.with_name("none.toml"), "Porter")


def test_a_mark_of_byte_order_and_line_ends_stay(path: Path) -> None:
    path.write_bytes(b"\xef\xbb\xbf" + TEXT.replace("\n", "\r\n").encode())
    raw = rename(path, "Porter").read_bytes()
    assert raw == b"\xef\xbb\xbf" + TEXT.replace("\n", "\r\n").replace("Alder Lane Amber", "Porter").encode()


def test_a_copy_has_neither_readings_nor_stamps(path: Path, tmp_path: Path) -> None:
    text = copied_text(path, "Second", BEFORE)
    made = tmp_path / "second.toml"
    made.write_text(text, "utf-8")
    loaded = load(made)
    session, faults, notes = read(loaded.data, loaded.text)
    assert (faults, notes, session.reading, session.event) == ((), (), (), ())
    assert (session.batch.name, session.step[0].wort_l) == ("Second", 1.6)
    assert session.batch.pitch_at is not None
    assert text.startswith('# mine\nformat = 1\n[batch]\nname = "Second"   # the old one\n')
    assert path.read_text("utf-8") == TEXT


def test_a_copy_of_what_is_over_has_no_hour_yet(path: Path) -> None:
    assert "pitch_at" not in copied_text(path, "Second", AFTER)


def test_of_a_faulty_file_there_is_no_copy(path: Path) -> None:
    path.write_text("format = 1\n[beer]\nvolume = 3\n", "utf-8")
    with pytest.raises(FaultyFile):
        copied_text(path, "Second", BEFORE)
