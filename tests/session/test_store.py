"""The store: every change checked, undone to the byte, handed on to be saved."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.session.samples import ALL, COMMENTED, names
from workbench.errors import EditRefused, FileRefused, SaveFailed
from workbench.session import store as module
from workbench.session.edits import AddTable, Edit, MoveTable, RemoveTable, SetValue, Several, Unset
from workbench.session.faults import FaultyFile
from workbench.session.load import BOM, parsed
from workbench.session.store import Store


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "batch.toml"
    path.write_bytes(COMMENTED.encode())
    return path


@pytest.mark.parametrize("name", ALL)
def test_a_file_opened_and_closed_is_the_same_to_the_byte(tmp_path: Path, name: str) -> None:
    path = tmp_path / "a.toml"
    path.write_bytes(ALL[name].encode())
    before = path.stat()
    store = Store.open(path)
    assert store.close()
    assert path.read_bytes() == ALL[name].encode()
    assert path.stat().st_ino == before.st_ino  # not written at all


@pytest.mark.parametrize("name", ALL)
def test_an_edit_reaches_the_disk_and_undo_brings_the_very_bytes_back(tmp_path: Path, name: str) -> None:
    path = tmp_path / "a.toml"
    path.write_bytes(ALL[name].encode())
    store = Store.open(path)
    session = store.apply(SetValue("beer.volume", "17 L"))
    assert session.beer is not None
    assert session.beer.volume_l == 17.0
    assert store.session is session
    assert store.flush()
    changed = path.read_bytes()
    assert b'"17 L"' in changed
    assert changed.startswith(BOM) == (name == "bom")
    assert store.undo()
    assert store.flush()
    assert path.read_bytes() == ALL[name].encode()
    assert store.redo()
    assert store.close()
    assert path.read_bytes() == changed


def test_an_edit_that_makes_a_fault_is_refused_and_changes_nothing(path: Path) -> None:
    store = Store.open(path)
    session, text = store.session, store.text
    with pytest.raises(EditRefused, match="out of range: above 0"):
        store.apply(SetValue("beer.volume", "0 L"))
    with pytest.raises(EditRefused, match="flask's size"):
        store.apply(SetValue("flask.fill_limit", "6 L"))
    with pytest.raises(EditRefused, match="a number without unit"):
        store.apply(Several((SetValue("beer.volume", "9 L"), SetValue("beer.gravity", 1.05))))
    with pytest.raises(EditRefused, match="no characters"):
        store.apply(SetValue("batch.name", "\udcff"))
    assert (store.session, store.text) == (session, text)
    assert not store.undo()
    assert not store.saver.dirty


def test_an_edit_that_changes_nothing_is_no_step_to_undo(path: Path) -> None:
    store = Store.open(path)
    store.apply(SetValue("beer.volume", "23 L"))
    store.apply(Unset("beer.pitch_rate"))
    assert not store.undo()
    assert not store.saver.dirty


def test_a_new_edit_ends_what_could_be_redone(path: Path) -> None:
    store = Store.open(path)
    store.apply(SetValue("beer.volume", "1 L"))
    store.apply(SetValue("beer.volume", "2 L"))
    assert store.undo()
    store.apply(SetValue("beer.volume", "3 L"))
    assert not store.redo()
    assert store.undo()
    assert 'volume = "1 L"' in store.text
    assert store.close()


def test_several_edits_are_undone_together(path: Path) -> None:
    store = Store.open(path)
    store.apply(Several((RemoveTable("step", 0), RemoveTable("step", 0), RemoveTable("step", 0))))
    assert store.session.step == ()
    assert store.undo()
    assert store.text == COMMENTED
    assert len(store.session.step) == 3
    assert store.close()


@pytest.mark.parametrize(
    ("text", "edit"),
    [
        ("format = 1\nbeer = { a.b = 1 }\n", SetValue("beer.a.c", 2)),
        ("format = 1\n[[step]]\n[flask]\n[step.extra]\nx = 1\n[[step]]\n", RemoveTable("step", 0)),
        ("format = 1\nx = [nan, {y = -inf}]\n", SetValue("beer.volume", "9 L")),
    ],
)
def test_an_odd_layout_is_edited_rightly_or_not_at_all(tmp_path: Path, text: str, edit: Edit) -> None:
    path = tmp_path / "a.toml"
    path.write_text(text)
    store = Store.open(path)
    try:
        store.apply(edit)
    except EditRefused as error:
        assert "change it in an editor" in str(error)  # noqa: PT017 - either is right
        assert store.text == text
    assert store.close()


def test_what_would_come_apart_is_not_moved(tmp_path: Path) -> None:
    path = tmp_path / "a.toml"
    path.write_text("format = 1\n[[step]]\n[flask]\n[step.extra]\nx = 1\n[[step]]\n")
    with pytest.raises(EditRefused, match="change it in an editor"):
        Store.open(path).apply(MoveTable("step", 0, 1))


def test_the_oldest_steps_back_are_forgotten_when_they_grow_too_many(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, "_MOST_UNDO", 3 * len(COMMENTED))
    store = Store.open(path)
    for litres in range(1, 9):
        store.apply(SetValue("beer.volume", f"{litres} L"))
    steps = 0
    while store.undo():
        steps += 1
    assert 1 <= steps <= 3
    assert f'volume = "{8 - steps} L"' in store.text
    assert store.close()


def test_a_file_with_faults_is_not_opened_and_tells_them_all(path: Path) -> None:
    path.write_text('format = 1\n[beer]\nvolume = 3\ntype = "stout"\n')
    with pytest.raises(FaultyFile) as caught:
        Store.open(path)
    assert [fault.key for fault in caught.value.faults] == ["beer.volume", "beer.type"]
    assert str(caught.value).startswith(f"{path}:3: beer.volume: ")
    with pytest.raises(FileRefused):
        Store.open(path.parent)


def test_notes_follow_the_edits(path: Path) -> None:
    store = Store.open(path)
    assert [note.key for note in store.notes] == ["batch.my_own", "shopping", "step.1.remark"]
    store.apply(RemoveTable("step", 1))
    assert [note.key for note in store.notes] == ["batch.my_own", "shopping"]
    assert store.close()


def test_a_new_file_is_made_but_never_over_another(tmp_path: Path) -> None:
    path = tmp_path / "new.toml"
    store = Store.create(path, "format = 1\n")
    store.apply(AddTable("yeast", 0, {"kind": "pack"}))
    assert store.close()
    assert path.read_text() == 'format = 1\n\n[[yeast]]\nkind = "pack"\n'
    with pytest.raises(SaveFailed, match="is there already"):
        Store.create(path, "format = 1\n")
    assert names(tmp_path) == ["new.toml", "new.toml.bak"]


def test_what_may_not_be_written_to_is_shown_only(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "access", lambda *_: False)
    store = Store.open(path)
    assert "may not be written to" in str(store.read_only)
    with pytest.raises(EditRefused, match="may not be written to"):
        store.apply(SetValue("beer.volume", "9 L"))


def test_a_huge_file_is_shown_only_and_none_grows_huge(path: Path) -> None:
    store = Store.open(path)
    with pytest.raises(EditRefused, match="larger than 1 MB"):
        store.apply(SetValue("batch.note", "x" * 1_100_000))
    path.write_bytes(COMMENTED.encode() + b"#" * 1_100_000)
    assert "larger than 1 MB" in str(Store.open(path).read_only)


_VALUES = {
    "batch.name": st.text(max_size=20),
    "beer.volume": st.integers(1, 99).map(lambda n: f"{n} L"),
    "beer.pitch_rate": st.floats(0.05, 10),
    "step.0.decant": st.booleans(),
    "flask.count": st.integers(1, 9),
    "batch.chance": st.sampled_from([0.4, 0.5, 0.9, 1.0]),
    "keep.cells": st.sampled_from(["10 B", "lots"]),
}
_SETS = st.sampled_from(sorted(_VALUES)).flatmap(lambda key: st.builds(SetValue, st.just(key), _VALUES[key]))


@given(st.sampled_from(sorted(ALL)), st.lists(_SETS, max_size=6))
def test_any_edits_undone_give_the_first_bytes(name: str, edits: list[SetValue]) -> None:
    raw = ALL[name].encode()
    store = _without_saver(raw)
    for edit in edits:
        try:
            store.apply(edit)
        except EditRefused:
            assert edit.value in (0.4, 1.0, "lots") or edit.key.startswith("step")
    while store.undo():
        pass
    assert store.text == ALL[name].removeprefix("\ufeff")
    while store.redo():
        pass
    done = store.text
    assert parsed(done.encode(), "a.toml").data == store._loaded.data


def _without_saver(raw: bytes) -> Store:
    """A store of these bytes that saves nothing."""
    store = Store(Path("nowhere.toml"), parsed(raw, "nowhere.toml"))
    store.read_only = None
    store.saver.put = lambda data: None  # type: ignore[method-assign]
    return store


def test_an_edit_taken_back_is_as_if_it_had_never_been(path: Path) -> None:
    store = Store.open(path)
    first = store.text
    store.apply(SetValue("beer.volume", "20 L"))
    second = store.text
    store.undo()
    store.apply(AddTable("step", 0, {}))
    store.take_back()
    assert store.text == first
    assert store.redo()
    assert store.text == second


def test_the_last_key_of_a_table_without_header_can_go(tmp_path: Path) -> None:
    path = tmp_path / "dotted.toml"
    path.write_text('format = 1\nbeer.volume = "23 L"\n', encoding="utf-8")
    store = Store.open(path)
    store.apply(Unset("beer.volume"))
    assert store.text == "format = 1\n"
    store.close()
