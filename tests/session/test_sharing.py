"""Other programs at the same file: what they write is taken in, what both changed is decided, nothing is lost."""

from __future__ import annotations

import threading
from typing import TYPE_CHECKING

import pytest

from tests.session.samples import COMMENTED, names
from workbench.errors import EditRefused
from workbench.session.edits import AddTable, MoveTable, RemoveTable, SetValue
from workbench.session.load import Loaded, load, understood
from workbench.session.saving import write_atomically
from workbench.session.sharing import FOLLOWS
from workbench.session.store import Store

if TYPE_CHECKING:
    from pathlib import Path


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "alder.toml"
    path.write_text(COMMENTED, "utf-8")
    return path


@pytest.fixture
def store(path: Path) -> Store:
    store = Store.open(path)
    assert not look(store)
    return store


def look(store: Store) -> bool:
    """An editor has written, and is done."""
    return store.sharing.look(now=True)


def elsewhere(path: Path, old: str, new: str) -> None:
    """An editor saves the file with something changed."""
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), "utf-8")


def own_names(folder: Path) -> list[str]:
    """What is in the folder, but for the version that was opened."""
    return [name for name in names(folder) if not name.endswith(".bak")]


def stamp(store: Store, what: str) -> AddTable:
    return AddTable("event", len(store.session.event), {"step": 1, "what": what})


def volume(store: Store) -> float | None:
    return store.session.beer.volume_l if store.session.beer is not None else None


def test_what_an_editor_wrote_is_taken_in_and_saving_goes_on(path: Path, store: Store) -> None:
    store.apply(SetValue("beer.gravity", "1.060"))
    assert store.flush()
    assert not look(store)  # its own
    elsewhere(path, '"23 L"          # to the fermenter', '"20 L"  # less')
    assert look(store)
    assert volume(store) == 20.0
    assert store.text == path.read_text("utf-8")
    store.apply(SetValue("flask.size", "3 L"))
    assert store.close()
    assert 'volume = "20 L"  # less\ngravity = "1.060"' in path.read_text("utf-8")
    assert own_names(path.parent) == ["alder.toml"]


def test_an_editor_writes_while_something_is_not_saved_yet(path: Path, store: Store) -> None:
    store.apply(SetValue("beer.gravity", "1.060"))
    store.apply(stamp(store, "boil-hold"))
    elsewhere(path, '"23 L"          # to the fermenter', '"20 L"  # less')
    path.write_text(path.read_text("utf-8") + '\n[[event]]\nwhat = "boil-done"\n', "utf-8")
    assert store.close()  # finds it by itself
    text = path.read_text("utf-8")
    assert 'volume = "20 L"  # less\ngravity = "1.060"' in text
    assert [event.what for event in store.session.event] == ["boil-on", "boil-done", "boil-hold"]
    assert own_names(path.parent) == ["alder.toml"]


def test_a_stale_editor_takes_back_nothing_unseen(path: Path, store: Store) -> None:
    store.apply(SetValue("beer.gravity", "1.060"))
    assert store.flush()
    path.write_text(COMMENTED, "utf-8")  # what the editor had read before
    assert look(store)
    assert 'gravity = "1.056"' in store.text  # it is what stands there, and undo
    assert not store.saver.dirty


def test_undo_after_a_merge_keeps_what_the_other_changed(path: Path, store: Store) -> None:
    store.apply(SetValue("beer.gravity", "1.060"))
    store.apply(SetValue("flask.size", "3 L"))
    elsewhere(path, '"23 L"', '"20 L"')
    assert look(store)
    store.apply(SetValue("flask.size", "2 L"))
    elsewhere(path, 'cells = "40 B"', 'cells = "50 B"')
    assert look(store)
    told = []
    while store.undo():
        told.append((store.session.flask.size_l, 'gravity = "1.060"' in store.text))
        assert volume(store) == 20.0
        assert 'cells = "50 B"' in store.text
    assert told == [(3.0, True), (5.0, True), (5.0, False)]
    while store.redo():
        assert volume(store) == 20.0
    assert store.session.flask.size_l == 2.0
    assert store.close()


