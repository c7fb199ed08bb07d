"""Formats: an older one is brought up to this in memory and kept as it was, a newer one is only looked at."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.session.samples import COMMENTED, names
from workbench.errors import EditRefused, FileRefused
from workbench.session import formats
from workbench.session.document import with_value, without
from workbench.session.edits import SetValue
from workbench.session.faults import FaultyFile
from workbench.session.formats import older_path, upgraded
from workbench.session.load import load
from workbench.session.renaming import rename
from workbench.session.store import Store

if TYPE_CHECKING:
    from pathlib import Path

# An invented format 0, in which the beer's volume was called size, and format -1, in which that was a bare number.
ZERO = 'format = 0  # old\n[beer]\nsize = "23 L" # full\n\n[mine]\nx = 1\n'
MINUS = ZERO.replace("format = 0", "format = -1").replace('"23 L"', "23")


def renamed(text: str) -> str:
    return with_value(without(text, "beer.size"), "beer.volume", "23 L")


def with_unit(text: str) -> str:
    return with_value(text, "beer.size", "23 L")


@pytest.fixture
def _steps(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(formats.STEPS, -1, with_unit)
    monkeypatch.setitem(formats.STEPS, 0, renamed)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "alder.toml"
    path.write_text(MINUS, "utf-8")
    return path


def test_without_a_step_an_unknown_format_is_a_fault(path: Path) -> None:
    assert upgraded(ZERO, 0) is ZERO
    with pytest.raises(FaultyFile, match="there is no format -1"):
        Store.open(path)


@pytest.mark.usefixtures("_steps")
def test_an_older_format_is_brought_up_step_by_step_in_memory_only(path: Path) -> None:
    loaded = load(path)
    assert (loaded.was, loaded.raw) == (-1, MINUS.encode())
    assert loaded.text == 'format = 1  # old\n[beer]\nvolume = "23 L"\n\n[mine]\nx = 1\n'
    store = Store.open(path)
    assert store.session.beer is not None
    assert store.session.beer.volume_l == 23.0
    assert store.close()
    assert path.read_bytes() == MINUS.encode()
    assert names(path.parent) == ["alder.toml"]


@pytest.mark.usefixtures("_steps")
def test_with_the_first_change_it_is_written_and_what_was_is_kept(path: Path) -> None:
    store = Store.open(path)
    with pytest.raises(EditRefused):
        store.apply(SetValue("beer.volume", "0 L"))
    assert not older_path(path, -1).exists()
    store.apply(SetValue("beer.gravity", "1.050"))
    store.apply(SetValue("beer.gravity", "1.060"))
    assert store.close()
    assert "alder.toml.v-1.bak" in names(path.parent)
    assert older_path(path, -1).read_bytes() == MINUS.encode()
    assert path.read_text("utf-8").startswith('format = 1  # old\n[beer]\nvolume = "23 L"\ngravity = "1.060"\n')
    assert "x = 1" in path.read_text("utf-8")


@pytest.mark.usefixtures("_steps")
def test_where_what_was_cannot_be_kept_nothing_is_changed(path: Path) -> None:
    older_path(path, -1).mkdir()
    store = Store.open(path)
    with pytest.raises(EditRefused, match="must be kept as it is first"):
        store.apply(SetValue("beer.gravity", "1.050"))
    assert "gravity" not in store.text
    assert not store.undo()
    assert store.close()
    assert path.read_bytes() == MINUS.encode()


@pytest.mark.usefixtures("_steps")
def test_another_name_keeps_what_was_too(path: Path) -> None:
    target = rename(path, "Birch")
    assert target.read_text("utf-8").startswith("format = 1")
    assert older_path(path, -1).read_bytes() == MINUS.encode()


def test_a_newer_format_is_looked_at_only(path: Path) -> None:
    path.write_text(COMMENTED.replace("format = 1", "format = 7"), "utf-8")
    before = path.read_bytes()
    store = Store.open(path)
    reason = "format 7 is newer than this program, which reads format 1: use a newer version of the program"
    assert store.read_only == reason
    with pytest.raises(EditRefused, match="is newer"):
        store.apply(SetValue("beer.volume", "9 L"))
    with pytest.raises(FileRefused, match="is newer"):
        rename(path, "Birch")
    assert store.close()
    assert path.read_bytes() == before
    assert names(path.parent) == ["alder.toml"]
