"""Two programs on one file: who holds it, taking over, and the end of the one that held it."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tests.session.samples import BARE
from workbench.session.edits import AddTable, SetValue
from workbench.session.lock import Lock, ask_to_leave, holder, lock_path
from workbench.session.store import Store

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

ROOT = Path(__file__).parents[2]
# Opens the file, changes it, says so, and leaves when it is asked to: with all it has.
PROGRAM = """
import signal, sys, time
from workbench.session.edits import SetValue
from workbench.session.store import Store
store = Store.open(sys.argv[1])
def leave(*_):
    store.apply(SetValue("batch.note", "the last word"))
    store.close()
    sys.exit(143)
signal.signal(signal.SIGTERM, leave if sys.argv[2] == "leaves" else signal.SIG_IGN)
store.apply(SetValue("batch.name", "Birch"))
assert store.flush()
print(store.read_only, flush=True)
while True:  # as the screen's loop does: a signal that another thread got is heard when this one wakes
    time.sleep(0.05)
"""


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "alder.toml"
    path.write_text(BARE, "utf-8")
    return path


@pytest.fixture
def started(path: Path) -> Iterator[Callable[[str], subprocess.Popen[str]]]:
    programs: list[subprocess.Popen[str]] = []

    def start(manner: str) -> subprocess.Popen[str]:
        command = [sys.executable, "-c", PROGRAM, str(path), manner]
        programs.append(subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, text=True))
        out = programs[-1].stdout
        assert out is not None
        assert out.readline() == "None\n"
        return programs[-1]

    yield start
    for program in programs:
        program.kill()
        program.communicate()


def wait_until(true: Callable[[], bool]) -> None:
    end = time.monotonic() + 20
    while not true():
        assert time.monotonic() < end
        time.sleep(0.02)


def test_the_holder_saves_and_leaves_and_the_asker_goes_on(
    path: Path, started: Callable[[str], subprocess.Popen[str]]
) -> None:
    program = started("leaves")
    store = Store.open(path)
    held = store.sharing.holder
    assert held is not None
    assert (held.pid, held.host) == (program.pid, os.uname().nodename)
    assert abs((datetime.now(UTC) - held.since).total_seconds()) < 60
    assert store.sharing.take_over() == "asked to save and leave"
    wait_until(lambda: store.sharing.look() and not store.sharing.follows)
    assert program.wait(20) == 143
    assert store.session.batch.note == "the last word"
    store.apply(SetValue("batch.name", "Cedar"))
    assert store.close()
    assert path.read_text("utf-8") == 'format = 1\n\n[batch]\nname = "Cedar"\nnote = "the last word"\n'


def test_a_holder_that_was_stopped_leaves_too(path: Path, started: Callable[[str], subprocess.Popen[str]]) -> None:
    program = started("leaves")
    store = Store.open(path)
    program.send_signal(signal.SIGSTOP)
    os.waitid(os.P_PID, program.pid, os.WSTOPPED)
    assert store.sharing.take_over() == "asked to save and leave"
    wait_until(lambda: store.sharing.look() and not store.sharing.follows)
    assert program.wait(20) == 143
    assert store.session.batch.note == "the last word"
    assert store.close()


def test_a_killed_holder_holds_nothing(path: Path, started: Callable[[str], subprocess.Popen[str]]) -> None:
    program = started("leaves")
    store = Store.open(path)
    assert store.sharing.follows
    inode = lock_path(path).stat().st_ino
    program.kill()
    program.wait()
    assert store.sharing.look()
    assert store.sharing.holder is None
    assert store.sharing.follows  # nobody takes it unasked
    assert "yours now" in store.sharing.take_over()
    assert lock_path(path).stat().st_ino == inode
    assert store.close()


def test_a_holder_that_does_not_leave_keeps_it(
    path: Path, started: Callable[[str], subprocess.Popen[str]], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("workbench.session.sharing._PATIENCE_S", 0.05)
    started("stays")
    store = Store.open(path)
    assert store.sharing.take_over() == "asked to save and leave"
    wait_until(store.sharing.look)
    assert "was not left" in store.sharing.news
    assert store.sharing.follows


def test_nobody_is_asked_by_a_number_alone(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[tuple[int, int]] = []
    kill = os.kill
    monkeypatch.setattr(
        "os.kill", lambda pid, number: kill(pid, number) if number == 0 else asked.append((pid, number))
    )
    lock = Lock(path)
    assert lock.take()
    told = lock_path(path).read_text("utf-8")
    lock_path(path).write_text(told.replace(str(os.getpid()), str(os.getppid())), "utf-8")
    assert "cannot be told for sure" in ask_to_leave(path)  # that process lives, but holds nothing
    lock_path(path).write_text(told.replace(os.uname().nodename, "elsewhere"), "utf-8")
    assert ask_to_leave(path).startswith("it is open on elsewhere")
    lock_path(path).write_text(told.replace(str(os.getpid()), "-1"), "utf-8")
    assert (holder(path), ask_to_leave(path), asked) == (None, "", [])
    lock.release()
    assert holder(path) is None


@pytest.mark.parametrize("raw", [b"", b"\xff", b"pid = 1", b'pid = "x"\nhost = 1\nuser = 1\nsince = 1', b"[" * 3000])
def test_whatever_stands_in_a_lock_it_is_only_a_message(path: Path, raw: bytes) -> None:
    lock_path(path).write_bytes(raw)
    assert holder(path) is None
    lock = Lock(path)
    assert lock.take()
    found = holder(path)
    assert found is not None
    assert found.pid == os.getpid()
    assert not Lock(path).take()
    lock.release()


# Takes the file over as soon as it can, stamps notes on and on, and says which of them are on the disk.
WRITER = """
import sys, time
from itertools import count
from workbench.session.edits import AddTable
from workbench.session.store import Store
store = Store.open(sys.argv[1])
store.begin()
while store.sharing.follows:
    store.sharing.take_over()
    time.sleep(0.01)