def test_undo_of_what_the_other_changed_too_is_left_out(path: Path, store: Store) -> None:
    store.apply(SetValue("flask.size", "3 L"))
    store.apply(SetValue("beer.volume", "22 L"))
    assert store.flush()
    elsewhere(path, '"22 L"', '"20 L"')
    assert look(store)
    assert store.undo()  # the volume is theirs by now: the step before it is taken back
    assert (volume(store), store.session.flask.size_l) == (20.0, 5.0)
    assert not store.undo()
    assert store.close()


def test_structure_of_mine_in_their_text_keeps_its_comments(path: Path, store: Store) -> None:
    store.apply(MoveTable("step", 0, 2))
    store.apply(RemoveTable("yeast", 0))
    elsewhere(path, '"23 L"', '"20 L"')
    assert look(store)
    assert [step.wort_l for step in store.session.step] == [2.0, 2.5, 1.6]
    assert '# first feeding\n[[step]]\n  wort = "1,6 l"\n  # hours = "30 h"' in store.text
    assert len(store.session.yeast) == 1
    assert store.close()


def test_the_same_key_changed_twice_is_decided_by_the_brewer(path: Path, store: Store) -> None:
    store.apply(SetValue("beer.volume", "22 L"))
    store.apply(SetValue("flask.size", "3 L"))
    elsewhere(path, '"23 L"', '"20 L"')
    assert look(store)
    assert "beer.volume" in store.sharing.news
    (clash,) = store.sharing.clashes
    assert (clash.key, clash.mine, clash.theirs) == ("beer.volume", "22 L", "20 L")
    assert store.flush()
    assert 'volume = "20 L"' in path.read_text("utf-8")  # theirs stands
    assert 'size = "3 L"' in path.read_text("utf-8")
    mine = path.with_name("alder.mine.toml")
    assert 'volume = "22 L"' in mine.read_text("utf-8")
    store.sharing.decide("beer.volume", mine=True)
    assert store.flush()
    assert not store.sharing.clashes
    look(store)
    assert 'volume = "22 L"' in path.read_text("utf-8")
    assert not mine.exists()
    assert store.close()


def test_theirs_may_be_taken_and_what_is_not_decided_stays_beside_the_file(path: Path, store: Store) -> None:
    path.with_name("alder.mine.toml").write_text("# somebody's\n", "utf-8")
    store.apply(SetValue("beer.volume", "22 L"))
    store.apply(SetValue("beer.gravity", "1.060"))
    elsewhere(path, '"23 L"', '"20 L"')
    elsewhere(path, '"1.056"', '"1.050"')
    assert look(store)
    store.sharing.decide("beer.volume", mine=False)
    assert [clash.key for clash in store.sharing.clashes] == ["beer.gravity"]
    assert store.close()
    assert own_names(path.parent) == ["alder.mine-2.toml", "alder.mine.toml", "alder.toml"]
    assert '"1.060"' in path.with_name("alder.mine-2.toml").read_text("utf-8")
    assert path.with_name("alder.mine.toml").read_text("utf-8") == "# somebody's\n"
    again = Store.open(path)
    assert again.sharing.news.startswith("alder.mine-2.toml, alder.mine.toml beside it has what was typed")
    assert again.close()


def test_a_clash_that_they_settle_themselves_is_none(path: Path, store: Store) -> None:
    store.apply(SetValue("beer.volume", "22 L"))
    elsewhere(path, '"23 L"', '"20 L"')
    assert look(store)
    elsewhere(path, '"20 L"', '"22 L"')
    assert look(store)
    assert not store.sharing.clashes
    assert store.close()
    assert own_names(path.parent) == ["alder.toml"]


@pytest.mark.parametrize("foreign", [b"no toml [", b"format = 1\n[beer]\nvolume = 3\n", b"format = 9\n", b"\xff\xfe"])
def test_what_cannot_be_read_is_never_overwritten_and_overwrites_nothing(
    path: Path, store: Store, foreign: bytes
) -> None:
    store.apply(SetValue("beer.volume", "22 L"))
    path.write_bytes(foreign)
    assert look(store)
    assert "alder.toml is left alone, yours is kept in alder.mine.toml: " in store.sharing.stuck
    store.apply(SetValue("beer.gravity", "1.060"))
    assert not look(store)
    assert store.flush()
    assert path.read_bytes() == foreign
    mine = path.with_name("alder.mine.toml")
    assert 'volume = "22 L"' in mine.read_text("utf-8")
    assert 'gravity = "1.060"' in mine.read_text("utf-8")
    path.write_text(COMMENTED.replace('"5 L"', '"4 L"'), "utf-8")  # mended
    assert look(store)
    assert store.sharing.stuck == ""
    assert store.flush()
    assert not look(store)
    text = path.read_text("utf-8")
    assert all(part in text for part in ('"22 L"', '"1.060"', '"4 L"'))
    assert not mine.exists()
    assert store.close()


