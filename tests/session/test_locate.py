"""Places of keys, held against what the standard library's reader finds in the same text."""

from __future__ import annotations

import tomllib
from typing import TYPE_CHECKING, Any

import pytest
import tomlkit
from hypothesis import given
from hypothesis import strategies as st

from tests.session.samples import ALL, COMMENTED, COMPACT
from workbench.session.locate import Layout, dotted, path_of, written

if TYPE_CHECKING:
    from collections.abc import Iterator


def paths(data: Any, at: tuple[str | int, ...] = ()) -> Iterator[tuple[tuple[str | int, ...], Any]]:
    """Every path in the data, down to the elements of lists."""
    inside = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for key, value in inside:
        yield (*at, key), value
        yield from paths(value, (*at, key))


def check_against_the_reader(text: str) -> None:
    """Each value that the reader finds stands where the layout says; the layout finds nothing else."""
    layout = Layout(text)
    found = dict(paths(tomllib.loads(text)))
    for mark in layout.marks:
        assert mark.path in found
        if not mark.is_header:
            assert tomllib.loads(f"x = {text[mark.value : mark.end]}")["x"] == found[mark.path]
    leaves = {path for path, value in found.items() if not isinstance(value, dict | list)}
    assert leaves <= {mark.path for mark in layout.marks}


@pytest.mark.parametrize("name", [name for name in ALL if name != "bom"])
def test_every_value_stands_where_the_layout_says(name: str) -> None:
    check_against_the_reader(ALL[name])


@pytest.mark.parametrize(
    "text",
    [
        'a = """x"""""\nb = 1',
        "a = '''it''s'''''\nb = 1",
        'a = """\\\n  x \\""" # no\n"""\nb = 1',
        'a = "\\\\"\nb = "#"  # c',
        "a = '\\'\nb = 1 # '",
        '"a.b".c = 1\n\'d\' . "e" = 2\n"" = 3',
        "[a]\n[a.b.c]\nx = 1\n[a.b]\ny = 2\n[[a.d]]\n[[a.d]]\n[a.d.e]\nz = 1\n[[a.d.f]]\nq=1",
        "a = [[1, 2], [{ b = [3] }]] \nc = {d.e = 1, f = [ ] , g = { } }",
        "a = [ # x ]\n 1, # ,\n 2 ,\n]\nb = 1979-05-27 07:32:00Z # d",
        " [ a . b ] # [c]\n\tx=+1_0\n[ [ d ] ]".replace("[ [ d ] ]", "[[ d ]]"),
        "-1 = 0\n1-x = 0x1f\n_ = inf",
    ],
)
def test_odd_but_right_toml_is_understood(text: str) -> None:
    check_against_the_reader(text)


_VALUES = st.recursive(
    st.one_of(st.booleans(), st.integers(-99, 99), st.text(max_size=8), st.floats(allow_nan=False), st.dates()),
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(st.text(max_size=4), inner, max_size=3)),
    max_leaves=8,
)


@given(st.dictionaries(st.text(max_size=4), _VALUES, max_size=4))
def test_whatever_another_writer_writes_is_understood(data: dict[str, Any]) -> None:
    check_against_the_reader(tomlkit.dumps(data))


@pytest.mark.parametrize(
    ("text", "key", "line"),
    [
        (COMMENTED, "format", 2),
        (COMMENTED, "batch", 4),
        (COMMENTED, "batch.note", 7),
        (COMMENTED, "batch.my_own.colour", 11),
        (COMMENTED, "yeast.1.kind", 26),
        (COMMENTED, "step.1.decant", 48),
        (COMMENTED, "step.1.remark.text", 50),
        (COMMENTED, "step.1.nothing", 46),
        (COMMENTED, "nothing.at.all", 1),
        (COMPACT, "beer.gravity", 2),
        (COMPACT, "flask", 3),
        (COMPACT, "yeast.1.kind", 6),
        (COMPACT.replace("\n", "\r\n"), "step.1.wort", 11),
    ],
)
def test_lines_count_from_one(text: str, key: str, line: int) -> None:
    assert Layout(text).line_of(key) == line


def test_paths_and_dotted_keys_are_the_same() -> None:
    assert path_of("step.0.wort") == ("step", 0, "wort")
    assert dotted(("step", 0, "wort")) == "step.0.wort"


@pytest.mark.parametrize(
    ("key", "letters"),
    [
        ("beer.volume", '"23,0  l"'),
        ("beer.type", "'ale'"),
        ("batch.pitch_at", "2026-11-28 15:00:00+01:00"),
        ("batch.note", '"""\ntwo\n"""'),
        ("yeast.0.count", "0x2"),
        ("yeast.1.made_on", "2026-10-19"),
        ("step.0.decant", "true"),
        ("beer.gravity", ""),
        ("batch", ""),
        ("yeast.2.count", ""),
    ],
)
def test_a_value_letter_for_letter(key: str, letters: str) -> None:
    text = (
        "beer = {volume = \"23,0  l\", type = 'ale'} # one\n"
        '[batch]\npitch_at = 2026-11-28 15:00:00+01:00 # when\nnote = """\ntwo\n"""\n'
        "[[yeast]]\ncount = 0x2\n[[yeast]]\nmade_on = 2026-10-19\n[[step]]\ndecant = true\n"
    )
    assert written(text, key) == letters
