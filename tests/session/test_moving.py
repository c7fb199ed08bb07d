"""A batch under another path: nothing is replaced, links lead where they led, what lies beside it goes along."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import pytest

from tests.session.samples import names
from workbench.errors import SaveFailed
from workbench.session.beside import backup_path, free_aside
from workbench.session.folder import archive, bring_back
from workbench.session.formats import older_path
from workbench.session.moving import move
from workbench.session.renaming import rename
from workbench.session.unfinished import line_path

if TYPE_CHECKING:
    from pathlib import Path

TEXT = "format = 1\n"


def lying_beside(path: Path) -> list[Path]:
    """Everything that the program may put beside a batch."""
    found = [backup_path(path), older_path(path, 1), older_path(path, 12), line_path(path)]
    for file in found:
        file.write_text(f"of {file.name}", "utf-8")
    for _ in range(2):
        found.append(free_aside(path))
        found[-1].write_text(f"of {found[-1].name}", "utf-8")
    return found


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "a.toml"
    path.write_text(TEXT, "utf-8")
    return path


def test_what_lies_beside_a_batch_goes_to_the_archive_with_it_and_comes_back(path: Path) -> None:
    beside = lying_beside(path)
    others = lying_beside(path.with_name("aa.toml"))
    away = archive(path)
    assert not any(file.exists() for file in beside)
    assert {file.name for file in beside} < set(names(away.parent))
    assert all(file.exists() for file in others)
    bring_back(away, path)
    assert all(file.read_text("utf-8") == f"of {file.name}" for file in beside)


def test_it_follows_a_new_name(path: Path) -> None:
    beside = lying_beside(path)
    renamed = rename(path, "Porter")
    assert not any(file.exists() for file in beside)
    assert backup_path(renamed).read_text("utf-8") == "of a.toml.bak"
    assert line_path(renamed).read_text("utf-8") == "of .a.toml.line"
    assert renamed.with_name("porter.mine-2.toml").read_text("utf-8") == "of a.mine-2.toml"


def test_it_replaces_nothing_that_is_there(path: Path) -> None:
    lying_beside(path)
    other = backup_path(path.with_name("b.toml"))
    other.write_text("of another b", "utf-8")
    move(path, path.with_name("b.toml"))
    assert other.read_text("utf-8") == "of another b"
    assert backup_path(path).read_text("utf-8") == "of a.toml.bak"


def test_a_link_in_another_folder_leads_to_the_same_file(path: Path, tmp_path: Path) -> None:
    beside = lying_beside(path)
    folder = tmp_path / "deep" / "folder"
    folder.mkdir(parents=True)
    link = folder / "link.toml"
    link.symlink_to("../../a.toml")
    away = archive(link)
    assert away.read_text("utf-8") == TEXT
    assert all(file.exists() for file in beside)
    bring_back(away, link)
    assert str(link.readlink()) == "../../a.toml"


@pytest.mark.parametrize("second", ["symlink", "hard link"])
def test_a_second_name_of_a_file_never_takes_the_place_of_the_first(path: Path, second: str) -> None:
    link = path.with_name("link.toml")
    if second == "symlink":
        link.symlink_to(path.name)
    else:
        link.hardlink_to(path)
    with pytest.raises(SaveFailed, match="there already"):
        rename(link, "a")
    assert path.read_text("utf-8") == link.read_text("utf-8") == TEXT


def test_a_name_is_taken_by_a_link_that_leads_nowhere_too(path: Path) -> None:
    path.with_name("b.toml").symlink_to("nowhere")
    with pytest.raises(SaveFailed, match="there already"):
        rename(path, "b")
    with pytest.raises(SaveFailed, match="there already"):
        rename(path.with_name("gone.toml"), "a")


def test_a_file_system_without_hard_links_moves_all_the_same(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(1, "no links here")

    monkeypatch.setattr(os, "link", refuse)
    source, target = tmp_path / "a.toml", tmp_path / "b.toml"
    source.write_text("format = 1\n", "utf-8")
    move(source, target)
    assert names(tmp_path) == ["b.toml"]


def test_what_is_gone_cannot_be_moved(tmp_path: Path) -> None:
    with pytest.raises(SaveFailed, match="could not be moved"):
        move(tmp_path / "a.toml", tmp_path / "b.toml")
