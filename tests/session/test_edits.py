"""Edits change what they are to change, and not one character more."""

from __future__ import annotations

import tomllib
from copy import deepcopy
from difflib import SequenceMatcher, unified_diff

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.session.samples import ALL, BARE, COMMENTED, COMPACT, ENDLESS
from workbench.errors import EditRefused
from workbench.session.edits import AddTable, Edit, MoveTable, RemoveTable, SetValue, Several, Unset


def diff(old: str, new: str) -> list[str]:
    """The lines taken out and put in, with - and + before them, sorted."""
    lines = unified_diff(old.splitlines(), new.splitlines(), lineterm="", n=0)
    return sorted(line for line in lines if line[:2] not in ("--", "++", "@@"))


def edited(text: str, edit: Edit) -> str:
    """The text after the edit, which must mean what the edit says."""
    wanted = tomllib.loads(text)
    edit.in_data(wanted)
    new = edit.in_text(text)
    got = tomllib.loads(new)
    assert {k: v for k, v in got.items() if v != []} == {k: v for k, v in wanted.items() if v != []}
    return new


NOTE = ['-note = """', '-"""', '+note = "short"']
VOLUME = 'volume = "23 L"          # to the fermenter'
COLOUR = "my_own.colour = 'dark'   # a key of my own"
LOTS = COMPACT.splitlines()[4:6]
DRY = '  {kind="dry",mass="11.5 g"} # two'
BEER = 'beer={volume="20 L",gravity="1.050"}'


@pytest.mark.parametrize(
    ("text", "edit", "lines"),
    [
        (COMMENTED, SetValue("beer.volume", "24 L"), [f"-{VOLUME}", f"+{VOLUME.replace('23', '24')}"]),
        (COMMENTED, SetValue("beer.type", "lager"), ['+type = "lager"']),
        (COMMENTED, SetValue("batch.note", "short"), ["-[[step]]", "-# no comment, but text = 1", *NOTE]),
        (COMMENTED, SetValue("step.0.decant", True), ["+  decant = true"]),
        (COMMENTED, SetValue("step.1.wort", "3 L"), ['-wort = "2 L"', '+wort = "3 L"']),
        (COMMENTED, SetValue("step.1.hours", "9 h"), ['+hours = "9 h"']),
        (COMMENTED, SetValue("batch.my_own.colour", "red"), [f"-{COLOUR}", f"+{COLOUR}".replace("'dark'", '"red"')]),
        (COMMENTED, SetValue("bath.water", "1 L"), ["+[bath]", '+water = "1 L"', "+"]),
        (COMMENTED, SetValue("keep.cells", "9 B"), ["+[keep]", '+cells = "9 B"', "+"]),
        (COMMENTED, Unset("beer.volume"), [f"-{VOLUME}"]),
        (COMMENTED, Unset("beer.type"), []),
        (COMMENTED, Unset("keep"), []),
        (COMMENTED, Unset("beer"), ["-# the beer", "-[beer]", f"-{VOLUME}", '-gravity = "1.056"', "-"]),
        (COMPACT, SetValue("beer.volume", "9 L"), [f"-{BEER}", f"+{BEER.replace('20', '9')}"]),
        (COMPACT, SetValue("beer.type", "ale"), [f"-{BEER}", f"+{BEER[:-1]}, type = \"ale\"}}"]),
        (COMPACT, Unset("beer.volume"), [f"-{BEER}", '+beer={gravity="1.050"}']),
        (COMPACT, Unset("beer.gravity"), [f"-{BEER}", '+beer={volume="20 L"}']),
        (COMPACT, Unset("beer"), [f"-{BEER}"]),
        (COMPACT, SetValue("flask.glass", "1 kg"), ['+flask.glass = "1 kg"']),
        (COMPACT, Unset("flask"), ['-flask.size="3 L"', "-flask.count=2"]),
        (COMPACT, RemoveTable("yeast", 1), ['-  {kind="pack"} # two', "+   # two"]),
        (COMPACT, RemoveTable("yeast", 0), ['-yeast=[{kind="dry",mass="11.5 g"},# one', "+yeast=[# one"]),
        (COMPACT, AddTable("yeast", 0, {"count": 2}), ["-" + LOTS[0], "+yeast=[{ count = 2 }, " + LOTS[0][7:]]),
        (COMPACT, AddTable("yeast", 2), ["-" + LOTS[1], '+  {kind="pack"}, {} # two']),
        (COMPACT, MoveTable("yeast", 0, 1), ["-" + LOTS[0], "-" + LOTS[1], '+yeast=[{kind="pack"},# one', "+" + DRY]),
        ("format = 1\nstep = []\n", AddTable("step", 0, {"wort": "1 L"}), ["-step = []", '+step = [{ wort = "1 L" }]']),
        ("[wort]\n", SetValue("batch.name", "A"), ["+[batch]", '+name = "A"', "+"]),
        (COMPACT, AddTable("step", 1, {"wort": "3 L"}), ["+[[step]]", '+wort = "3 L"', "+"]),
        (BARE, SetValue("beer.volume", "9 L"), ["+", "+[beer]", '+volume = "9 L"']),
        (BARE, AddTable("step", 0, {"decant": True}), ["+", "+[[step]]", "+decant = true"]),
        (ENDLESS, SetValue("step.0.decant", False), ["+decant = false"]),
        (ENDLESS, SetValue("batch.pitch", "whole"), ['+pitch = "whole"']),
        (ENDLESS, RemoveTable("step", 0), ["-", "-[[step]]", '-wort = "1 L"']),
    ],
    ids=str,
)  # fmt: skip
def test_an_edit_touches_only_its_lines(text: str, edit: Edit, lines: list[str]) -> None:
    assert diff(text, edited(text, edit)) == sorted(lines)


