"""Lines that ask for something that has no row of its own: a reading, the bath, wort that was lost, a note."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from workbench.errors import QuantityError
from workbench.plan import happened
from workbench.screens import editor
from workbench.screens.changes import adopted, event, reading
from workbench.screens.desk import DAY_PANES, Ask, Entry
from workbench.screens.written import written
from workbench.session.edits import Several
from workbench.units.kinds import VOLUME
from workbench.units.mark import Mark
from workbench.units.parse import parse
from workbench.units.show import show
from workbench.units.when import local

if TYPE_CHECKING:
    from workbench.plan.model import Moment
    from workbench.screens.desk import Desk
    from workbench.session.edits import AddTable, Edit

__all__ = ["ask_bath", "ask_heat_off", "ask_lost", "ask_note", "ask_temperature", "keep_all", "measure", "open_line"]


def open_line(desk: Desk, ask: Ask) -> None:
    """Open the line; what it notes is stamped with this instant, the first key."""
    if desk.store.read_only:  # before anything is typed in vain
        desk.said = desk.store.read_only
        return
    desk.entry = Entry("", editor.start(""), "", desk.told(ask.means), ask=ask, at=desk.clock())


def keep_all(desk: Desk, *edits: Edit) -> None:
    """All of them as one change. Raises EditRefused."""
    desk.store.apply(adopted(desk, edits[0] if len(edits) == 1 else Several(edits)))


def measure(desk: Desk, task: Moment | None = None) -> None:
    """A gravity or a volume just measured: of the feeding of `task`, done with it, else of the one at hand."""
    if not desk.plan.steps:
        desk.said = f"no feeding to measure yet: {desk.key('add')} in pane 3 adds one"
        return
    step = task.step if task is not None else _at_hand(desk)
    means = "gravity as read, the sample's temperature: 1.0335 24 °C; 8.7 °Bx; or 1.25 L"

    def keep(text: str, at: Mark) -> str:
        told = _measured(desk, step, text, at)
        done = () if task is None else (event(desk, "task-done", step, at, task=task.name),)
        keep_all(desk, told, *done)
        return ""

    open_line(desk, Ask("read", means, keep))


def _at_hand(desk: Desk) -> int:
    """The number of the feeding that a key is about: the one considered, or where time runs the one that is worked on.

    That is the one that grows, until anything has happened to the next.
    """
    clock = desk.plan.clock
    if desk.pane not in DAY_PANES or clock is None:
        return desk.step + 1
    growing = clock.growth
    return clock.step if growing is None or happened.anything(desk.plan.session, clock.step) else growing.step


def _measured(desk: Desk, step: int, text: str, at: Mark) -> AddTable:
    """The reading. Raises QuantityError."""
    if _is_volume(text):
        return reading(desk, "volume", step, text, at)
    gravity, temperature = _parted(text)
    kind = "brix" if gravity.lower().endswith(("bx", "brix")) else "gravity"
    value = written(desk, "reading.0.value", gravity, kind=kind)
    of_sample = {"temperature": written(desk, "reading.0.temperature", temperature)} if temperature else {}
    return reading(desk, kind, step, value, at, **of_sample)


def _is_volume(text: str) -> bool:
    """Whether it is a volume with its unit."""
    try:
        parse(text, VOLUME)
    except QuantityError:
        return False
    return text[-1:].isalpha()


def _parted(text: str) -> tuple[str, str]:
    """`1.0335 24 °C` in its two halves; the gravity may have a unit of its own, as in `8.5 °P 24 °C`."""
    words = text.replace(" at ", " ").split()
    unit = len(words) > 1 and not words[1][0].isdigit() and not words[1].startswith("-")
    cut = 2 if unit else 1
    return " ".join(words[:cut]), " ".join(words[cut:])


def ask_bath(desk: Desk, step: int) -> None:
    """The temperature of the bath as the wort goes in: the cool-down begins, even where it is not known."""

    def keep(text: str, at: Mark) -> str:
        bath = {"temperature": written(desk, "event.0.temperature", text)} if text else {}
        keep_all(desk, event(desk, "cool-on", step, at, **bath))
        reads, ends = desk.key("temperature"), desk.key("end")
        return f"cooling: mouth covered, stir the bath; {reads} reads the wort, {ends} ends it"

    means = "temperature of the bath round the flask: ice water 0 to 4 °C"
    open_line(desk, Ask("bath", means, keep, may_be_empty=True))


def ask_temperature(desk: Desk) -> None:
    """A temperature just read: of the working starter, or of the wort in its bath, once the bath's own is known."""
    clock = desk.plan.clock
    if clock is None or clock.pitched is not None:
        none = f"no feeding to read yet: {desk.key('add')} in pane 3 adds one"
        desk.said = none if clock is None else "nothing to read now"
        return
    session, step = desk.plan.session, clock.step
    if clock.growth is not None and not happened.anything(session, step):
        step = clock.growth.step
    if happened.begun(session, step) is None and clock.cool is None:
        if clock.boil is not None and clock.boil.done is None:
            desk.said = f"it boils: {desk.key('end')} ends the boil, then {desk.key('temperature')} asks for the bath"
        else:
            ask_bath(desk, step)
        return

    def keep(text: str, at: Mark) -> str:
        value = written(desk, "reading.0.value", text, kind="temperature")
        keep_all(desk, reading(desk, "temperature", step, value, at))
        return ""

    open_line(desk, Ask("read", "temperature of the wort, stirred round, by a clean thermometer", keep))


def ask_lost(desk: Desk) -> None:
    """Wort lost just now, over the rim or otherwise."""
    clock = desk.plan.clock
    if clock is None or clock.boil is None:
        desk.said = "nothing has boiled yet that could be lost"
        return
    there_l = desk.plan.steps[clock.step - 1].wort_l.value or 0.0

    def keep(text: str, at: Mark) -> str:
        lost = written(desk, "event.0.volume", text)
        if parse(str(lost), VOLUME) >= there_l:
            raise QuantityError(f"{text} is more than there is", f"there are {show(there_l, VOLUME, desk.system)}")
        keep_all(desk, event(desk, "lost", clock.step, at, volume=lost))
        return "noted: its extract is gone with it; flame out? shut the valve, air the room"

    open_line(desk, Ask("lost", "wort that boiled over or was spilt, about: 100 mL", keep))


def ask_note(desk: Desk) -> None:
    """A note, stamped into the file."""

    def keep(text: str, at: Mark) -> str:
        keep_all(desk, event(desk, "note", 0, at, text=text))
        return "noted"

    open_line(desk, Ask("note", "anything worth keeping: how it smells, what went otherwise", keep))


def ask_heat_off(desk: Desk) -> None:
    """When the heat went off, of a boil that ran while nobody was told: the clock is held from then on."""
    clock = desk.plan.clock
    if clock is None or clock.boil is None or clock.boil.since is None:
        return
    since = clock.boil.since

    def keep(text: str, _at: Mark) -> str:
        off = written(desk, "event.0.at", text)
        began = f"{local(since.at, desk.tz):%H:%M}"
        if not isinstance(off, datetime) or not since.at.replace(second=0) <= off <= desk.now:
            raise QuantityError(f"{text} is not between {began} and now", f"the boil began at {began}")
        keep_all(desk, event(desk, "boil-hold", clock.step, Mark(max(since.at, off))))
        return f"held from then on: {desk.key('boil')} boils on, {desk.key('end')} ends it"

    open_line(desk, Ask("off at", "when the heat went off: 15:40, 20 min ago", keep))
