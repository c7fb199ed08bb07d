"""Every action in one table: what a key does, the bottom line, the lists of `?` and `:` are made from it."""

from __future__ import annotations

from itertools import combinations
from typing import TYPE_CHECKING, NamedTuple

from workbench.screens.keynames import KeysRefused, canonical

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

__all__ = ["ACTIONS", "HOME_ACTIONS", "PANES", "Action", "KeysRefused", "by_id", "by_key", "remapped"]

PANES = ("Yeast", "Wort", "Steps", "Doses", "Clock", "Day")


class Action(NamedTuple):
    """`id` names it in the config and in `actions`; `keys` are those of `keynames`, the first is the one shown.

    `name` says it in a word or three, in the lists of actions; `help` in a line. `word` stands in the bottom line (left
    out if empty) of the panes `told`, or of all in which it does anything (`panes`, counting from 0).
    """

    id: str
    keys: tuple[str, ...]
    word: str
    help: str
    panes: frozenset[int] = frozenset(range(6))
    shown: str = ""
    told: frozenset[int] | None = None
    name: str = ""

    @property
    def worded(self) -> frozenset[int]:
        """The panes whose bottom line has it."""
        return self.panes if self.told is None else self.told

    @property
    def key(self) -> str:
        """The key as the bottom line and the lists write it."""
        return self.shown or self.keys[0]

    @property
    def called(self) -> str:
        """Its name; that of the bottom line, or its id, where it has none of its own."""
        return self.name or self.word or self.id.replace("-", " ")


_EDITED = frozenset(range(6))  # panes with something to edit
_LISTS = frozenset({0, 2})  # panes with something to add and remove
_STEPS = frozenset({1, 2, 3})  # panes that consider one feeding at a time
_FLASKS = frozenset({1, 2, 3, 4})  # panes about what is in the flask
_TABLES = frozenset({0, 1, 2, 4})  # panes with something to take out
_BEGINS = frozenset({2, 4, 5})  # panes that look at feedings in time
_CLOCK, _DAY = frozenset({4}), frozenset({5})

ACTIONS = (
    Action("edit", ("enter",), "edit", "edit the value under the cursor", shown="⏎"),
    Action("turn", ("space",), "", "the next word, where a value is one of a few", _EDITED, name="next word"),
    Action("add", ("+", "insert"), "add", "add a lot (Yeast) or a feeding (Steps)", _LISTS),
    Action("remove", ("x", "delete"), "remove", "remove the lot, feeding or reading under the cursor", _TABLES),
    Action("earlier", ("<", "shift+up"), "", "move the lot or the feeding up", _LISTS, "<", name="move up"),
    Action("later", (">", "shift+down"), "", "move the lot or the feeding down", _LISTS, ">", name="move down"),
    Action("step-back", ("[",), "", "consider the feeding before", _STEPS, name="feeding before"),
    Action("step-on", ("]",), "", "consider the next feeding", _STEPS, name="next feeding"),
    Action(
        "plan",
        ("p",),
        "plan",
        "ways to meet the need: the planner's and others, Enter takes one",
        told=frozenset({2}),
    ),
    Action("another-hour", ("h",), "", "pitching, or the feeding under the cursor, moved: what follows"),
    Action(
        "lock",
        ("l",),
        "",
        "it stands, or is free, when the planner fills in the others",
        frozenset({2}),
        name="lock the feeding",
    ),
    Action(
        "measure",
        ("m",),
        "measure",
        "note what was just measured: a gravity, 1.0335 24 °C, or a volume",
        told=frozenset({1, 3}),
    ),
    Action("next-batch", ("n",), "", "make the file of the next batch, from what this one keeps", _LISTS),
    Action("new-batch", ("N",), "", "a new batch beside this one, with your usual flask and wort"),
    Action("begin", ("s",), "", "yeast in now: stamps the next feeding as begun", _BEGINS, name="yeast in now"),
    Action(
        "done",
        ("d",),
        "done",
        "the task under the cursor (Day), or the next one, is done",
        told=_DAY,
        name="task done",
    ),
    Action("skip", ("x",), "skip", "leave this task out; if it is done: it is not, after all", _DAY, name="skip task"),
    Action("boil", ("b",), "boil", "start the boil, hold it when foam climbs, boil on", told=_CLOCK, name="boil, hold"),
    Action("end", ("e",), "end", "end what runs: the boil, or the cooling", told=_CLOCK, name="end boil, cooling"),
    Action(
        "temperature",
        ("t",),
        "temp",
        "a temperature just read; before it that of the bath",
        told=_CLOCK,
        name="temperature read",
    ),
    Action("longer", ("+",), "", "boil a minute longer", _CLOCK, name="boil longer"),
    Action("shorter", ("-",), "", "boil a minute less", _CLOCK, name="boil shorter"),
    Action("lost", ("o",), "", "wort boiled over or was spilt: how much", name="wort lost"),
    Action("note", ("a",), "note", "a note, stamped into the file", told=_DAY),
    Action(
        "default", ("backspace",), "", "leave the value out again, as worked out or usual", shown="⌫", name="leave out"
    ),
    Action("why", ("w",), "why", "why the value under the cursor is what it is, and how sure"),
    Action("undo", ("u",), "undo", "take the last change back"),
    Action("redo", ("r", "ctrl+r"), "", "make again the change that was taken back"),
    Action("take-over", ("T",), "", "edit this batch here: another terminal that does saves and leaves"),
    Action("decide", ("D",), "", "both values of what was changed here and elsewhere: Enter takes one"),
    Action("zoom", ("z",), "zoom", "this pane over the whole screen, and back", name="whole screen"),
    Action(
        "picture",
        ("f",),
        "",
        "levels, limits and foam to scale, and how deep its bath may be",
        _FLASKS,
        name="flask large",
    ),
    Action("plain", ("y",), "", "this pane as plain lines of text, to be read out or copied", name="plain text"),
    Action("units", ("v",), "", "litres and grams, or gallons and ounces"),
    Action("export", ("E",), "", "the plan into a file: text, Markdown, JSON, calendar, table"),
    Action("theme", ("C",), "", "the next theme: other colours, until you leave"),
    Action("help", ("?", "f1"), "help", "the keys of this pane: type to find one, Enter does it", name="keys"),
    Action("actions", (":", "ctrl+p"), "", "everything that can be done, of all panes", name="all actions"),
    Action("mouse", ("g",), "", "the mouse for the program, or for selecting and copying text", name="mouse on, off"),
    Action("tour", ("i",), "", "a tour on one page: the panes, five keys, the order of a day"),
    Action("quit", ("q",), "quit", "leave; all is saved already"),
    Action("shell", ("ctrl+z",), "", "to the shell for a while; fg comes back", shown="^z"),
    Action("next-pane", ("tab", "right"), "", "the next pane", shown="Tab →"),
    Action("last-pane", ("shift+tab", "left"), "", "the pane before", shown="←", name="pane before"),
    *(Action(f"pane-{i}", (str(i),), "", f"pane {i}, {name}", name=name) for i, name in enumerate(PANES, 1)),
    Action("up", ("up", "k"), "", "the row above", shown="↑ k"),
    Action("down", ("down", "j"), "", "the row below", shown="↓ j"),
    Action("page-up", ("pageup",), "", "ten rows up", shown="PgUp"),
    Action("page-down", ("pagedown",), "", "ten rows down", shown="PgDn"),
    Action("first", ("home",), "", "the first row", shown="Home"),
    Action("last", ("end",), "", "the last row", shown="End"),
    Action("back", ("escape",), "", "leave this page, or the whole-screen pane", shown="Esc"),
)

