"""The index: each version of a file is read once, and whatever happens to the index costs time only."""

from __future__ import annotations

import json
import os
import zlib
from typing import TYPE_CHECKING, Any

import pytest

from workbench.session.index import Index, Reader

if TYPE_CHECKING:
    from pathlib import Path


class Shelf:
    """A folder, its index, and which files were read since last asked."""

    def __init__(self, tmp_path: Path) -> None:
        self.folder, self.file = tmp_path / "batches", tmp_path / "cache" / "index.json"
        self.folder.mkdir()
        self._read: list[str] = []

    def write(self, name: str, text: str) -> None:
        (self.folder / name).write_text(text, "utf-8")

    def known(self, mark: str = "1") -> dict[str, str]:
        def read(path: Path) -> str:
            self._read.append(path.name)
            return path.read_text("utf-8")

        def same(told: Any) -> Any:
            return told

        index = Index(self.folder, Reader(read, same, same, mark), self.file)
        index.look()
        assert not index.read()
        index.save()
        return {path.name: told for path, told in index.known.items()}

    def read(self) -> list[str]:
        read, self._read = sorted(self._read), []
        return read


@pytest.fixture
def shelf(tmp_path: Path) -> Shelf:
    shelf = Shelf(tmp_path)
    shelf.write("a.toml", "one")
    shelf.write("b.toml", "two")
    assert shelf.known() == {"a.toml": "one", "b.toml": "two"}
    assert shelf.read() == ["a.toml", "b.toml"]
    return shelf


def test_the_second_time_nothing_is_read(shelf: Shelf) -> None:
    assert shelf.known() == {"a.toml": "one", "b.toml": "two"}
    assert shelf.read() == []


def test_only_what_changed_is_read_again(shelf: Shelf) -> None:
    shelf.write("a.toml", "other")
    shelf.write("c.toml", "three")
    (shelf.folder / "b.toml").unlink()
    assert shelf.known() == {"a.toml": "other", "c.toml": "three"}
    assert shelf.read() == ["a.toml", "c.toml"]


def test_another_file_of_the_same_size_and_time_is_read(shelf: Shelf) -> None:
    path = shelf.folder / "a.toml"
    status = path.stat()
    shelf.write("new", "six")
    os.utime(shelf.folder / "new", ns=(status.st_mtime_ns, status.st_mtime_ns))
    (shelf.folder / "new").replace(path)
    assert shelf.known()["a.toml"] == "six"


def test_one_written_over_with_its_time_set_back_is_read(shelf: Shelf) -> None:
    path = shelf.folder / "a.toml"
    status = path.stat()
    shelf.write("a.toml", "six")
    os.utime(path, ns=(status.st_atime_ns, status.st_mtime_ns))
    assert shelf.known()["a.toml"] == "six"


def test_one_that_may_be_read_by_now_is_read(shelf: Shelf) -> None:
    shelf.read()
    (shelf.folder / "a.toml").chmod(0o400)
    shelf.known()
    assert shelf.read() == ["a.toml"]


def test_what_another_program_read_is_not_used(shelf: Shelf) -> None:
    shelf.known(mark="2")
    assert shelf.read() == ["a.toml", "b.toml"]


@pytest.mark.parametrize("cut", [0, 1, 8, 9, 60, -1])
def test_a_cut_index_is_made_anew(shelf: Shelf, cut: int) -> None:
    whole = shelf.file.read_bytes()
    shelf.file.write_bytes(whole[:cut])
    assert shelf.known() == {"a.toml": "one", "b.toml": "two"}
    assert shelf.read() == ["a.toml", "b.toml"]
    assert shelf.file.read_bytes() == whole


@pytest.mark.parametrize("raw", [b"", b"\xff\xfe\x00", b"00000000\n[]", b"null", b"{}" * 1000])
def test_an_index_that_is_none_is_made_anew(shelf: Shelf, raw: bytes) -> None:
    shelf.file.write_bytes(raw)
    assert shelf.known() == {"a.toml": "one", "b.toml": "two"}
    assert shelf.read() == ["a.toml", "b.toml"]


@pytest.mark.parametrize(
    "odd", ["null", "{}", "[[], []]", "[HEAD, null]", "[HEAD, [[1]]]", '[HEAD, [["a.toml", 1, [], 3, ""]]]']
)
def test_an_index_that_is_whole_but_odd_is_made_anew(shelf: Shelf, odd: str) -> None:
    head = json.dumps(json.loads(shelf.file.read_text("ascii").partition("\n")[2])[0])
    text = odd.replace("HEAD", head)
    shelf.file.write_text(f"{zlib.crc32(text.encode()):08x}\n{text}", "ascii")
    assert shelf.known() == {"a.toml": "one", "b.toml": "two"}
    assert shelf.read() == ["a.toml", "b.toml"]


def test_a_pipe_in_its_place_is_not_waited_for(shelf: Shelf) -> None:
    shelf.file.unlink()
    os.mkfifo(shelf.file)
    assert shelf.known() == {"a.toml": "one", "b.toml": "two"}


def test_one_altered_letter_is_noticed(shelf: Shelf) -> None:
    shelf.file.write_bytes(shelf.file.read_bytes().replace(b'"one"', b'"ohe"'))
    assert shelf.known()["a.toml"] == "one"


def test_an_index_that_cannot_be_kept_is_done_without(shelf: Shelf) -> None:
    shelf.file.unlink()
    shelf.file.mkdir()
    for _ in range(2):
        assert shelf.known() == {"a.toml": "one", "b.toml": "two"}
        assert shelf.read() == ["a.toml", "b.toml"]
    assert [path.name for path in shelf.file.parent.iterdir()] == [shelf.file.name]


def test_what_was_changed_last_is_read_first(tmp_path: Path) -> None:
    for name, at in (("a.toml", 3), ("b.toml", 9), ("c.toml", 6)):
        (tmp_path / name).write_text("", "utf-8")
        os.utime(tmp_path / name, (at, at))
    index: Index[str] = Index(tmp_path, Reader(lambda path: path.name, str, str, ""), None)
    index.look()
    read = []
    while index.pending:
        before = set(index.known)
        index.read(0.0)
        read += [path.name for path in index.known if path not in before]
    assert read == ["b.toml", "c.toml", "a.toml"]