def test_what_cannot_be_read_at_the_end_leaves_both(path: Path, store: Store) -> None:
    store.apply(SetValue("beer.volume", "22 L"))
    path.write_bytes(b"<<<<<<<")
    assert store.close()
    assert path.read_bytes() == b"<<<<<<<"
    assert 'volume = "22 L"' in path.with_name("alder.mine.toml").read_text("utf-8")


def test_unreadable_and_nothing_changed_here_writes_nothing(path: Path, store: Store) -> None:
    path.write_bytes(b"")
    assert look(store)
    assert store.close()
    assert own_names(path.parent) == ["alder.toml"]
    assert path.read_bytes() == b""


def test_both_right_but_not_together(path: Path, store: Store) -> None:
    store.apply(SetValue("flask.fill_limit", "4.5 L"))
    elsewhere(path, '"5 L"', '"4 L"')
    assert look(store)
    assert "above the flask's size" in store.sharing.stuck
    assert store.session.flask.size_l == 5.0
    store.apply(SetValue("flask.fill_limit", "3.5 L"))
    assert look(store)  # they go together now
    assert store.sharing.stuck == ""
    assert (store.session.flask.size_l, store.session.flask.fill_limit_l) == (4.0, 3.5)
    assert store.close()
    assert 'fill_limit = "3.5 L"' in path.read_text("utf-8")
    assert own_names(path.parent) == ["alder.toml"]