for n in count():
    store.sharing.look()
    store.apply(AddTable("event", len(store.session.event), {"what": "note", "text": f"{sys.argv[2]}-{n}"}))
    if store.settle():
        print(f"{sys.argv[2]}-{n}", flush=True)
"""


def test_killed_at_any_moment_the_next_goes_on_and_nothing_is_lost(path: Path) -> None:
    """Writers, each killed by SIGKILL in mid-work while the next waits at the lock."""
    rounds = int(os.environ.get("WORKBENCH_ROUNDS", "4"))
    written: list[str] = []

    def start(n: int) -> subprocess.Popen[str]:
        command = [sys.executable, "-c", WRITER, str(path), f"w{n}"]
        return subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, text=True)

    writer = start(0)
    for n in range(rounds):
        following = start(n + 1)
        assert writer.stdout is not None
        written += [writer.stdout.readline() for _ in range(3 + n % 5)]
        writer.kill()
        written += writer.communicate()[0].splitlines(keepends=True)
        writer = following
    writer.kill()
    writer.communicate()
    written = [line.strip() for line in written if line.endswith("\n")]
    assert len(written) >= 3 * rounds
    after = Store.open(path)
    there = [event.text for event in after.session.event]
    assert set(written) <= set(there)
    assert len(there) == len(set(there))
    assert after.close()
    assert sorted(found.name for found in path.parent.iterdir() if not found.name.endswith((".tmp", ".bak"))) == [
        ".alder.toml.lock",
        "alder.toml",
    ]


def test_an_editor_that_knows_no_locks_loses_nothing_and_makes_nothing_be_lost(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("workbench.session.saver.SETTLE_S", 3600.0)  # saved when told to
    monkeypatch.setattr("workbench.session.saver.LONGEST_S", 3600.0)
    path.write_text(BARE + "\n[batch]\n", "utf-8")
    store = Store.open(path)
    for n in range(40):
        store.apply(AddTable("event", len(store.session.event), {"what": "note", "text": f"here {n}"}))
        if n % 3 == 0:
            other = path.with_name("other")
            other.write_text(path.read_text("utf-8").replace("[batch]", f"[batch]\nown_{n} = {n}", 1), "utf-8")
            other.replace(path)
        if n % 4 == 0:
            assert store.settle()
    assert store.close()
    text = path.read_text("utf-8")
    assert [event.text for event in store.session.event] == [f"here {n}" for n in range(40)]
    assert all(f"own_{n} = {n}" in text for n in range(0, 40, 3))
