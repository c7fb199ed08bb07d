from __future__ import annotations

from itertools import combinations

import pytest

from workbench.screens.actions import _ACTIONS
from workbench.screens.keynames import KeysRefused, canonical
from workbench.screens.keys import ACTIONS, HOME_ACTIONS, PANES, by_key, remapped

# prefixes of multiplexers, flow control, what terminals and shells keep, letters that are the same byte as another key
AVOIDED = {f"ctrl+{letter}" for letter in "absqcljhim"}


def test_every_action_has_a_name_of_its_own_and_a_line_of_help() -> None:
    assert len({action.id for action in ACTIONS}) == len(ACTIONS)
    assert all(action.help and action.keys for action in ACTIONS)


def test_no_key_does_two_things_in_a_pane() -> None:
    for first, second in combinations(ACTIONS, 2):
        if first.panes & second.panes:
            assert set(first.keys).isdisjoint(second.keys), (first.id, second.id)


def test_every_key_reaches_the_program_and_a_function_key_has_a_second_way() -> None:
    for action in (*ACTIONS, *HOME_ACTIONS):
        assert AVOIDED.isdisjoint(action.keys), action.id
        assert not any("alt+" in key for key in action.keys), action.id
        assert tuple(map(canonical, action.keys)) == action.keys
        plain = [key for key in action.keys if not (key[0] == "f" and key[1:].isdigit())]
        assert plain, action.id


def test_every_action_of_the_table_is_done_by_something() -> None:
    done = {*_ACTIONS, "quit", "shell", "mouse", "theme", *(f"pane-{i}" for i in range(1, len(PANES) + 1))}
    assert {action.id for action in ACTIONS} == done


def test_keys_can_be_changed() -> None:
    undo = next(action for action in remapped({"undo": "ctrl+u, u"}) if action.id == "undo")
    assert undo.keys == ("ctrl+u", "u")
    assert undo.key == "ctrl+u"


@pytest.mark.parametrize(("wanted", "says"), [({"undoo": "u"}, "undoo"), ({"undo": "r"}, "redo")])
def test_keys_that_cannot_be_used_are_refused(wanted: dict[str, str], says: str) -> None:
    with pytest.raises(KeysRefused, match=says):
        remapped(wanted)


def test_names_and_lines_of_help_fit_the_screen() -> None:
    for action in (*ACTIONS, *HOME_ACTIONS):
        assert len(action.called) <= 19, action.id
        assert len(f" {action.called}: {action.help}") <= 80, action.id
    for table in (ACTIONS, HOME_ACTIONS):
        assert len({action.called for action in table}) == len(table)


def test_changing_one_action_leaves_another_on_the_same_key_in_other_panes() -> None:
    actions = remapped({"remove": "ctrl+x"})
    assert by_key(actions, "x", pane=5) == "skip"
    assert by_key(actions, "x", pane=0) == ""
    assert by_key(actions, "ctrl+x", pane=0) == "remove"


@pytest.mark.parametrize("key", sorted(AVOIDED | {"alt+x", "alt+left", "Ctrl+B"}))
def test_keys_that_never_arrive_are_refused_with_the_reason(key: str) -> None:
    with pytest.raises(KeysRefused, match=f"{key.lower().replace('+', '.')} does not reach every program: .{{12}}"):
        remapped({"undo": f"u, {key}"})


@pytest.mark.parametrize(
    ("key", "says"),
    [
        ("f13", "no key is called 'f13'"), ("ctrl+enter", "no key"), ("cmd+u", "no key"), ("uu", "no key"),
        ("u,,x", "no key is called ''"), ("shift+u", "the sign itself: 'U'"), (" ", "no key"), ("\t", "no key"),
    ],
)  # fmt: skip
def test_keys_that_there_are_not_are_refused(key: str, says: str) -> None:
    with pytest.raises(KeysRefused, match=says):
        remapped({"zoom": key})


@pytest.mark.parametrize(
    ("key", "name"),
    [("F5", "f5"), ("slash", "/"), ("comma", ","), ("/", "/"), ("R", "R"), (" PageUp ", "pageup"), ("ö", "ö"),
     ("left_square_bracket", "["), ("ctrl+Left", "ctrl+left"), ("space", "space")],
)  # fmt: skip
def test_a_key_has_one_name(key: str, name: str) -> None:
    assert canonical(key) == name
    assert canonical(name) == name