def test_a_new_table_stands_where_it_usually_stands_after_a_blank_line() -> None:
    text = "format = 1\n\n[batch]\n\n# flask\n[flask]\n"
    assert edited(text, SetValue("beer.volume", "9 L")) == (
        'format = 1\n\n[batch]\n\n[beer]\nvolume = "9 L"\n\n# flask\n[flask]\n'
    )


def test_removing_a_step_leaves_the_comments_of_the_others() -> None:
    text = edited(COMMENTED, RemoveTable("step", 1))
    start, end = COMMENTED.index("# second feeding"), COMMENTED.index('[[step]]\nwort = "2.5 L"')
    assert text == COMMENTED[:start] + COMMENTED[end:]


def test_a_moved_step_takes_its_own_comments_and_tables_along() -> None:
    text = edited(COMMENTED, MoveTable("step", 1, 0))
    first, second = text.index("# first feeding\n[[step]]\n"), text.index("# second feeding\n[[step]]\n")
    assert second < text.index("[step.remark]") < first < text.index('hours = "30 h"')
    assert sorted(text.splitlines()) == sorted(COMMENTED.splitlines())
    assert text[: text.index("# second")] == COMMENTED[: COMMENTED.index("# first")]


def test_a_lot_is_moved_and_what_stands_apart_stays() -> None:
    text = edited(COMMENTED, MoveTable("yeast", 0, 1))
    assert (
        text.index("# a jar from the fridge") < text.index("# pack from the shop") < text.index("# the label says 100")
    )
    assert text.index("# the label says 100") < text.index("# ---- set apart ----\n\n[flask]")


def test_there_and_back_again_is_the_same_text() -> None:
    for text in ALL.values():
        plain = text.removeprefix("\ufeff")
        added = edited(plain, AddTable("event", len(tomllib.loads(plain).get("event", [])), {"what": "lost"}))
        back = edited(added, RemoveTable("event", len(tomllib.loads(added)["event"]) - 1))
        assert back.rstrip() == plain.rstrip()


def test_steps_apart_from_each_other_change_places() -> None:
    text = 'format = 1\n[[step]]\nwort = "1 L"\n[flask]\n# two\n[[step]]\nwort = "2 L"'
    assert edited(text, MoveTable("step", 1, 0)) == (
        'format = 1\n# two\n[[step]]\nwort = "2 L"\n[flask]\n[[step]]\nwort = "1 L"'
    )


def test_new_lines_end_as_the_file_ends_its_lines() -> None:
    text = edited(
        ALL["crlf"], Several((SetValue("bath.water", "1 L"), AddTable("step", 0), SetValue("beer.type", "ale")))
    )
    assert text.count("\n") == text.count("\r\n")


