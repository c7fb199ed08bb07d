"""Writing a file: the whole old version or the whole new one, whatever happens."""

from __future__ import annotations

import errno
import os
import random
import resource
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.session.samples import names
from workbench.errors import SaveFailed
from workbench.session.saving import temporary_prefix, write_atomically

OLD, NEW = b"format = 1\n# old\n", b"format = 1\n# new\n"


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "batch.toml"
    path.write_bytes(OLD)
    return path


def test_the_new_version_replaces_the_old_and_leaves_nothing_beside_it(path: Path) -> None:
    path.chmod(0o640)
    write_atomically(path, NEW, on_disk=OLD)
    assert path.read_bytes() == NEW
    assert path.stat().st_mode & 0o777 == 0o640
    assert names(path.parent) == [path.name]


def test_a_symlink_stays_one(path: Path) -> None:
    link = path.with_name("link.toml")
    link.symlink_to(path.name)
    write_atomically(link, NEW, on_disk=OLD)
    assert link.is_symlink()
    assert path.read_bytes() == NEW


@pytest.mark.parametrize("call", ["fsync", "replace", "write", "open"])
def test_when_the_system_refuses_the_old_file_stays_whole(
    path: Path, monkeypatch: pytest.MonkeyPatch, call: str
) -> None:
    real_open = os.open

    def refuse(*args: object, **_: object) -> int:
        if call == "open" and not str(args[0]).endswith(".tmp"):
            return real_open(*args)  # type: ignore[arg-type]
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, call, refuse)
    with pytest.raises(SaveFailed, match=r"batch\.toml could not be saved: No space left on device"):
        write_atomically(path, NEW, on_disk=OLD)
    monkeypatch.undo()
    assert path.read_bytes() == OLD
    assert names(path.parent) == [path.name]


@pytest.mark.parametrize("in_place", [True, False])
def test_what_another_program_writes_while_the_disk_is_slow_is_not_overwritten(
    path: Path, monkeypatch: pytest.MonkeyPatch, *, in_place: bool
) -> None:
    real = os.fsync

    def slow(fd: int) -> None:
        other = path if in_place else path.with_name("other")
        other.write_bytes(b"format = 1\n# theirs\n")
        other.replace(path)
        real(fd)

    monkeypatch.setattr(os, "fsync", slow)
    with pytest.raises(SaveFailed, match="changed by another program"):
        write_atomically(path, NEW, on_disk=OLD)
    assert path.read_bytes() == b"format = 1\n# theirs\n"
    assert names(path.parent) == [path.name]


