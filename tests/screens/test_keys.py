from __future__ import annotations

from itertools import combinations

import pytest

from workbench.screens.actions import _ACTIONS
from workbench.screens.keys import ACTIONS, PANES, KeysRefused, remapped

# prefixes of multiplexers, flow control, and letters that are the same byte as another key
AVOIDED = {f"ctrl+{letter}" for letter in "absqjhim"}


def test_every_action_has_a_name_of_its_own_and_a_line_of_help() -> None:
    assert len({action.id for action in ACTIONS}) == len(ACTIONS)
    assert all(action.help and action.keys for action in ACTIONS)


def test_no_key_does_two_things_in_a_pane() -> None:
    for first, second in combinations(ACTIONS, 2):
        if first.panes & second.panes:
            assert set(first.keys).isdisjoint(second.keys), (first.id, second.id)


def test_every_key_reaches_the_program_and_a_function_key_has_a_second_way() -> None:
    for action in ACTIONS:
        assert AVOIDED.isdisjoint(action.keys), action.id
        assert not any("alt+" in key for key in action.keys), action.id
        plain = [key for key in action.keys if not (key[0] == "f" and key[1:].isdigit())]
        assert plain, action.id


def test_every_action_of_the_table_is_done_by_something() -> None:
    done = {*_ACTIONS, "quit", "shell", "theme", *(f"pane-{i}" for i in range(1, len(PANES) + 1))}
    assert {action.id for action in ACTIONS} == done


def test_keys_can_be_changed() -> None:
    undo = next(action for action in remapped({"undo": "ctrl+u, u"}) if action.id == "undo")
    assert undo.keys == ("ctrl+u", "u")
    assert undo.key == "ctrl+u"


@pytest.mark.parametrize(("wanted", "says"), [({"undoo": "u"}, "undoo"), ({"undo": "r"}, "redo")])
def test_keys_that_cannot_be_used_are_refused(wanted: dict[str, str], says: str) -> None:
    with pytest.raises(KeysRefused, match=says):
        remapped(wanted)
