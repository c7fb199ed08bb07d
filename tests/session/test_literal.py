"""Values as TOML text, read back by the standard library."""

from __future__ import annotations

import tomllib
from datetime import UTC, date, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.errors import EditRefused
from workbench.session.literal import TomlValue, inline_table, key_text, literal

_OFFSETS = st.integers(-23 * 60, 23 * 60).map(lambda minutes: timezone(timedelta(minutes=minutes)))
VALUES = st.one_of(
    st.booleans(),
    st.integers(-(2**63), 2**63 - 1),
    st.floats(allow_nan=False, allow_infinity=False),
    st.text(),
    st.dates(),
    st.datetimes(min_value=datetime(1, 1, 3), max_value=datetime(9999, 12, 29), timezones=_OFFSETS),  # noqa: DTZ001
)


@given(VALUES)
def test_what_is_written_is_read_back(value: TomlValue) -> None:
    read = tomllib.loads(f"x = {literal(value)}")["x"]
    assert read == value
    assert type(read) is type(value)


@given(st.dictionaries(st.text(), VALUES, max_size=4))
def test_a_table_on_one_line_is_read_back(values: dict[str, TomlValue]) -> None:
    text = f"x = {inline_table(values)}"
    assert "\n" not in text
    assert tomllib.loads(text)["x"] == values


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (True, "true"),
        (24, "24"),
        (0.5, "0.5"),
        ('a "b" \\ \n\x7f', '"a \\"b\\" \\\\ \\n\\u007f"'),
        ("21 °C", '"21 °C"'),
        (date(2026, 10, 19), "2026-10-19"),
        (datetime(2026, 11, 28, 14, tzinfo=UTC), "2026-11-28T14:00:00Z"),
        (datetime(2026, 11, 28, 15, tzinfo=timezone(timedelta(hours=1))), "2026-11-28T15:00:00+01:00"),
        (datetime(1900, 1, 1, tzinfo=timezone(timedelta(seconds=3208))), "1899-12-31T23:06:32Z"),
    ],
)
def test_values_are_written_plainly(value: TomlValue, text: str) -> None:
    assert literal(value) == text


@pytest.mark.parametrize("value", [float("nan"), float("inf"), "half \ud800", datetime(2026, 1, 1)])  # noqa: DTZ001
def test_what_a_file_cannot_hold_is_refused(value: TomlValue) -> None:
    with pytest.raises(EditRefused):
        literal(value)


def test_keys_are_quoted_only_where_needed() -> None:
    assert [key_text(key) for key in ("boil_off", "a b", "")] == ["boil_off", '"a b"', '""']
