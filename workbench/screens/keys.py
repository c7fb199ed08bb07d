"""Every action in one table: bindings, the bottom line, the help page and the palette are made from it."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["ACTIONS", "PANES", "Action", "named", "of_pane"]

PANES = ("Yeast", "Wort", "Steps", "Doses", "Clock", "Day")


@dataclass(frozen=True, slots=True)
class Action:
    """`id` names it in the config and in `actions`; `keys` are Textual's names, the first is the one shown.

    `word` stands in the bottom line (left out if empty), `help` on the help page. `panes`: where it does
    anything, counting from 0.
    """

    id: str
    keys: tuple[str, ...]
    word: str
    help: str
    panes: frozenset[int] = frozenset(range(6))
    shown: str = ""

    @property
    def key(self) -> str:
        """The key as the bottom line and the help page write it."""
        return self.shown or self.keys[0]


_LISTS = frozenset({0, 2})  # panes with something to add and remove
_STEPS = frozenset({1, 2, 3})  # panes that consider one feeding at a time

ACTIONS = (
    Action("edit", ("enter",), "edit", "edit the value under the cursor", frozenset(range(3)), "⏎"),
    Action("turn", ("space",), "", "the next word, where a value is one of a few", frozenset(range(3)), "space"),
    Action("add", ("+", "insert"), "add", "add a lot (Yeast) or a feeding (Steps)", _LISTS),
    Action("remove", ("x", "delete"), "remove", "remove the lot or the feeding under the cursor", _LISTS),
    Action("earlier", ("<", "shift+up"), "", "move the lot or the feeding up", _LISTS, "<"),
    Action("later", (">", "shift+down"), "", "move the lot or the feeding down", _LISTS, ">"),
    Action("step-back", ("[",), "", "consider the feeding before", _STEPS),
    Action("step-on", ("]",), "step", "consider the next feeding", _STEPS),
    Action("measure", ("m",), "measure", "note a gravity just measured: 1.0335 24 °C", frozenset({1})),
    Action("default", ("backspace",), "", "leave the value out again, as worked out or usual", frozenset(range(3)), "⌫"),
    Action("why", ("w",), "why", "the reason of the figure under the cursor: formula, source, doubts"),
    Action("undo", ("u",), "undo", "take the last change back"),
    Action("redo", ("r", "ctrl+r"), "", "make it again"),
    Action("zoom", ("z",), "zoom", "this pane over the whole screen, and back"),
    Action("units", ("v",), "", "litres and grams, or gallons and ounces"),
    Action("help", ("?", "f1"), "help", "this page"),
    Action("quit", ("q",), "quit", "leave; all is saved already"),
    Action("next-pane", ("tab", "right"), "", "the next pane", shown="Tab →"),
    Action("last-pane", ("shift+tab", "left"), "", "the pane before", shown="←"),
    *(Action(f"pane-{i}", (str(i),), "", f"pane {i} {name}") for i, name in enumerate(PANES, 1)),
    Action("up", ("up", "k"), "", "the row above", shown="↑ k"),
    Action("down", ("down", "j"), "", "the row below", shown="↓ j"),
    Action("first", ("home", "pageup"), "", "the first row", shown="Home"),
    Action("last", ("end", "pagedown"), "", "the last row", shown="End"),
    Action("back", ("escape",), "", "leave this page, or the whole-screen pane", shown="Esc"),
)


def named(action_id: str) -> Action:
    """The action of that id. Raises KeyError if there is none."""
    for action in ACTIONS:
        if action.id == action_id:
            return action
    raise KeyError(action_id)


def of_pane(pane: int) -> list[Action]:
    """The actions that do something in a pane, in the order of the table."""
    return [action for action in ACTIONS if pane in action.panes]