def test_what_is_written_in_place_is_taken_in_once_it_has_rested(
    path: Path, store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("workbench.session.follow._RESTED_S", 3600.0)
    whole = COMMENTED.replace('"23 L"', '"20 L"')
    path.write_text(whole[: whole.index("[flask]")], "utf-8")  # reads well, but half of it is not there yet
    assert not store.sharing.look()
    path.write_text(whole, "utf-8")
    assert not store.sharing.look()
    assert not store.sharing.look()
    monkeypatch.setattr("workbench.session.follow._RESTED_S", 0.0)
    assert store.sharing.look()
    assert (volume(store), store.session.flask.size_l) == (20.0, 5.0)
    assert store.close()


def test_a_whole_file_put_in_its_place_is_taken_in_at_once(path: Path, store: Store) -> None:
    other = path.with_name("other.toml")
    other.write_text(COMMENTED.replace('"23 L"', '"20 L"'), "utf-8")
    other.replace(path)
    assert store.sharing.look()
    assert volume(store) == 20.0
    assert store.close()


def test_a_second_terminal_follows(path: Path, store: Store) -> None:
    other = Store.open(path)
    assert other.read_only == FOLLOWS
    assert other.sharing.follows
    with pytest.raises(EditRefused, match="another terminal"):
        other.apply(SetValue("beer.volume", "9 L"))
    store.apply(SetValue("beer.volume", "22 L"))
    assert store.flush()
    assert look(other)
    assert volume(other) == 22.0
    assert other.read_only == FOLLOWS
    assert not look(other)
    path.write_bytes(b"no toml [")
    assert look(other)
    assert "cannot be read now" in other.sharing.stuck
    assert volume(other) == 22.0
    path.write_text(COMMENTED, "utf-8")
    assert look(other)
    assert (other.sharing.stuck, volume(other)) == ("", 23.0)
    assert store.close()
    assert other.close()
    assert path.read_text("utf-8") == COMMENTED


def test_a_free_file_is_taken_over_at_once_as_it_is_by_then(path: Path, store: Store) -> None:
    other = Store.open(path)
    store.apply(SetValue("beer.volume", "22 L"))
    assert store.close()
    assert "yours now" in other.sharing.take_over()
    assert (other.read_only, other.sharing.follows, volume(other)) == (None, False, 22.0)
    other.apply(SetValue("beer.volume", "21 L"))
    assert other.close()
    assert '"21 L"' in path.read_text("utf-8")
    assert other.sharing.take_over() == "nobody else edits this batch"


def test_a_symlink_and_its_target_are_one_batch(path: Path, store: Store) -> None:
    link = path.with_name("link.toml")
    link.symlink_to(path)
    assert Store.open(link).read_only == FOLLOWS
    assert store.close()


def test_where_no_lock_can_be_it_is_shown_only(path: Path) -> None:
    path.with_name(".alder.toml.lock").mkdir()
    store = Store.open(path)
    assert "its lock" in str(store.read_only)
    assert store.sharing.take_over() == "nobody else edits this batch"


def test_where_locks_mean_nothing_two_writers_still_lose_nothing(path: Path) -> None:
    one, two = (Store(path, load(path)) for _ in range(2))  # as on a network disk that locks nobody out
    for n in range(6):
        for store, name in ((one, "one"), (two, "two")):
            store.apply(AddTable("event", len(store.session.event), {"what": "note", "text": f"{name} {n}"}))
            assert n % 2 or store.settle()
    assert one.close()
    assert two.close()
    look(one)
    said = [event.text for event in one.session.event if event.what == "note"]
    assert sorted(said) == sorted(f"{name} {n}" for n in range(6) for name in ("one", "two"))
    assert one.text == two.text


def test_a_save_that_ends_while_their_version_is_read_loses_neither(
    path: Path, store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It had found the old version still, and then came in the place of theirs, which has been read here already."""
    from workbench.session import sharing

    def slowly(raw: bytes, file: str) -> Loaded:
        monkeypatch.undo()
        path.write_text(COMMENTED, "utf-8")
        assert store.flush()
        return understood(raw, file)

    monkeypatch.setattr("workbench.session.saver.SETTLE_S", 3600.0)
    monkeypatch.setattr("workbench.session.saver.LONGEST_S", 3600.0)
    store.apply(SetValue("beer.gravity", "1.060"))
    elsewhere(path, '"23 L"', '"20 L"')
    monkeypatch.setattr(sharing, "understood", slowly)
    look(store)
    assert store.close()
    text = path.read_text("utf-8")
    assert '"20 L"' in text
    assert '"1.060"' in text


def test_what_the_saver_finds_is_taken_in_though_the_look_at_its_status_told_nothing(path: Path, store: Store) -> None:
    store.apply(SetValue("beer.gravity", "1.060"))
    elsewhere(path, '"23 L"', '"20 L"')
    status = path.stat()
    store.sharing._watch._seen = (status.st_ino, status.st_size, status.st_mtime_ns, status.st_ctime_ns)
    assert store.close()
    text = path.read_text("utf-8")
    assert '"20 L"' in text
    assert '"1.060"' in text


def test_a_version_that_lies_there_no_longer_is_not_gone_back_to(path: Path, store: Store) -> None:
    store.apply(SetValue("flask.fill_limit", "4.5 L"))
    elsewhere(path, '"5 L"', '"4 L"')
    assert look(store)  # not together
    path.write_bytes(b"no toml [")
    assert look(store)
    store.apply(SetValue("flask.fill_limit", "3.5 L"))  # would go with the first
    look(store)
    assert "is no TOML" in store.sharing.stuck
    assert store.close()
    assert path.read_bytes() == b"no toml ["
    assert '"3.5 L"' in path.with_name("alder.mine.toml").read_text("utf-8")


def test_a_clash_goes_along_with_its_feeding(path: Path, store: Store) -> None:
    store.apply(SetValue("step.1.wort", "2.2 L"))
    elsewhere(path, 'wort = "2 L"', 'wort = "1.9 L"')
    assert look(store)
    store.apply(RemoveTable("step", 0))
    store.apply(SetValue("step.0.hours", "20 h"))
    (clash,) = store.sharing.clashes
    assert (clash.key, clash.mine, clash.theirs) == ("step.0.wort", "2.2 L", "1.9 L")
    assert store.flush()
    elsewhere(path, "[[step]]\nwort", '[[step]]\nwort = "1 L"\n[[step]]\nwort')
    assert look(store)
    (clash,) = store.sharing.clashes
    assert clash.key == "step.1.wort"
    store.sharing.decide("step.1.wort", mine=True)
    assert [step.wort_l for step in store.session.step] == [1.0, 2.2, 2.5]
    assert store.close()


def test_a_clash_of_a_feeding_that_is_taken_out_is_none(path: Path, store: Store) -> None:
    store.apply(SetValue("step.1.wort", "2.2 L"))
    elsewhere(path, 'wort = "2 L"', 'wort = "1.9 L"')
    assert look(store)
    store.apply(RemoveTable("step", 1))
    assert store.sharing.clashes == ()
    assert store.close()
    assert own_names(path.parent) == ["alder.toml"]


def test_a_key_that_clashes_again_is_decided_once(path: Path, store: Store) -> None:
    store.apply(SetValue("beer.volume", "22 L"))
    elsewhere(path, '"23 L"', '"20 L"')
    assert look(store)
    store.apply(SetValue("beer.volume", "21 L"))
    elsewhere(path, '"20 L"', '"19 L"')
    assert look(store)
    assert [(clash.mine, clash.theirs) for clash in store.sharing.clashes] == [("21 L", "19 L")]
    store.sharing.decide("beer.volume", mine=True)
    assert volume(store) == 21.0
    assert store.close()


@pytest.mark.parametrize("first", [0, 1])
def test_of_several_taken_out_elsewhere_each_is_decided(path: Path, store: Store, first: int) -> None:
    store.apply(SetValue("yeast.0.cells", "90 B"))
    store.apply(SetValue("yeast.1.cells", "30 B"))
    text = path.read_text("utf-8")
    path.write_text(text[: text.index("# pack from")] + text[text.index("# ---- set") :], "utf-8")
    assert look(store)
    assert [clash.mine["cells"] for clash in store.sharing.clashes] == ["90 B", "30 B"]
    store.sharing.decide(f"yeast.{first}", mine=True)
    (clash,) = store.sharing.clashes
    store.sharing.decide(clash.key, mine=True)
    assert sorted(lot["cells"] for lot in store.data["yeast"]) == ["30 B", "90 B"]
    assert store.sharing.clashes == ()
    assert store.close()


def test_taken_over_what_cannot_be_edited_is_said_to_be_so_and_not_held(path: Path, store: Store) -> None:
    other = Store.open(path)
    path.write_text(COMMENTED.replace("format = 1", "format = 9"), "utf-8")
    assert store.close()
    told = other.sharing.take_over()
    assert told == other.read_only
    assert "yours now" not in told
    assert not other.sharing.follows
    path.write_text(COMMENTED, "utf-8")
    assert not Store.open(path).sharing.follows
    assert look(other)
    assert "open it again" in str(other.read_only)
    assert other.close()


def test_who_takes_over_is_told_of_what_could_only_be_saved_beside_the_file(path: Path, store: Store) -> None:
    other = Store.open(path)
    store.apply(SetValue("beer.volume", "22 L"))
    elsewhere(path, '"23 L"', '"20 L"')
    assert store.close()
    assert other.sharing.take_over().startswith("alder.mine.toml beside it has what was typed")
    assert other.read_only is None
    assert other.close()


def test_a_look_does_not_wait_for_a_disk_that_hangs(path: Path, store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    going, let = threading.Event(), threading.Event()

    def hang(path: Path, data: bytes, *, on_disk: bytes) -> None:
        going.set()
        assert let.wait(10)
        write_atomically(path, data, on_disk=on_disk)

    monkeypatch.setattr("workbench.session.saver.write_atomically", hang)
    monkeypatch.setattr("workbench.session.saver._UNDER_WAY_S", 10.0)
    store.apply(SetValue("beer.gravity", "1.060"))
    assert going.wait(10)
    other = path.with_name("other.toml")
    other.write_text(COMMENTED.replace('"23 L"', '"20 L"'), "utf-8")
    other.replace(path)
    assert not store.sharing.look()
    assert not let.is_set()
    let.set()
    assert store.close()
    text = path.read_text("utf-8")
    assert '"20 L"' in text
    assert '"1.060"' in text
