"""What lies beside a batch's file."""

from __future__ import annotations

import threading
from typing import TYPE_CHECKING

import pytest

from tests.session.samples import names
from workbench.session.beside import aside_of, backup_path, keep_backup, set_aside, sweep
from workbench.session.edits import SetValue
from workbench.session.saving import temporary_prefix
from workbench.session.store import Store

if TYPE_CHECKING:
    from pathlib import Path

OLD, NEW = b"format = 1\n# old\n", b"format = 1\n# new\n"


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "a.toml"
    path.write_bytes(OLD)
    return path


def test_the_version_that_was_opened_is_kept_once_not_at_each_save(path: Path) -> None:
    store = Store.open(path)
    for volume in ("20 L", "21 L"):
        store.apply(SetValue("batch.note", volume))
        assert store.flush()
    assert store.close()
    assert backup_path(path).read_bytes() == OLD
    assert "21 L" in path.read_text("utf-8")


def test_what_does_not_parse_never_becomes_the_backup(path: Path) -> None:
    keep_backup(path, OLD)
    path.write_bytes(b"format = ")
    with pytest.raises(Exception, match="is no TOML"):
        Store.open(path)
    assert backup_path(path).read_bytes() == OLD


def test_opening_alone_keeps_it_too_with_the_mode_of_the_file(path: Path) -> None:
    path.chmod(0o600)
    store = Store.open(path)
    store.begin()
    store.close()
    assert backup_path(path).read_bytes() == OLD
    assert backup_path(path).stat().st_mode & 0o777 == 0o600


def test_where_none_can_be_kept_saving_goes_on(path: Path) -> None:
    backup_path(path).mkdir()
    keep_backup(path, OLD)
    assert names(path.parent) == ["a.toml", "a.toml.bak"]


def test_only_what_this_batch_left_over_is_swept(path: Path) -> None:
    own = path.with_name(f"{temporary_prefix(path)}0123.tmp")
    other = path.with_name(f"{temporary_prefix(path.with_name('b.toml'))}0123.tmp")
    for file in (own, other):
        file.touch()
    sweep(path)
    assert names(path.parent) == [other.name, "a.toml"]


def test_what_cannot_be_saved_is_put_aside_and_never_over_anything(path: Path) -> None:
    assert set_aside(path, NEW) == path.with_name("a.mine.toml")
    assert set_aside(path, OLD) == path.with_name("a.mine-2.toml")
    assert path.with_name("a.mine.toml").read_bytes() == NEW
    assert [aside_of(name) for name in names(path.parent)] == ["a.toml", "a.toml", ""]


def test_at_the_very_end_what_another_program_is_in_the_way_of_is_put_aside(path: Path) -> None:
    tried = threading.Event()
    store = Store.open(path, on_save=tried.set)
    path.write_bytes(b"format = 1\n# theirs\n")
    store.apply(SetValue("batch.note", "mine"))
    told = store.flush_or_set_aside()
    assert "changed by another program" in str(told)
    assert path.read_bytes() == b"format = 1\n# theirs\n"
    assert 'note = "mine"' in path.with_name("a.mine.toml").read_text("utf-8")
    assert store.close()  # where there is time to take in what the other has written
    assert all(part in path.read_text("utf-8") for part in ("# theirs", 'note = "mine"'))