HOME_ACTIONS = (
    Action("open", ("enter",), "open", "open the batch under the cursor", shown="⏎"),
    Action("filter", ("/",), "filter", "only batches with these words in name, file or state; Esc ends it"),
    Action("new", ("n",), "new", "a new batch, with your usual flask and wort", name="new batch"),
    Action("copy", ("c",), "copy", "a copy under another name, without readings and stamps"),
    Action("from-kept", ("f",), "from kept", "a new batch, grown from what this one keeps"),
    Action("rename", ("R",), "", "another name for this batch and its file"),
    Action("archive", ("a",), "archive", "put this batch away, into the folder archive beside the others"),
    Action("undo", ("u",), "undo", "bring back what was put away last"),
    Action("export", ("E",), "", "the plan into a file: text, Markdown, JSON, calendar, table"),
    Action("theme", ("C",), "", "the next theme: other colours, until you leave"),
    Action("help", ("?", "f1"), "help", "what can be done here: type to find it, Enter does it", name="keys"),
    Action("actions", (":", "ctrl+p"), "", "the same list, exports and themes", name="all actions"),
    Action("mouse", ("g",), "", "the mouse for the program, or for selecting and copying text", name="mouse on, off"),
    Action("tour", ("i",), "", "a tour on one page: the panes, five keys, the order of a day"),
    Action("quit", ("q",), "quit", "leave"),
    Action("shell", ("ctrl+z",), "", "to the shell for a while; fg comes back", shown="^z"),
    Action("up", ("up", "k"), "", "the batch above", shown="↑ k"),
    Action("down", ("down", "j"), "", "the batch below", shown="↓ j"),
    Action("page-up", ("pageup",), "", "a screen up", shown="PgUp"),
    Action("page-down", ("pagedown",), "", "a screen down", shown="PgDn"),
    Action("first", ("home",), "", "the first batch", shown="Home"),
    Action("last", ("end",), "", "the last batch", shown="End"),
    Action("back", ("escape",), "", "leave this list, or show all batches again", shown="Esc"),
)
"""What can be done on the home screen; an action that a batch has too has its name and its keys there."""


def by_id(actions: Iterable[Action], action_id: str) -> Action:
    """The action of that id, which is there."""
    return next(action for action in actions if action.id == action_id)


def by_key(actions: tuple[Action, ...], key: str, pane: int = 0) -> str:
    """The id of the action that a key does in a pane; nothing where it does nothing."""
    return next((action.id for action in actions if key in action.keys and pane in action.panes), "")


def remapped(wanted: Mapping[str, str], table: tuple[Action, ...] = ACTIONS) -> tuple[Action, ...]:
    """A table with the brewer's own keys, `{"undo": "u,ctrl+u"}` by action.

    Raises KeysRefused for an action that there is not, for a key that there is not or that does not reach every
    program, and for one that two actions of one pane would share.
    """
    unknown = wanted.keys() - {action.id for action in (*ACTIONS, *HOME_ACTIONS)}
    if unknown:
        raise KeysRefused(f"no action is called {min(unknown)!r}")
    own = {name: tuple(map(canonical, keys.split(","))) for name, keys in wanted.items()}
    actions = tuple(action._replace(keys=own[action.id], shown="") if action.id in own else action for action in table)
    for first, second in combinations(actions, 2):
        shared = set(first.keys) & set(second.keys)
        if shared and first.panes & second.panes:
            raise KeysRefused(f"{shared.pop()!r} would both {first.id!r} and {second.id!r}: give each its own key")
    return actions