def test_several_edits_come_one_after_the_other() -> None:
    edit = Several(
        (AddTable("step", 0, {"wort": "1 L"}), SetValue("step.0.hours", "24 h"), SetValue("step.0.wort", "2 L"))
    )
    assert edited(BARE, edit) == 'format = 1\n\n[[step]]\nwort = "2 L"\nhours = "24 h"\n'


@pytest.mark.parametrize(
    "edit",
    [
        SetValue("step.3.wort", "1 L"),
        SetValue("step", "1 L"),
        SetValue("beer", "1 L"),
        SetValue("format.x", 1),
        SetValue("beer.0.volume", "1 L"),
        Unset("step.3.wort"),
        Unset("step.0"),
        AddTable("flask", 0),
        AddTable("shopping", 0),
        AddTable("step", 4),
        AddTable("step", -1),
        RemoveTable("step", 3),
        RemoveTable("keep", 0),
        RemoveTable("beer", 0),
        MoveTable("step", 0, 3),
        MoveTable("step", 3, 0),
    ],
)
def test_what_is_not_there_cannot_be_edited(edit: Edit) -> None:
    with pytest.raises(EditRefused):
        edit.in_data(tomllib.loads(COMMENTED))


def edits_of(data: dict[str, object]) -> st.SearchStrategy[Edit]:
    """Edits that may be made in a file with these steps and lots."""
    counts = {table: len(data.get(table, [])) for table in ("step", "yeast", "event")}  # type: ignore[arg-type]
    new = [st.builds(AddTable, st.just(t), st.integers(0, n), st.just({})) for t, n in counts.items()]
    old: list[st.SearchStrategy[Edit]] = []
    for table, n in counts.items():
        if n:
            at = st.integers(0, n - 1)
            old += [st.builds(RemoveTable, st.just(table), at), st.builds(MoveTable, st.just(table), at, at)]
            last = "task" if table == "event" else "from"
            keys = at.map("{}".format).map(f"{table}.{{}}.{last}".format)
            old += [st.builds(SetValue, keys, st.text(max_size=9)), st.builds(Unset, keys)]
    keys = st.sampled_from(
        ["batch.name", "batch.note", "beer.type", "flask.size", "keep.cells", "day.awake", "wort.rest"]
    )
    plain = [st.builds(SetValue, keys, st.text(max_size=9)), st.builds(Unset, keys)]
    return st.one_of(*new, *old, *plain, st.builds(Unset, st.sampled_from(["beer", "keep", "flask"])))


@given(st.sampled_from(sorted(ALL)), st.data())
def test_any_edits_in_a_row_read_back_as_what_was_set(name: str, data: st.DataObject) -> None:
    text = ALL[name].removeprefix("\ufeff")
    comments = [line.strip() for line in text.splitlines() if line.strip() == "# ---- set apart ----"]
    for _ in range(data.draw(st.integers(1, 6))):
        text = edited(text, data.draw(edits_of(deepcopy(tomllib.loads(text)))))
    assert [line.strip() for line in text.splitlines() if line.strip() == "# ---- set apart ----"] == comments
    if name == "crlf":
        assert text.count("\n") == text.count("\r\n")


@given(st.sampled_from(["commented", "compact", "crlf", "endless"]), st.data())
def test_setting_a_value_leaves_every_other_line_alone(name: str, data: st.DataObject) -> None:
    text = ALL[name]
    key = data.draw(st.sampled_from(["batch.name", "beer.volume", "step.0.wort", "flask.size", "beer.pitch_rate"]))
    old, new = text.split("\n"), edited(text, SetValue(key, "new")).split("\n")
    blocks = SequenceMatcher(None, old, new, autojunk=False).get_opcodes()
    changes = [(old[a:b], new[c:d]) for tag, a, b, c, d in blocks if tag != "equal"]
    assert len(changes) == 1  # in one place
    taken, put = changes[0]
    assert len(taken) <= 1
    assert len(put) <= 4  # a new table has a header, and blank lines around it


@pytest.mark.parametrize(
    "kept",
    [
        'note = """\n# [[yeast]]\n\n"""\n',  # no remark but text
        "# [[yeast]] is what goes into this:\n[flask]\n",  # a remark of the table beneath it
    ],
)
def test_only_a_remark_that_stands_alone_draws_the_first_lot(kept: str) -> None:
    assert kept in edited(f"format = 1\n[batch]\n\n{kept}", AddTable("yeast", 0, {}))