def test_after_a_failure_past_the_rename_the_next_attempt_works(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real, calls = os.fsync, []

    def second_fails(fd: int) -> None:
        calls.append(fd)
        if len(calls) == 2:
            raise OSError(errno.EIO, "Input/output error")
        real(fd)

    monkeypatch.setattr(os, "fsync", second_fails)
    with pytest.raises(SaveFailed, match="Input/output error"):
        write_atomically(path, NEW, on_disk=OLD)
    write_atomically(path, NEW, on_disk=OLD)
    assert path.read_bytes() == NEW


def test_short_writes_are_written_to_the_end(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = os.write
    monkeypatch.setattr(os, "write", lambda fd, data: real(fd, data[:3]))
    write_atomically(path, NEW, on_disk=OLD)
    assert path.read_bytes() == NEW


def test_what_another_program_wrote_is_not_overwritten(path: Path) -> None:
    path.write_bytes(b"format = 1\n# theirs\n")
    with pytest.raises(SaveFailed, match="changed by another program"):
        write_atomically(path, NEW, on_disk=OLD)
    assert path.read_bytes() == b"format = 1\n# theirs\n"


def test_a_file_that_is_gone_is_written_anew(path: Path) -> None:
    path.unlink()
    write_atomically(path, NEW, on_disk=OLD)
    assert path.read_bytes() == NEW


def test_a_new_file_never_replaces_one(path: Path) -> None:
    with pytest.raises(SaveFailed, match="is there already"):
        write_atomically(path, NEW, on_disk=None)
    assert path.read_bytes() == OLD


@pytest.mark.parametrize("late", [True, False])
def test_not_even_one_that_comes_at_the_last_moment(path: Path, monkeypatch: pytest.MonkeyPatch, *, late: bool) -> None:
    other = path.with_name("other.toml")
    real = os.fsync

    def somebody_is_faster(fd: int) -> None:
        real(fd)
        if late:
            other.write_bytes(OLD)

    monkeypatch.setattr(os, "fsync", somebody_is_faster)
    if late:
        with pytest.raises(SaveFailed, match="is there already"):
            write_atomically(other, NEW, on_disk=None)
    else:
        write_atomically(other, NEW, on_disk=None)
    assert other.read_bytes() == (OLD if late else NEW)
    assert names(path.parent) == [path.name, other.name]


def test_without_hard_links_a_new_file_is_renamed_into_place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object) -> None:
        raise PermissionError(errno.EPERM, "Operation not permitted")

    monkeypatch.setattr(Path, "hardlink_to", refuse)
    write_atomically(tmp_path / "a.toml", NEW, on_disk=None)
    assert names(tmp_path) == ["a.toml"]


def test_what_is_no_plain_or_no_writable_file_is_left_alone(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    pipe = path.with_name("pipe")
    os.mkfifo(pipe)
    with pytest.raises(SaveFailed, match="no plain file"):
        write_atomically(pipe, NEW, on_disk=OLD)
    monkeypatch.setattr(os, "access", lambda *_: False)
    with pytest.raises(SaveFailed, match="may not be written to"):
        write_atomically(path, NEW, on_disk=OLD)
    assert path.read_bytes() == OLD


@pytest.mark.parametrize("data", [b"format = ", b"\xff", b"format = 1\n\0", b"x = " + b"[" * 9999])
def test_what_could_not_be_read_again_is_never_written(path: Path, data: bytes) -> None:
    with pytest.raises(SaveFailed, match="could not be read again"):
        write_atomically(path, data, on_disk=OLD)
    assert path.read_bytes() == OLD


_WRITES_FOR_EVER = """
import sys
from workbench.session.saving import write_atomically
last = open(sys.argv[1], "rb").read()
for n in range(10**9):
    data = b"format = 1\\n# " + str(n).encode() * 2000 + b"\\n# end\\n"
    write_atomically(sys.argv[1], data, on_disk=last)
    last = data
    if n == 0:
        print("on", flush=True)
"""


def test_a_process_killed_while_saving_leaves_a_whole_file(path: Path) -> None:
    times = random.Random(7)  # noqa: S311
    for _ in range(6):
        with subprocess.Popen([sys.executable, "-c", _WRITES_FOR_EVER, path], stdout=subprocess.PIPE) as process:
            assert process.stdout is not None
            assert process.stdout.readline() == b"on\n"
            time.sleep(times.uniform(0.0, 0.02))
            process.send_signal(signal.SIGKILL)
        data = path.read_bytes()
        assert data.startswith(b"format = 1\n# ")
        assert data.endswith(b"\n# end\n")
        strays = {name for name in names(path.parent) if name != path.name}
        assert all(name.startswith(temporary_prefix(path)) for name in strays)


REFUSALS = [errno.ENOSPC, errno.EROFS, errno.EIO, errno.EDQUOT]


@pytest.mark.parametrize("number", REFUSALS, ids=errno.errorcode.get)
@pytest.mark.parametrize("call", ["open", "write", "fsync", "replace", "fchmod", "fchown"])
def test_each_step_may_be_refused_once(path: Path, monkeypatch: pytest.MonkeyPatch, call: str, number: int) -> None:
    """Whole before and after, nothing left beside it, and the next attempt saves."""

    def refuse(*_: object, **__: object) -> None:
        raise OSError(number, os.strerror(number))

    real = os.open
    with monkeypatch.context() as patch:
        patch.setattr(
            os, call, (lambda p, *a: refuse() if str(p).endswith(".tmp") else real(p, *a)) if call == "open" else refuse
        )
        if call in {"fchmod", "fchown"}:  # as well as they can be done
            write_atomically(path, NEW, on_disk=OLD)
        else:
            with pytest.raises(SaveFailed, match=os.strerror(number)):
                write_atomically(path, NEW, on_disk=OLD)
    assert path.read_bytes() in (OLD, NEW)
    assert names(path.parent) == [path.name]
    write_atomically(path, NEW, on_disk=OLD)
    assert path.read_bytes() == NEW


def test_a_file_larger_than_may_be_written_stays_as_it_was(path: Path) -> None:
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (1000, hard))
    try:
        with pytest.raises(SaveFailed, match="File too large"):
            write_atomically(path, NEW + b"# " + 2000 * b"x" + b"\n", on_disk=OLD)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
    assert path.read_bytes() == OLD
    assert names(path.parent) == [path.name]


def test_a_folder_that_goes_is_told_and_one_that_comes_back_is_saved_to(path: Path) -> None:
    away = path.parent.rename(path.parent.with_name("away"))
    with pytest.raises(SaveFailed, match="No such file or directory"):
        write_atomically(path, NEW, on_disk=OLD)
    away.rename(path.parent)
    write_atomically(path, NEW, on_disk=OLD)
    assert path.read_bytes() == NEW


def test_a_directory_that_cannot_be_read_can_be_saved_to(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = os.open

    def refuse(target: str, *args: int) -> int:
        if os.fspath(target) == os.fspath(path.parent):
            raise PermissionError(errno.EACCES, "Permission denied")
        return real(target, *args)

    monkeypatch.setattr(os, "open", refuse)
    write_atomically(path, NEW, on_disk=OLD)
    assert path.read_bytes() == NEW


def test_no_name_of_a_file_steers_the_terminal(tmp_path: Path) -> None:
    path = tmp_path / "a\x1b[2J\udcff.toml"
    path.write_bytes(OLD)
    with pytest.raises(SaveFailed) as told:
        write_atomically(path, NEW, on_disk=None)
    assert str(told.value).isprintable()
