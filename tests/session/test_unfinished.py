"""The line being typed: kept beside the file while it is open, gone once it is not."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.session.samples import BARE
from workbench.session.edits import SetValue
from workbench.session.store import Store
from workbench.session.unfinished import Line, Unfinished, line_path

if TYPE_CHECKING:
    from pathlib import Path


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "alder.toml"


def wait_for(path: Path, *, there: bool = True) -> None:
    end = time.monotonic() + 10
    while line_path(path).exists() != there:
        assert time.monotonic() < end
        time.sleep(0.01)


def test_what_is_typed_is_found_by_the_next_program_once(path: Path) -> None:
    line = Unfinished(path)
    line.put(Line("beer.volume", "2"))
    line.put(Line("beer.volume", '25 "L"'))
    wait_for(path)
    line.end()
    after = Unfinished(path)
    assert after.take() == Line("beer.volume", '25 "L"')
    assert after.take() is None
    assert list(path.parent.iterdir()) == []


def test_a_line_that_was_entered_leaves_nothing_even_if_it_had_been_written(path: Path) -> None:
    line = Unfinished(path)
    line.put(Line("note", "smells"))
    line.clear()  # before it was written
    line.put(Line("note", "smells fine"))
    wait_for(path)
    line.clear()
    wait_for(path, there=False)
    assert list(path.parent.iterdir()) == []
    line.put(Line("note", "again"))
    wait_for(path)
    line.clear()
    line.end()
    assert list(path.parent.iterdir()) == []


@given(st.text(max_size=30), st.text(max_size=30))
def test_any_text_comes_back_letter_for_letter(tmp_path_factory: pytest.TempPathFactory, about: str, text: str) -> None:
    path = tmp_path_factory.getbasetemp() / "any.toml"
    line = Unfinished(path)
    line.put(Line(about, text))
    line.end()
    assert Unfinished(path).take() == Line(about, text)


@pytest.mark.parametrize("raw", [b"", b"\xff", b"about = 1", b"[" * 900])
def test_whatever_lies_there_hurts_nobody(path: Path, raw: bytes) -> None:
    line_path(path).write_bytes(raw)
    assert Unfinished(path).take() is None


def test_flushed_with_the_batch(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Who is told to leave right after a key has no other time."""
    monkeypatch.setattr("workbench.session.saver.SETTLE_S", 3600.0)
    monkeypatch.setattr("workbench.session.saver.LONGEST_S", 3600.0)
    store = Store.create(tmp_path / "alder.toml", BARE)
    store.unfinished.put(Line("note", "pears"))
    assert store.flush_or_set_aside() is None
    assert Unfinished(store.path).take() == Line("note", "pears")
    assert store.close()


def test_entered_it_stays_until_the_batch_is_saved(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    store = Store.create(tmp_path / "alder.toml", BARE)
    store.unfinished.put(Line("batch.name", "Birch"))
    assert store.flush()
    monkeypatch.setattr("workbench.session.saver.SETTLE_S", 3600.0)
    monkeypatch.setattr("workbench.session.saver.LONGEST_S", 3600.0)
    store.apply(SetValue("batch.name", "Birch"))
    store.unfinished.clear()
    assert line_path(store.path).exists()  # killed now, the next program makes a note of it
    assert store.flush()
    assert not line_path(store.path).exists()
    store.unfinished.put(Line("batch.name", "Cedar"))
    assert store.flush()
    store.path.write_bytes(b"no toml [")
    store.apply(SetValue("batch.name", "Cedar"))
    store.unfinished.clear()
    assert not store.flush()
    assert line_path(store.path).exists()
    assert store.close()  # beside the file
    assert not line_path(store.path).exists()
