"""What the keys of the home screen do: one function an action, under the action's name in the table of `keys`."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from workbench.errors import NothingKept, WorkbenchError
from workbench.screens import choices, editor
from workbench.screens.finder import Finder
from workbench.screens.home_desk import PutAway, Question
from workbench.screens.keys import by_id
from workbench.session import folder
from workbench.session.faults import FaultyFile
from workbench.session.fresh import safe_file_name

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    from workbench.plan.model import Plan
    from workbench.screens.home_desk import HomeDesk

__all__ = ["paste", "press", "run"]

FILTER = "filter"


def run(desk: HomeDesk, action_id: str, told: str = "") -> None:
    """Do what an action of the table says; `told` is the form of an export."""
    desk.said = ""
    desk.held = True
    if desk.touring:
        desk.touring = False
        if action_id in {"back", "tour", "open"}:
            return
    if told:
        export(desk, told)
    else:
        _ACTIONS[action_id](desk)


def move(desk: HomeDesk, by: int) -> None:
    """The cursor so many rows down."""
    desk.step_to(desk.place + by)


def open_(desk: HomeDesk) -> None:
    """Show the batch under the cursor."""
    desk.opening = desk.at
    if desk.at is None:
        desk.said = f"no batch to open: {desk.key('new')} makes one"


def ask(desk: HomeDesk, about: str) -> None:
    """Open the line for the name of a new batch, or for words to filter by."""
    if about not in (FILTER, "new") and desk.item is None:
        desk.said = f"no batch here: {desk.key('new')} makes one"
        return
    if about == "from-kept":
        try:
            _grown(desk, "")
        except WorkbenchError as wrong:
            desk.said = _said(desk, wrong)
            return
    start = desk.words if about == FILTER else desk.item.name if about == "rename" and desk.item else ""
    desk.question = Question(about, editor.start(start))


def archive(desk: HomeDesk) -> None:
    """Put the batch under the cursor away."""
    if (item := desk.item) is None:
        desk.said = "no batch to put away"
        return
    try:
        desk.put_away.append(PutAway(folder.archive(item.path), item.path))
    except WorkbenchError as wrong:
        desk.said = _said(desk, wrong)
        return
    desk.said = f"{item.path.name} put away; {desk.key('undo')} brings it back"
    desk.look()


def undo(desk: HomeDesk) -> None:
    """Bring back what was put away last."""
    if not desk.put_away:
        desk.said = "nothing was put away"
        return
    archived, path = desk.put_away[-1]
    try:
        folder.bring_back(archived, path)
    except WorkbenchError as wrong:
        desk.said = _said(desk, wrong)
        if not archived.exists():  # somebody else has done something with it
            desk.put_away.pop()
        return
    desk.put_away.pop()
    _show(desk, path)
    desk.said = f"{path.name} is back"


def show_help(desk: HomeDesk) -> None:
    """What can be done here, as a list to choose from."""
    desk.finder = Finder(choices.of_home(desk.actions))


def show_all(desk: HomeDesk) -> None:
    """The same, the forms of an export, and the themes."""
    exports, themes = choices.of_export(desk.actions), choices.of_themes(desk.themes())
    desk.finder = Finder((*choices.of_home(desk.actions), *exports, *themes))


def show_exports(desk: HomeDesk) -> None:
    """The forms in which the plan of the batch under the cursor can be written to a file."""
    desk.finder = Finder(choices.of_export(desk.actions))


def export(desk: HomeDesk, form: str) -> None:
    """The plan of the batch under the cursor in a form, into a file beside it."""
    from workbench.screens.exporting import put

    if desk.at is None:
        desk.said = f"no batch here: {desk.key('new')} makes one"
        return
    try:
        plan, _ = _planned(desk)
        desk.said = put(desk.at, *desk.in_form(form, plan, desk.at.name), desk.exported)
    except WorkbenchError as wrong:
        desk.said = _said(desk, wrong)


def show_tour(desk: HomeDesk) -> None:
    """What all of this is for, as a page."""
    desk.touring = True


def back(desk: HomeDesk) -> None:
    """All batches again."""
    desk.words = ""
    desk.sift()


# ---- typing ---------------------------------------------------------------------------------------------------


def press(desk: HomeDesk, question: Question, key: str, character: str | None) -> None:
    """A key while the line is open. The arrows move the cursor while a filter is typed."""
    if key == "escape":
        desk.question = None
        if question.about == FILTER:
            back(desk)
    elif key == "enter":
        _keep(desk, question)
    elif key in {"up", "down"} and question.about == FILTER:
        move(desk, 1 if key == "down" else -1)
    else:
        _set(desk, question, editor.press(question.line, key, character))


def paste(desk: HomeDesk, question: Question, text: str) -> None:
    """Text pasted while the line is open."""
    _set(desk, question, question.line.insert(text))


def _set(desk: HomeDesk, question: Question, line: editor.Line | None) -> None:
    if line is None:
        return
    question.line, question.error = line, ""
    if question.about == FILTER:
        desk.words = line.text
        desk.sift()


def _keep(desk: HomeDesk, question: Question) -> None:
    """Do what the name was asked for. What is wrong is said, and the line stays."""
    name = question.line.text.strip()
    if name and question.about != FILTER:
        try:
            path = _MAKES[question.about](desk, name)
        except WorkbenchError as wrong:
            question.error = _said(desk, wrong)
            return
        _show(desk, path)
        desk.opening = path if question.about == "new" else None
        made = f"{path.name} made; {desk.key('open')} opens it"
        desk.said = f"it is {path.name} now" if question.about == "rename" else made
    desk.question = None


def _said(desk: HomeDesk, wrong: WorkbenchError) -> str:
    """What is wrong, in a line that has no room for the path of the folder."""
    if isinstance(wrong, FaultyFile):
        return f"its file has a fault in line {wrong.faults[0]}"
    if isinstance(wrong, NothingKept):
        tells = by_id(desk.of_batch, "next-batch").key
        return f"this batch keeps nothing to grow from so far: {desk.key('open')} opens it, {tells} there tells more"
    return str(wrong).replace(f"{desk.index.folder}/", "")


def _show(desk: HomeDesk, path: Path) -> None:
    """A file that is there now, under the cursor, whatever the filter was."""
    desk.words = ""
    desk.look()
    desk.index.read_one(path)
    desk.at = path
    desk.recount()


def _new(desk: HomeDesk, name: str) -> Path:
    return _made(desk, name, desk.fresh(name))


def _copy(desk: HomeDesk, name: str) -> Path:
    from workbench.session.renaming import copied_text

    return _made(desk, name, copied_text(_source(desk), name, desk.now))


def _from_kept(desk: HomeDesk, name: str) -> Path:
    return _made(desk, name, _grown(desk, name))


def _grown(desk: HomeDesk, name: str) -> str:
    """The text of a batch grown from what this one keeps. Raises NothingKept, which says what to set."""
    from workbench.plan.next_batch import next_text

    plan, data = _planned(desk)
    return next_text(plan, data, name, _source(desk).name, tz=desk.habits.tz)


def _planned(desk: HomeDesk) -> tuple[Plan, Mapping[str, Any]]:
    """The plan of the batch under the cursor, and what its file says. Raises FileRefused, FaultyFile."""
    from workbench.plan.derive import derive
    from workbench.session.load import load
    from workbench.session.read import sound

    source = _source(desk)
    loaded = load(source)
    outcome = sound(loaded.data, loaded.text, source.name)
    return derive(outcome.session, desk.now, desk.habits), loaded.data


def _rename(desk: HomeDesk, name: str) -> Path:
    from workbench.session.renaming import rename

    return rename(_source(desk), name)


def _source(desk: HomeDesk) -> Path:
    return desk.at if desk.at is not None else desk.index.folder


def _made(desk: HomeDesk, name: str, text: str) -> Path:
    path = desk.index.folder / safe_file_name(name)
    folder.make(path, text)
    return path


_MAKES: dict[str, Callable[[HomeDesk, str], Path]] = {
    "new": _new,
    "copy": _copy,
    "from-kept": _from_kept,
    "rename": _rename,
}

_ACTIONS: dict[str, Callable[[HomeDesk], None]] = {
    "open": open_,
    FILTER: lambda desk: ask(desk, FILTER),
    "new": lambda desk: ask(desk, "new"),
    "copy": lambda desk: ask(desk, "copy"),
    "from-kept": lambda desk: ask(desk, "from-kept"),
    "rename": lambda desk: ask(desk, "rename"),
    "archive": archive,
    "undo": undo,
    "export": show_exports,
    "help": show_help,
    "actions": show_all,
    "tour": show_tour,
    "up": lambda desk: move(desk, -1),
    "down": lambda desk: move(desk, 1),
    "page-up": lambda desk: move(desk, 1 - desk.height),
    "page-down": lambda desk: move(desk, desk.height - 1),
    "first": lambda desk: desk.step_to(0),
    "last": lambda desk: desk.step_to(len(desk.rows)),
    "back": back,
}
