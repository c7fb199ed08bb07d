"""The folder of batches: what is one of them, and that nothing is ever written over."""

from __future__ import annotations

import os
from contextlib import contextmanager
from typing import TYPE_CHECKING

import pytest

from workbench.errors import FileRefused, SaveFailed
from workbench.session.folder import ARCHIVE, archive, batch_files, bring_back, make

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path


def names(folder: Path) -> set[str]:
    return {found.path.name for found in batch_files(folder)}


def test_batches_are_plain_toml_files_in_sight(tmp_path: Path) -> None:
    for name in ("a.toml", "b c.toml", ".hidden.toml", "a.toml.bak", "notes.txt", "toml"):
        (tmp_path / name).write_text("format = 1\n", "utf-8")
    (tmp_path / "folder.toml").mkdir()
    (tmp_path / "archive").mkdir()
    (tmp_path / "archive" / "old.toml").write_text("format = 1\n", "utf-8")
    os.mkfifo(tmp_path / "pipe.toml")
    (tmp_path / "link.toml").symlink_to(tmp_path / "a.toml")
    (tmp_path / "broken.toml").symlink_to(tmp_path / "none")
    (tmp_path / "circle.toml").symlink_to("circle.toml")
    assert names(tmp_path) == {"a.toml", "b c.toml", "link.toml"}


def test_a_file_that_goes_away_meanwhile_takes_no_other_along(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for number in range(20):
        (tmp_path / f"{number}.toml").write_text("format = 1\n", "utf-8")
    scan = os.scandir

    @contextmanager
    def scanned(folder: Path) -> Iterator[list[os.DirEntry[str]]]:
        with scan(folder) as entries:
            found = list(entries)
        (tmp_path / found[3].name).unlink()
        yield found

    monkeypatch.setattr(os, "scandir", scanned)
    assert len(names(tmp_path)) == 19


def test_where_there_is_no_folder_there_are_no_batches(tmp_path: Path) -> None:
    assert batch_files(tmp_path / "none") == []


def test_what_is_no_folder_is_refused_in_a_sentence(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", "utf-8")
    with pytest.raises(FileRefused, match="cannot be looked into"):
        batch_files(tmp_path / "file")


def test_a_file_changed_in_any_way_is_found_to_be_another(tmp_path: Path) -> None:
    path = tmp_path / "a.toml"
    path.write_text("format = 1\n", "utf-8")
    (before,) = batch_files(tmp_path)
    other = tmp_path / "new"
    other.write_text("format = 1\n", "utf-8")
    os.utime(other, ns=(before.mtime_ns, before.mtime_ns))
    other.replace(path)  # same size, same time
    (after,) = batch_files(tmp_path)
    assert after != before


def test_a_batch_goes_to_the_archive_and_comes_back(tmp_path: Path) -> None:
    path = tmp_path / "a.toml"
    make(path, "format = 1\n")
    away = archive(path)
    assert away == tmp_path / ARCHIVE / "a.toml"
    assert names(tmp_path) == set()
    bring_back(away, path)
    assert path.read_text("utf-8") == "format = 1\n"
    assert not away.exists()


def test_the_archive_keeps_all_that_have_one_name(tmp_path: Path) -> None:
    path, kept = tmp_path / "a.toml", []
    for note in ("one", "two", "three"):
        make(path, f"format = 1 # {note}\n")
        kept.append(archive(path))
    assert [away.name for away in kept] == ["a.toml", "a-2.toml", "a-3.toml"]
    assert [away.read_text("utf-8").split()[-1] for away in kept] == ["one", "two", "three"]


def test_nothing_is_brought_back_over_another_batch(tmp_path: Path) -> None:
    path = tmp_path / "a.toml"
    make(path, "format = 1 # old\n")
    away = archive(path)
    make(path, "format = 1 # new\n")
    with pytest.raises(SaveFailed, match="there already"):
        bring_back(away, path)
    assert path.read_text("utf-8").endswith("# new\n")
    assert away.read_text("utf-8").endswith("# old\n")


def test_a_batch_is_made_with_its_folder_and_never_over_another(tmp_path: Path) -> None:
    path = tmp_path / "deep" / "a.toml"
    make(path, "format = 1\n")
    with pytest.raises(SaveFailed, match="there already"):
        make(path, "format = 1 # other\n")
    assert path.read_text("utf-8") == "format = 1\n"
    with pytest.raises(SaveFailed, match="cannot be made"):
        make(path / "b.toml", "format = 1\n")
