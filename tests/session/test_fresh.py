"""New files: they read without a fault, teach without being in the way, and have a good name anywhere."""

from __future__ import annotations

import tomllib
import unicodedata
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.errors import QuantityError
from workbench.session.edits import AddTable, SetValue, Several
from workbench.session.fresh import fresh_text, safe_file_name
from workbench.session.literal import literal
from workbench.session.read import read
from workbench.session.store import Store


def test_a_new_file_reads_and_holds_the_brewers_own_gear() -> None:
    text = fresh_text('Alder "Lane"', flask={"size": "5 L", "count": "2"}, wort={"gravity": "36", "boil_in": "p"})
    session, faults, notes = read(tomllib.loads(text), text)
    assert (faults, notes) == ((), ())
    assert session.batch.name == 'Alder "Lane"'
    assert (session.flask.size_l, session.flask.flasks, session.wort.boil_in) == (5.0, 2, "pot")
    assert 'gravity = "1.036"' in text
    assert session.beer is not None
    assert session.keep is None


def test_a_build_for_the_shelf_has_no_beer() -> None:
    text = fresh_text("Jar", flask={}, wort={}, shelf=True)
    session, faults, notes = read(tomllib.loads(text), text)
    assert (faults, notes, session.beer) == ((), (), None)
    assert session.keep is not None


def test_a_setting_that_the_format_does_not_know_is_refused() -> None:
    with pytest.raises(KeyError, match=r"flask\.colour"):
        fresh_text("A", flask={"colour": "green"}, wort={})
    with pytest.raises(QuantityError, match="out of range"):
        fresh_text("A", flask={"size": "0 L"}, wort={})


def test_what_the_remarks_teach_is_right() -> None:
    """Each `key = value` in a remark, put under the header that follows, reads without a fault or a note."""
    text = fresh_text("A", flask={}, wort={}) + "\n" + fresh_text("B", flask={}, wort={}, shelf=True)
    taught = [line.lstrip("# ").split("    ")[0] for line in text.splitlines() if line.startswith("#   ")]
    sample = "format = 1\n" + "\n".join(taught) + "\n"
    session, faults, notes = read(tomllib.loads(sample), sample)
    assert (faults, notes) == ((), ())
    assert len(session.yeast) == 4
    assert len(session.step) == 2


def test_filling_in_a_new_file_keeps_the_remarks_above_the_values(tmp_path: Path) -> None:
    store = Store.create(tmp_path / "a.toml", fresh_text("A", flask={}, wort={}))
    remarks = [line for line in store.text.splitlines() if line.startswith("#")]
    store.apply(
        Several(
            (
                SetValue("beer.volume", "23 L"),
                AddTable("yeast", 0, {"kind": "pack"}),
                AddTable("step", 0, {"wort": "1.6 L"}),
                SetValue("foam.drops", 2),
            )
        )
    )
    assert [line for line in store.text.splitlines() if line.startswith("#")] == remarks
    assert '[beer]\nvolume = "23 L"\n' in store.text
    assert store.close()


@pytest.mark.parametrize("shelf", [False, True])
@pytest.mark.parametrize("table", ["yeast", "step"])
def test_the_first_lot_and_feeding_stand_below_the_remark_that_teaches_them(*, table: str, shelf: bool) -> None:
    lines = AddTable(table, 0, {}).in_text(fresh_text("A", flask={}, wort={}, shelf=shelf)).splitlines()
    at, shown = lines.index(f"[[{table}]]"), lines.index(f"#   [[{table}]]")
    assert shown < at - 1
    assert all(line.startswith("#") for line in lines[shown : at - 1])
    assert lines[at - 1] == ""


@pytest.mark.parametrize(
    ("name", "file"),
    [
        ("Alder Lane Amber", "alder-lane-amber.toml"),
        ("../../etc/passwd", "etc-passwd.toml"),
        (".hidden", "hidden.toml"),
        ("-rf", "rf.toml"),
        ("CON", "batch-con.toml"),
        ("lpt1.txt", "batch-lpt1.txt.toml"),
        ("COM²", "batch-com².toml"),
        ("conout$", "batch-conout$.toml"),
        ("e\u200d\u0301x", "éx.toml"),
        ("", "batch.toml"),
        ("///", "batch.toml"),
        ("a.toml", "a.toml"),
        ("Ko\u0308lsch № 2", "kölsch-№-2.toml"),
        ("a\x1b[2J\u202eb", "a[2jb.toml"),
        ("a\nb:c", "a-b-c.toml"),
        ("Gold.mine", "gold-mine.toml"),  # the other is the name of a file that was put aside
        ("Gold.mine-2", "gold-mine-2.toml"),
    ],
)
def test_names_become_file_names(name: str, file: str) -> None:
    assert safe_file_name(name) == file


@given(st.text(alphabet=st.characters(codec="utf-8"), max_size=200))
def test_any_name_becomes_a_safe_file_name(name: str) -> None:
    file = safe_file_name(name)
    assert len(file.encode()) <= 100
    assert file.endswith(".toml")
    assert Path(file).name == file
    assert not file.startswith((".", "-"))
    assert file.isprintable() or not name.isprintable() or " " not in file
    assert unicodedata.is_normalized("NFC", file)
    assert safe_file_name(file) == file


@given(st.text(alphabet=st.characters(codec="utf-8"), max_size=60))
def test_any_name_is_written_into_the_new_file(name: str) -> None:
    text = fresh_text(name, flask={}, wort={})
    assert tomllib.loads(text)["batch"]["name"] == name
    assert f"name = {literal(name)}\n" in text
