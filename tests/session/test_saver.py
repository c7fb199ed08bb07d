"""The thread that saves: soon, in the end always, and honest about it."""

from __future__ import annotations

import os
import threading
from typing import TYPE_CHECKING

import pytest

from workbench.errors import NotLasting
from workbench.session import saver as module
from workbench.session.saver import Saver
from workbench.session.saving import write_atomically

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

OLD = b"format = 1\n# old\n"


def version(n: int) -> bytes:
    return b"format = 1\n# %d\n" % n


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "batch.toml"
    path.write_bytes(OLD)
    return path


@pytest.fixture
def told() -> threading.Semaphore:
    return threading.Semaphore(0)


@pytest.fixture
def saver(path: Path, told: threading.Semaphore, monkeypatch: pytest.MonkeyPatch) -> Iterator[Saver]:
    """A saver in a hurry, so that no test need wait for it."""
    monkeypatch.setattr(module, "SETTLE_S", 0.01)
    monkeypatch.setattr(module, "LONGEST_S", 0.05)
    monkeypatch.setattr(module, "_FIRST_PAUSE_S", 0.01)
    saver = Saver(path, OLD, tell=told.release)
    yield saver
    saver.close()


def test_what_is_put_is_saved_without_being_asked(saver: Saver, path: Path, told: threading.Semaphore) -> None:
    assert not saver.dirty
    assert saver.saved_at is None
    saver.put(version(1))
    assert saver.dirty
    assert told.acquire(timeout=10)
    assert not saver.dirty
    assert saver.problem is None
    assert saver.saved_at is not None
    assert path.read_bytes() == version(1)


def test_changes_that_never_rest_are_saved_all_the_same(saver: Saver, path: Path, told: threading.Semaphore) -> None:
    n = 0
    while not told.acquire(timeout=0.002):
        n += 1
        saver.put(version(n))
        assert n < 5000
    assert path.read_bytes() != OLD
    assert saver.flush()
    assert path.read_bytes() == version(n)


def test_many_changes_at_once_are_one_save(saver: Saver, path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "SETTLE_S", 10.0)
    monkeypatch.setattr(module, "LONGEST_S", 10.0)
    for n in range(100):
        saver.put(version(n))
    assert path.read_bytes() == OLD
    assert saver.flush()
    assert path.read_bytes() == version(99)
    assert saver._attempts == 1


@pytest.mark.parametrize("call", ["replace", "fsync"])
def test_a_failing_disk_keeps_it_dirty_and_is_tried_again(
    saver: Saver, path: Path, told: threading.Semaphore, monkeypatch: pytest.MonkeyPatch, call: str
) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr(os, call, refuse)
        saver.put(version(1))
        for _ in range(3):
            assert told.acquire(timeout=10)
        assert saver.dirty
        assert saver.problem == "batch.toml could not be saved: No space left on device"
        assert not saver.flush(10)
        assert path.read_bytes() == OLD
    assert saver.flush(10)
    assert saver.problem is None
    assert path.read_bytes() == version(1)


def test_the_pause_between_attempts_grows(saver: Saver, path: Path, told: threading.Semaphore) -> None:
    path.write_bytes(b"format = 1\n# theirs\n")
    saver.put(version(1))
    pauses = []
    for _ in range(3):
        assert told.acquire(timeout=10)
        pauses.append(saver._pause)
    assert pauses == sorted(set(pauses))


def test_a_file_changed_by_another_program_is_never_overwritten(
    saver: Saver, path: Path, told: threading.Semaphore
) -> None:
    path.write_bytes(b"format = 1\n# theirs\n")
    saver.put(version(1))
    for _ in range(2):
        assert told.acquire(timeout=10)
    assert saver.dirty
    assert "changed by another program" in str(saver.problem)
    assert not saver.close()
    assert saver.waiting == version(1)
    assert path.read_bytes() == b"format = 1\n# theirs\n"


def test_a_file_without_leave_to_write_stays_as_it_is(
    saver: Saver, path: Path, told: threading.Semaphore, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(os, "access", lambda *_: False)
    saver.put(version(1))
    assert told.acquire(timeout=10)
    assert saver.dirty
    assert "may not be written to" in str(saver.problem)
    assert path.read_bytes() == OLD


def test_closing_saves_what_is_left_and_ends_the_thread(saver: Saver, path: Path) -> None:
    saver.put(version(1))
    saver.put(version(2))
    assert saver.close()
    assert path.read_bytes() == version(2)
    assert saver._thread is not None
    assert not saver._thread.is_alive()
    assert saver.close()


def test_a_flush_waits_for_the_newest_while_an_older_one_is_under_way(
    saver: Saver, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    begun, go_on = threading.Event(), threading.Event()
    real = write_atomically

    def slow(*args: object, **kwargs: object) -> None:
        begun.set()
        assert go_on.wait(10)
        real(*args, **kwargs)  # type: ignore[arg-type]

    monkeypatch.setattr(module, "write_atomically", slow)
    saver.put(version(1))
    assert begun.wait(10)
    saver.put(version(2))
    assert not saver.flush(0.01)
    go_on.set()
    assert saver.flush(10)
    assert path.read_bytes() == version(2)


def test_a_version_that_stands_there_but_may_not_last_is_known_as_ones_own(
    saver: Saver, path: Path, told: threading.Semaphore, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = module.write_atomically

    def not_for_good(path: Path, data: bytes, *, on_disk: bytes) -> None:
        real(path, data, on_disk=on_disk)
        raise NotLasting("not for good")

    with monkeypatch.context() as patch:
        patch.setattr(module, "write_atomically", not_for_good)
        saver.put(version(1))
        assert told.acquire(timeout=10)
        assert saver.dirty
    saver.put(version(2))
    assert saver.flush(10)
    assert path.read_bytes() == version(2)


def test_turned_to_another_version_there_is_always_something_waiting(
    saver: Saver, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Another thread that has everything written as the program ends must not find nothing to do between the two."""
    monkeypatch.setattr(module, "_UNDER_WAY_S", 0.01)
    going, let = threading.Event(), threading.Event()

    def hang(path: Path, data: bytes, *, on_disk: bytes) -> None:
        going.set()
        assert let.wait(10)
        write_atomically(path, data, on_disk=on_disk)

    monkeypatch.setattr(module, "write_atomically", hang)
    saver.put(version(1))
    assert going.wait(10)
    found: list[bytes] = []
    flushing = threading.Thread(target=lambda: found.append(b"" if not saver.flush() else path.read_bytes()))
    flushing.start()
    saver.turn_to(path, OLD, version(2))
    let.set()
    flushing.join(10)
    assert found == [version(2)]
