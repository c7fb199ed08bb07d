"""Whatever lies at the path: one clear word, never a traceback, never a wait."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.errors import FileRefused, WorkbenchError
from workbench.session.faults import FaultyFile
from workbench.session.load import load, parsed
from workbench.session.read import read

if TYPE_CHECKING:
    from pathlib import Path


@pytest.mark.parametrize(
    ("raw", "line", "what"),
    [
        (b"\xff\xfef\0o\0", 1, "UTF-16"),
        (b"\xfe\xff\0f\0o", 1, "UTF-16"),
        (b"format = 1\n\0", 2, "zero byte"),
        (b"format = 1\n# caf\xe9\n", 2, "no UTF-8"),
        (b"\xef\xbb\xbfformat = 1\n\n\xff", 3, "no UTF-8"),
        (b"format = 1\n[beer]\nvolume = 23 L\n", 3, "is no TOML, column 13"),
        (b"format = 1\n[beer\n", 2, "is no TOML"),
        (b"format = 1\nformat = 1\n", 2, "is no TOML"),
        (b"format = 1\n[a]\n[a]\n", 3, "is no TOML"),
        (b"format = 1\nx = [1,\n2", 3, "is no TOML"),
        (b"format = 1\nx = 2026-02-30\n", 2, "is no TOML"),
        (b"format = 1\n<<<<<<< mine\n[a]\n=======\n[b]\n>>>>>>> theirs\n", 2, "two versions of the file are mixed"),
        (b"format = 1\rx = 2\r", 1, "is no TOML"),
        (b"format = 1\nx = " + b"9" * 5000, 2, "thousands of digits"),
        (b"format = 1\nx = " + b"[" * 100_000, 1, "too deep"),
        (b"format = 1\nx = " + b"{a=" * 100_000, 1, "too deep"),
        (b"format = 1\n" + b"a." * 200_000 + b"a = 1\n", 2, "too deep"),
        (b"format = 1\n[" + b"a." * 200_000 + b"a]\n", 2, "too deep"),
        (b"format = 1\nx = {" + b'"a" . ' * 200_000 + b"a = 1}\n", 2, "too deep"),
        (b'format = 1\nx = """' + b'\\"""' * 100_000 + b"." * 200, 2, "is no TOML"),
        (b"\x1b[2J", 1, "is no TOML"),
    ],
)
def test_hostile_bytes_are_one_fault_with_its_line(raw: bytes, line: int, what: str) -> None:
    with pytest.raises(FaultyFile) as caught:
        parsed(raw, "a.toml")
    (fault,) = caught.value.faults
    assert fault.line == line
    assert what in fault.what
    assert str(caught.value).isprintable()


def test_long_dots_in_a_note_are_no_deep_key() -> None:
    text = 'format = 1\n[batch]\nnote = """\n' + "." * 5000 + '\n"""\nname = "' + "." * 500 + '" # ' + "." * 500
    assert parsed(text.encode(), "a.toml").data["format"] == 1


def test_a_byte_order_mark_is_kept_in_the_bytes_only() -> None:
    loaded = parsed(b"\xef\xbb\xbfformat = 1\r\n", "a.toml")
    assert loaded.text == "format = 1\r\n"
    assert loaded.raw.startswith(b"\xef\xbb\xbf")


@given(st.binary(max_size=200))
def test_any_bytes_give_data_or_an_error_of_ours(raw: bytes) -> None:
    try:
        loaded = parsed(raw, "a.toml")
    except WorkbenchError as error:
        assert str(error)  # noqa: PT017 - most bytes are no TOML, and need not be
    else:
        assert isinstance(loaded.data, dict)


_SCALARS = st.one_of(
    st.sampled_from(["nan", "-inf", "1e400", "true", "18446744073709551616", '"x"', '""', "[]", "{}", "[{}]", "[[1]]"]),
    st.sampled_from(
        ["2026-02-01", "0001-01-01T00:00:00Z", "9999-12-31T23:59:59-23:59", "07:30:00", "2026-01-01T00:00:00"]
    ),
    st.integers().map(str),
    st.floats(allow_nan=False, allow_infinity=False).map(repr),
)
_KEYS = st.sampled_from(
    ["format", "batch.chance", "batch.pitch_at", "beer.volume", "yeast", "keep", "flask.count", "day.awake"]
)


@given(st.dictionaries(_KEYS, _SCALARS, max_size=5))
def test_any_values_at_known_keys_are_read_or_told(values: dict[str, str]) -> None:
    text = "".join(f"{key} = {value}\n" for key, value in values.items())
    try:
        loaded = parsed(text.encode(), "a.toml")
    except FaultyFile as error:
        assert len(error.faults) == 1  # noqa: PT017 - a key under a key that is no table
        return
    found = read(loaded.data, loaded.text)
    assert all(1 <= fault.line <= text.count("\n") + 1 for fault in found.faults)
    assert str(found.session)


def test_what_is_no_file_is_refused_without_waiting(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    cases: list[tuple[str | Path, str]] = [
        (tmp_path, "directory"),
        (tmp_path / "pipe", "pipe or device"),
        ("/dev/zero", "pipe or device"),
        (tmp_path / "none.toml", "no such file"),
        (tmp_path / ("x" * 300), "cannot be read"),
        (f"{tmp_path}/\0", "cannot be read"),
    ]
    for path, word in cases:
        with pytest.raises(FileRefused, match=word):
            load(path)


def test_size_decides_between_noted_shown_and_refused(tmp_path: Path) -> None:
    path = tmp_path / "a.toml"

    def of_size(size: int) -> None:
        path.write_bytes(b"format = 1\n" + b"# filled up with remarks ...............................\n" * (size // 57))

    of_size(150_000)
    assert load(path).notes == ()
    of_size(250_000)
    assert "kB" in load(path).notes[0].what
    assert load(path).read_only is None
    of_size(1_100_000)
    assert "larger than 1 MB" in str(load(path).read_only)
    of_size(5_100_000)
    with pytest.raises(FileRefused, match="larger than 5 MB"):
        load(path)


def test_an_unreadable_file_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "a.toml"
    path.write_text("format = 1\n")

    def refuse(*_: object) -> int:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(os, "open", refuse)
    with pytest.raises(FileRefused, match="cannot be read: Permission denied"):
        load(path)
