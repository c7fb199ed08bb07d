"""Three versions of a session become one: nothing that either side changed is lost, and clashes are told."""

from __future__ import annotations

from copy import deepcopy
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.session.merge import ABSENT, Change, changes, same

_HOUR = datetime(2026, 11, 27, 15, 0, tzinfo=UTC)
_TABLES = ("batch", "beer", "shopping")
_VALUES = st.one_of(st.integers(0, 2), st.sampled_from(["23 L", "20 L"]), st.booleans())
_PLAIN = st.fixed_dictionaries(
    {}, optional={name: st.dictionaries(st.sampled_from("abc"), _VALUES) for name in _TABLES}
)
_STAMPS = st.builds(
    lambda minutes, step, what: {"at": _HOUR + timedelta(minutes=minutes), "step": step, "what": what},
    st.integers(0, 3),
    st.integers(1, 2),
    st.sampled_from(["boil-on", "boil-hold"]),
)


def merged(base: dict[str, Any], mine: dict[str, Any], theirs: dict[str, Any]) -> tuple[dict[str, Any], list[Change]]:
    """Theirs with what of mine does not clash; and what does."""
    data, found = deepcopy(theirs), changes(base, mine, theirs)
    for change in found:
        for edit in change.edits if not change.clashes else ():
            edit.in_data(data)
    return data, [change for change in found if change.clashes]


def flat(data: dict[str, Any]) -> dict[str, Any]:
    return {f"{name}.{key}": value for name, table in data.items() for key, value in table.items()}


@given(_PLAIN, _PLAIN, _PLAIN)
def test_every_key_changed_on_one_side_only_is_in_the_outcome(
    base: dict[str, Any], mine: dict[str, Any], theirs: dict[str, Any]
) -> None:
    data, clashing = merged(base, mine, theirs)
    told = [change.key for change in clashing]
    old, my, their, out = map(flat, (base, mine, theirs, data))
    for key in old.keys() | my.keys() | their.keys():
        b, m, t = (side.get(key, ABSENT) for side in (old, my, their))
        clash = not (same(m, b) or same(t, b) or same(m, t))
        of_table = key.partition(".")[0] in told  # one side took out the table in which the other changed something
        assert (key in told) == clash or of_table
        if not of_table:
            assert same(out.get(key, ABSENT), t if clash or same(m, b) else m)


@given(_PLAIN, _PLAIN, _PLAIN)
def test_the_two_sides_may_change_places(base: dict[str, Any], mine: dict[str, Any], theirs: dict[str, Any]) -> None:
    (one, here), (other, there) = merged(base, mine, theirs), merged(base, theirs, mine)
    assert {change.key for change in here} == {change.key for change in there}
    if not here:
        assert flat(one) == flat(other)


@given(_PLAIN, _PLAIN, _PLAIN)
def test_what_clashes_made_too_is_mine(base: dict[str, Any], mine: dict[str, Any], theirs: dict[str, Any]) -> None:
    data, clashing = merged(base, mine, theirs)
    for change in clashing:
        for edit in change.edits:
            edit.in_data(data)
    again, left = merged(base, mine, data)
    assert (again, left) == (data, [])


@given(
    st.lists(_STAMPS, max_size=5),
    st.lists(_STAMPS, max_size=4),
    st.lists(_STAMPS, max_size=4),
    st.data(),
)
def test_what_both_stamped_is_there_once(
    base: list[Any], by_me: list[Any], by_them: list[Any], data: st.DataObject
) -> None:
    kept = data.draw(st.lists(st.booleans(), min_size=len(base), max_size=len(base)))
    mine = [event for event, keep in zip(base, kept, strict=True) if keep] + by_me
    out, clashing = merged({"event": base}, {"event": mine}, {"event": base + by_them})
    events = out.get("event", [])
    assert not clashing
    for event in base + by_me + by_them:
        was, now, then = (side.count(event) for side in (base, mine, base + by_them))
        assert events.count(event) == (max(now, then) if now >= was else then - (was - now))


def _steps(*litres: str) -> dict[str, Any]:
    return {"step": [{"wort": text} for text in litres]}


