"""The lines around the panes: the batch and what comes next on top, the panes' names, the keys at the bottom."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.panes.digits import clock_text
from workbench.panes.figures import shown, span
from workbench.panes.glyphs import plain
from workbench.panes.spans import clean, fit, join, pad, turn, width
from workbench.plan.clock import LAST_MINUTE_S
from workbench.screens import drawing, following
from workbench.screens.desk import CLOCK, DAY, STEPS
from workbench.screens.keys import PANES
from workbench.units.when import local, moment, until

if TYPE_CHECKING:
    from workbench.panes.spans import Span, Spans
    from workbench.plan.model import Moment
    from workbench.screens.desk import Desk, Entry

__all__ = ["bottom", "rail", "tail", "top"]

_TAKE = "take"  # what Enter does with a way to meet the need, or one of two values; as long as the word it stands for


def rail(desk: Desk, cells: int) -> list[Spans]:
    """The names of the panes, the chosen one marked."""
    spans: list[Span] = [(" ", "text")]
    for index, name in enumerate(PANES):
        text = f" {index + 1} {name}{drawing.alarm(desk, index)} "
        spans += [(text, "tag" if index == desk.pane else "dim"), (" ", "text")]
    return [fit(join(spans), cells, desk.glyphs.cut)]


def top(desk: Desk, cells: int, height: int) -> list[Spans]:
    """The batch, what comes next or is missing, when the yeast is pitched, need and outlook; in one line or two."""
    batch = clean(desk.plan.session.batch.name or desk.store.path.stem)
    name: Spans = ((f" {plain(batch, desk.glyphs)}", "text_"), (" (scratch copy)" if desk.demo else "", "dim_"))
    sharing = desk.store.sharing
    in_sight = height == 1 or desk.pane == CLOCK  # the clock itself tells the seconds then
    then = _unsaved(desk) or _next(desk, in_sight=in_sight)
    if sharing.stuck:
        then = (("CHANGED ELSEWHERE ", "danger_"), (plain(clean(sharing.stuck), desk.glyphs), "text_"))
    if height > 1:
        below: Spans = ((" ", "dim_"), *then)
        right = following.held(desk) if sharing.follows else _outlook(desk)
        return [_sides(name, right, cells, desk), _sides(below, () if sharing.stuck else _pitch(desk), cells, desk)]
    left: Spans = (*name, ("   ", "dim_"), *then)
    if sharing.follows or sharing.stuck:
        return [_sides(left, following.held(desk) if sharing.follows else (), cells, desk)]
    right = (*_pitch(desk), ("   ", "dim_"), *_outlook(desk))
    if width(left) + width(right) + 4 > cells:
        right = (*_pitch(desk, brief=True), ("   ", "dim_"), *_outlook(desk))
    return [_sides(left, right, cells, desk)]


def _unsaved(desk: Desk) -> Spans:
    """Why not all is on the disk, without which file: there is but one, and little room."""
    why = (desk.store.saver.problem or "").rpartition(" could not be saved: ")[2]
    return ((f"NOT SAVED: {plain(why, desk.glyphs)}", "danger_"),) if why else ()


def _sides(left: Spans, right: Spans, cells: int, desk: Desk) -> Spans:
    """Something on the left, cut to what the right leaves."""
    room = max(0, cells - width(right) - 4)
    return join((*pad(fit(left, room, desk.glyphs.cut), room + 3, "dim_"), *right))


def _next(desk: Desk, *, in_sight: bool) -> Spans:
    """What matters now: what runs, what others did to the file, what is missing, else what is to be done next."""
    if desk.alarm:
        return (("RING ", "warning_"), (plain(desk.alarm, desk.glyphs), "text_"))
    if first := _running(desk, in_sight=in_sight) or following.told(desk):
        return first
    wanted = [w for w in desk.plan.warnings if w.code.startswith("needs-")]
    if wanted:
        return (("NEXT ", "accent_"), (plain(wanted[0].text, desk.glyphs), "text_"))
    if any(w.code == "too-late" for w in desk.plan.warnings) and not _under_way(desk):
        return (("LATE ", "danger_"), ("this plan was to begin before now: p shows what is open", "text_"))
    item = desk.plan.next
    if item is None:
        return (("nothing more planned", "dim_"),)
    return (("NEXT ", "key_"), (f"{moment(item.at, desk.plan.now, desk.tz)} {_task(desk, item)}", "text_"))


def _under_way(desk: Desk) -> bool:
    """Whether the wort of the feeding that comes next is being made, however late."""
    coming = desk.plan.next
    return coming is not None and any(m.stamped is not None and m.step == coming.step for m in desk.plan.moments)


def _task(desk: Desk, item: Moment) -> str:
    """The task with the figures it needs: `weigh powder into cold water: 149 g, 1.59 L`."""
    figures = [
        str(shown(needed.value, needed.unit, desk.scene)) for _, needed in item.figures if needed.value is not None
    ]
    return plain(f"{item.what}: {', '.join(figures)}" if figures else item.what, desk.glyphs)


def _running(desk: Desk, *, in_sight: bool) -> Spans:
    """The boil or the cool-down, while one runs: what it needs of the brewer just now.

    In whole minutes where the clock is `in_sight`.
    """
    clock, live = desk.plan.clock, desk.live
    if clock is None or live is None:
        return ()
    told = _minutes if in_sight else clock_text
    of = f"{told(live.boiled_s)} of {told(clock.planned_s)}"
    if live.boil == "held":
        return (("HELD ", "warning_"), (f"{told(live.held_s)}, boiled {of}: b boils on", "text_"))
    if live.boil == "on" and live.left_s <= 0.0:
        return ((f"BOILED {told(live.boiled_s)}: heat off, e ends it", "danger_"),)
    if live.boil == "on":
        role, says = ("warning_", "last minute") if live.left_s <= LAST_MINUTE_S else ("text_", "b holds it")
        return (("BOIL ", "accent_"), (of, role), (f"  {says}", "dim_"))
    cool = clock.cool
    if cool is None or cool.done is not None:
        return ()
    wort = "" if live.wort_c is None else f"{shown(float(round(live.wort_c)), '°C', desk.scene)} by now, "
    by = "t reads it" if cool.eta_at is None else f"cool at {local(cool.eta_at, desk.tz):%H:%M}"
    return (("COOLING ", "accent_"), (plain(f"{wort}{by}", desk.glyphs), "text_"))


def _minutes(seconds: float) -> str:
    return f"{int(seconds // 60.0)} min"


def _pitch(desk: Desk, *, brief: bool = False) -> Spans:
    at, now = desk.plan.session.batch.pitch_at, desk.plan.now
    if at is None:
        return (("pitch ", "dim_"), ("when?", "accent_"))
    return (("pitch ", "dim_"), (moment(at, now, desk.tz) + ("" if brief else f", {until(at, now)}"), "text_"))


def _outlook(desk: Desk) -> Spans:
    need, final = desk.plan.need.cells_b, desk.plan.final
    role = {True: "fine_", False: "warning_", None: "text_"}[final.meets_need]
    has = shown(final.pitched_b.value, "B", desk.scene)
    likely = span(final.pitched_b, desk.scene)[0]
    return (
        ("need ", "dim_"),
        (str(shown(need.value, "B", desk.scene)), "text_"),
        (f" {desk.glyphs.note} will have ", "dim_"),
        (str(has), role),
        (f" {likely}" if likely else "", "dim_"),
    )


def bottom(desk: Desk, cells: int) -> list[Spans]:
    """What can be pressed; while typing, how to end it and what the value means; after an action, what it did."""
    if desk.entry is not None:
        return [fit(_typing(desk, desk.entry), cells, desk.glyphs.cut)]
    if desk.said:
        return [fit(((f" {plain(clean(desk.said), desk.glyphs)}", "text_"),), cells, desk.glyphs.cut)]
    shared, own = _keys(desk, desk.pane, cells)
    *first, (last, role) = join((*shared, *own))
    return [fit((*first, (last.rstrip(), role)), cells, desk.glyphs.cut)]


def tail(desk: Desk, cells: int) -> int:
    """The column of the bottom line from which it differs from pane to pane."""
    return min(width(_keys(desk, desk.pane, cells)[0]), cells - 1)


def _keys(desk: Desk, index: int, cells: int) -> tuple[Spans, Spans]:
    """What every pane has, then what this one has: so the line changes little from pane to pane, and few bytes go out.

    The gaps are the same in all panes.
    """
    for gap in (3, 2, 1):
        shared, *owns = (_words(desk, None, gap), *(_words(desk, pane, gap) for pane in range(len(PANES))))
        if width(shared) + max(map(width, owns)) - gap <= cells:
            break
    return shared, owns[index]


def _words(desk: Desk, index: int | None, gap: int) -> Spans:
    """Keys and words of the actions that only some panes have, or (None) that all have.

    Those of the pane alone are of one role: they are sent anew at each change of pane.
    """
    spans: list[Span] = [(" ", "dim_")] if index is None else []
    for action in desk.actions:
        everywhere = len(action.worded) == len(PANES)
        if action.word and (everywhere if index is None else index in action.worded and not everywhere):
            key_role, word_role = ("key_", "dim_") if index is None else ("accent_", "accent_")
            word = _TAKE if action.id == "edit" and _chooses(desk) else action.word
            spans += [(plain(action.key, desk.glyphs), key_role), (f" {word}{' ' * gap}", word_role)]
    return join(spans)


def _chooses(desk: Desk) -> bool:
    """Whether Enter takes one of several, rather than editing a value."""
    return (desk.planning and desk.pane == STEPS) or (desk.deciding and desk.pane == DAY)


def _typing(desk: Desk, entry: Entry) -> Spans:
    if entry.error:
        return turn(((f" {plain(entry.error, desk.glyphs)}", "danger"),), "_")
    keys: Spans = (
        (f" {desk.glyphs.enter}", "key_"), (" keep  ", "dim_"), ("Esc", "key_"), (" leave as it was  ", "dim_"),
    )  # fmt: skip
    turning: Spans = (("↑↓" if desk.glyphs.name == "full" else "Up/Down", "key_"), (" turn  ", "dim_"))
    means = "; ".join(text for text in (entry.units, entry.means) if text)
    return (*keys, *(turning if entry.choices else ()), (plain(means, desk.glyphs), "text_"))
