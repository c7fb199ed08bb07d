"""Edits in the text of a file, and two texts made one: what is not changed stays letter for letter."""

from __future__ import annotations

import re

from hypothesis import given
from hypothesis import strategies as st

from tests.session.samples import ALL
from workbench.errors import EditRefused
from workbench.session.applied import edited, joined
from workbench.session.edits import AddTable, Edit, MoveTable, RemoveTable, SetValue, Unset
from workbench.session.load import Loaded, parsed

_EDITS: st.SearchStrategy[Edit] = st.one_of(
    st.builds(SetValue, st.just("beer.volume"), st.sampled_from(["9 L", "8 L"])),
    st.builds(SetValue, st.sampled_from(["step.0.hours", "keep.every"]), st.sampled_from(["20 h", "21 h"])),
    st.builds(Unset, st.sampled_from(["beer.gravity", "step.0.wort"])),
    st.builds(AddTable, st.just("step"), st.integers(0, 2), st.just({"wort": "7 L"})),
    st.builds(RemoveTable, st.just("yeast"), st.integers(0, 1)),
    st.builds(MoveTable, st.just("step"), st.integers(0, 2), st.integers(0, 2)),
)


def after(loaded: Loaded, edits: list[Edit]) -> Loaded:
    for edit in edits:
        try:
            loaded, _ = edited(loaded, edit)
        except EditRefused:  # not in this file
            continue
    return loaded


def moves_what_changed(by_me: list[Edit], by_them: list[Edit]) -> bool:
    """Whether a feeding may be moved and changed: it is then put in anew, without the comments inside."""
    changed = any(isinstance(edit, SetValue | Unset) and "step" in edit.key for edit in (*by_me, *by_them))
    return changed and any(isinstance(edit, MoveTable) for edit in by_me)


@given(st.sampled_from(sorted(ALL)), st.lists(_EDITS, max_size=3), st.lists(_EDITS, max_size=3))
def test_two_texts_become_one_that_reads_and_has_every_comment_of_theirs(
    name: str, by_me: list[Edit], by_them: list[Edit]
) -> None:
    base = parsed(ALL[name].encode(), name)
    mine, theirs = after(base, by_me), after(base, by_them)
    one = joined(base, mine, theirs)
    assert one.loaded.raw.startswith(base.raw[:3]) or not base.raw.startswith(b"\xef")
    assert one.outcome.faults == ()
    if mine.data == base.data:
        assert one.loaded is theirs
    if theirs.data == base.data:
        assert one.loaded.data == mine.data
    for remark in ("# after lunch", "# a key of my own", "# not of the format", "# ---- set apart ----"):
        assert (remark in one.loaded.text) == (remark in theirs.text)
    if not (any(isinstance(edit, RemoveTable) for edit in by_me) or moves_what_changed(by_me, by_them)):
        assert sorted(re.findall("#.*", one.loaded.text)) == sorted(re.findall("#.*", theirs.text))
