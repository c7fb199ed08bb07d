from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest

from tests.panes.scenes import CET, NOW
from workbench.units.when import day, full, lasting, moment, until


@pytest.mark.parametrize(
    ("minutes", "says"),
    [(5, "5 min"), (59, "59 min"), (60, "1 h 00 min"), (200, "3 h 20 min"), (1860, "1 d 07 h"), (60 * 24 * 12, "12 d")],
)
def test_a_span_in_two_units(minutes: int, says: str) -> None:
    assert lasting(timedelta(minutes=minutes)) == says
    assert until(NOW + timedelta(minutes=minutes), NOW) == f"in {says}"
    assert until(NOW - timedelta(minutes=minutes), NOW) == f"{says} ago"


def test_now_is_now() -> None:
    assert until(NOW, NOW) == "now"


def test_a_moment_is_local_and_only_as_long_as_needed() -> None:
    assert moment(datetime(2026, 11, 28, 14, tzinfo=UTC), NOW, CET) == "Sat 15:00"
    assert moment(datetime(2026, 12, 5, 13, tzinfo=UTC), NOW, CET) == "5 Dec 14:00"
    assert moment(datetime(2027, 1, 5, 13, tzinfo=UTC), NOW, CET) == "5 Jan 2027 14:00"
    assert full(datetime(2026, 11, 28, 14, tzinfo=UTC), CET) == "Sat 28 Nov 2026 15:00"


def test_a_day() -> None:
    assert day(date(2026, 10, 19)) == "19 Oct"