@pytest.mark.parametrize(
    ("base", "mine", "theirs", "out"),
    [
        ("ab", "abc", "xab", "xabc"),
        ("abc", "ac", "abd", "ad"),  # the one at the end was changed by them, the middle taken out by me
        ("ab", "abc", "abc", "abc"),
        ("ab", "cab", "abc", "cabc"),  # not in the same place: two
        ("abc", "bca", "abcd", "bcda"),
        ("", "a", "b", "ba"),
    ],
)
def test_lots_and_feedings_merge_one_by_one(base: str, mine: str, theirs: str, out: str) -> None:
    data, clashing = merged(_steps(*base), _steps(*mine), _steps(*theirs))
    assert "".join(step["wort"] for step in data["step"]) == out
    assert not clashing


@given(st.lists(_VALUES, max_size=4), st.lists(_VALUES, max_size=4), st.lists(_VALUES, max_size=4))
def test_lists_of_feedings_agree_with_the_side_that_changed(
    base: list[Any], mine: list[Any], theirs: list[Any]
) -> None:
    b, m, t = ({"step": [{"wort": value} for value in side]} for side in (base, mine, theirs))
    for out, clashing in (merged(b, m, b), merged(b, m, m)):
        assert (out.get("step", []), clashing) == (m["step"], [])
    assert merged(b, b, t) == (t, [])
    out, clashing = merged(b, m, t)
    fresh = [step for step in m["step"] if step not in b["step"]]
    lost = [step for step in fresh if step not in out["step"]]
    assert len(lost) <= len(clashing)  # nothing new of mine goes without being told


def test_keys_of_the_same_feeding_merge_and_its_comments_are_not_asked() -> None:
    base = {"step": [{"wort": "1 L", "hours": "24 h"}]}
    data, clashing = merged(base, {"step": [{"wort": "2 L", "hours": "24 h"}]}, {"step": [{"wort": "1 L"}]})
    assert (data, clashing) == ({"step": [{"wort": "2 L"}]}, [])


def test_a_clash_is_about_the_merged_version() -> None:
    base = _steps("1 L", "2 L")
    data, (clash,) = merged(base, _steps("9 L", "1 L", "3 L"), _steps("1 L", "4 L"))
    assert [step["wort"] for step in data["step"]] == ["9 L", "1 L", "4 L"]
    assert (clash.key, clash.mine, clash.theirs) == ("step.2.wort", "3 L", "4 L")
    for edit in clash.edits:
        edit.in_data(data)
    assert data == _steps("9 L", "1 L", "3 L")


def test_taken_out_here_and_changed_there_is_a_clash() -> None:
    base = {"keep": {"cells": "60 B"}, **_steps("1 L", "2 L")}
    mine = {**_steps("1 L")}
    theirs = {"keep": {"cells": "80 B"}, **_steps("1 L", "3 L")}
    data, clashing = merged(base, mine, theirs)
    assert data == theirs
    assert [(change.key, change.mine is ABSENT) for change in clashing] == [("keep", True), ("step.1", True)]
    data, clashing = merged(base, theirs, mine)
    assert data == mine
    assert sorted((change.key, change.theirs is ABSENT) for change in clashing) == [("keep", True), ("step.1", True)]
    for change in clashing:
        for edit in change.edits:
            edit.in_data(data)
    assert data == theirs


def test_two_readings_of_one_second_stay_two() -> None:
    at = {"at": _HOUR, "step": 1, "kind": "gravity"}
    data, clashing = merged({}, {"reading": [{**at, "value": "1.034"}]}, {"reading": [{**at, "value": "1.035"}]})
    assert [reading["value"] for reading in data["reading"]] == ["1.035", "1.034"]
    assert not clashing


def test_a_reading_put_right_by_both_clashes() -> None:
    def read(value: str) -> dict[str, Any]:
        return {"reading": [{"at": _HOUR, "step": 1, "kind": "gravity", "value": value}]}

    _, (clash,) = merged(read("1.034"), read("1.035"), read("1.036"))
    assert (clash.key, clash.mine, clash.theirs) == ("reading.0.value", "1.035", "1.036")


def test_types_count() -> None:
    assert not same(1, True)
    assert not same(1, 1.0)
    assert same(float("nan"), float("nan"))
    assert merged({"batch": {"a": 1}}, {"batch": {"a": True}}, {"batch": {"a": 1}})[0]["batch"]["a"] is True
