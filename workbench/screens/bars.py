"""The lines around the panes: the batch and what comes next on top, the panes' names, the keys at the bottom."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.panes.digits import clock_text
from workbench.panes.figures import about, shown, span
from workbench.panes.glyphs import plain
from workbench.panes.spans import clean, fit, join, pad, turn, width
from workbench.plan import happened
from workbench.plan.clock import LAST_MINUTE_S
from workbench.screens import drawing, finder, following, guide
from workbench.screens.desk import CLOCK, DAY, STEPS
from workbench.screens.keys import PANES
from workbench.screens.layout import part_at
from workbench.units.when import local, moment, until

if TYPE_CHECKING:
    from workbench.panes.spans import Span, Spans
    from workbench.plan.model import Moment
    from workbench.screens.desk import Desk, Entry
    from workbench.screens.keys import Action

__all__ = ["action_at", "bottom", "rail", "rail_at", "tail", "top"]

_LEAST_NAME, _MOST_NAME = 16, 40  # cells of the batch's name where it shares the one line
_TAKE = "take"  # what Enter does with a way to meet the need, or one of two values; as long as the word it stands for


def rail(desk: Desk, cells: int, beside: int | None = None) -> list[Spans]:
    """The names of the panes, the chosen one marked; with `beside` the pane that is shown beside the day's own."""
    tabs, gap = _tabs(desk, cells, beside)
    spans: list[Span] = [(" ", "text")]
    for index, text in tabs:
        role = "tag" if index == desk.pane else "text" if index == beside else "dim"
        spans += [(text, role), (gap, "text")]
    return [fit(join(spans), cells, desk.glyphs.cut)]


def _tabs(desk: Desk, cells: int, beside: int | None) -> tuple[list[tuple[int, str]], str]:
    """Each pane that is named, and what stands between the names."""
    tabs = [(index, f" {index + 1} {name}{drawing.alarm(desk, index)} ") for index, name in enumerate(PANES)]
    if beside is not None:
        tabs.pop()  # it stands over its pane
    return tabs, " " * (sum(len(text) + 1 for _, text in tabs) < cells)


def rail_at(desk: Desk, x: int, cells: int, beside: int | None = None) -> str:
    """The action of the pane whose name stands in column `x` of the rail; nothing between them."""
    tabs, gap = _tabs(desk, cells, beside)
    return part_at(((f"pane-{index + 1}", len(text) + len(gap)) for index, text in tabs), x - 1)


def top(desk: Desk, cells: int, height: int) -> list[Spans]:
    """The batch, what comes next or is missing, when the yeast is pitched, need and outlook; in one line or two."""
    batch = plain(clean(desk.plan.session.batch.name or desk.store.path.stem), desk.glyphs)
    name: Spans = ((f" {batch}", "text_"), (" (scratch copy)" * desk.demo, "dim_"))
    sharing = desk.store.sharing
    in_sight = height == 1 or desk.pane == CLOCK  # the clock itself tells the seconds then
    then = _unsaved(desk) or _next(desk, in_sight=in_sight)
    if sharing.stuck:
        then = (("CHANGED ELSEWHERE ", "danger_"), (plain(clean(sharing.stuck), desk.glyphs), "text_"))
    if height == 1:
        return [_in_one(name, then, cells, desk)]
    below: Spans = ((" ", "dim_"), *then)
    pitch = () if sharing.stuck else _pitch(desk, brief=not _fit_both(below, _pitch(desk), cells))
    right = following.held(desk) if sharing.follows else _outlook(desk)
    return [_sides(name, right, cells, desk), _sides(below, pitch, cells, desk)]


def _in_one(name: Spans, then: Spans, cells: int, desk: Desk) -> Spans:
    """All in one line. For what is next the rest is told in fewer words, and the name is cut."""
    gap: Spans = (("   ", "dim_"),)
    full, brief, outlook = _pitch(desk), _pitch(desk, brief=True), _outlook(desk)
    sharing = desk.store.sharing
    rights = [(*full, *gap, *outlook), (*brief, *gap, *outlook), (*brief, *gap, *outlook[:-1]), outlook[:-1]]
    if sharing.follows or sharing.stuck:
        rights = [following.held(desk) if sharing.follows else ()]
    least = min(width(name), _LEAST_NAME)
    right = next((right for right in rights if _fit_both((*gap, *then), right, cells - least)), rights[-1])
    room = cells - width((*gap, *then)) - width(right) - 4
    named = fit(name, min(_MOST_NAME, max(least, room)), desk.glyphs.cut)
    return _sides((*named, *gap, *then), right, cells, desk)


def _fit_both(left: Spans, right: Spans, cells: int) -> bool:
    return width(left) + width(right) + 4 <= cells


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
        return (("NEXT ", "key_"), (plain(wanted[0].text, desk.glyphs), "text_"))
    if any(w.code == "too-late" for w in desk.plan.warnings) and not _under_way(desk):
        return (("LATE ", "danger_"), (f"to begin: {desk.key('plan')} shows what can still be done", "text_"))
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
        return (("HELD ", "warning_"), (f"{told(live.held_s)}, boiled {of}: {desk.key('boil')} boils on", "text_"))
    if live.boil == "on" and live.left_s <= 0.0:
        return ((f"BOILED {told(live.boiled_s)}: heat off, {desk.key('end')} ends it", "danger_"),)
    if live.boil == "on":
        last, holds = live.left_s <= LAST_MINUTE_S, f"{desk.key('boil')} holds it"
        role, says = ("warning_", "last minute") if last else ("text_", holds)
        return (("BOIL ", "key_"), (of, role), (f"  {says}", "dim_"))
    cool = clock.cool
    if cool is None or cool.done is not None:
        return ()
    wort = "" if live.wort_c is None else f"{about(live.wort_c, '°C', desk.scene)} by now, "
    reads = f"{desk.key('temperature')} reads it"
    by = reads if cool.eta_at is None else f"cool at {local(cool.eta_at, desk.tz):%H:%M}"
    return (("COOLING ", "key_"), (plain(f"{wort}{by}", desk.glyphs), "text_"))


def _minutes(seconds: float) -> str:
    return f"{int(seconds // 60.0)} min"


def _pitch(desk: Desk, *, brief: bool = False) -> Spans:
    at, now, shelf = desk.plan.session.batch.pitch_at, desk.plan.now, desk.plan.need.shelf
    goal = "fridge " if shelf else "pitch "
    if at is None:
        return ((goal, "dim_"), ("when?", "accent_"))
    if done := happened.pitched(desk.plan.session):
        return ((goal if shelf else "pitched ", "dim_"), (moment(done, now, desk.tz), "text_"))
    return ((goal, "dim_"), (moment(at, now, desk.tz) + ("" if brief else f", {until(at, now)}"), "text_"))


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
    """What can be pressed; while typing, how to end it and what may be typed; after an action, what it did."""
    if desk.entry is not None:
        return [fit(_typing(desk, desk.entry), cells, desk.glyphs.cut)]
    if desk.finder is not None:
        return [fit(((f" {finder.about(desk.finder, desk.glyphs)}", "text_"),), cells, desk.glyphs.cut)]
    if desk.said:
        return [fit(((f" {plain(clean(desk.said), desk.glyphs)}", "text_"),), cells, desk.glyphs.cut)]
    if desk.page is not None:
        return [fit(_on_page(desk), cells, desk.glyphs.cut)]
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
    gap = _gap(desk, cells)
    return _words(desk, None, gap), _words(desk, index, gap)


def _gap(desk: Desk, cells: int) -> int:
    """Blanks between two entries, so many that the longest line has room."""
    for gap in (3, 2):
        own = max(width(_words(desk, pane, gap)) for pane in range(len(PANES)))
        if width(_words(desk, None, gap)) + own - gap <= cells:
            return gap
    return 1


def _words(desk: Desk, index: int | None, gap: int) -> Spans:
    """Keys and words of the actions that only some panes have, or (None) that all have.

    Those of the pane alone are of one role: they are sent anew at each change of pane.
    """
    spans: list[Span] = [(" ", "dim_")] if index is None else []
    for action in _told(desk, index):
        key_role, word_role = ("key_", "dim_") if index is None else ("accent_", "accent_")
        word = _TAKE if action.id == "edit" and _chooses(desk) else action.word
        spans += [(plain(action.key, desk.glyphs), key_role), (f" {word}{' ' * gap}", word_role)]
    return join(spans)


def _told(desk: Desk, index: int | None) -> list[Action]:
    """The actions that the bottom line has for a pane alone, or (None) for all."""
    told = [(action, len(action.worded) == len(PANES)) for action in desk.actions if action.word]
    return [action for action, all_ in told if (all_ if index is None else index in action.worded and not all_)]


def action_at(desk: Desk, cells: int, x: int) -> str:
    """The action whose key or word stands in column `x` of the bottom line; nothing where it says something else."""
    if desk.page is not None and not desk.said:
        return part_at(((id_, len(key + word)) for id_, key, word in _page_words(desk)), x - 1)
    gap = 0 if desk.said or desk.entry is not None else _gap(desk, cells)
    words = (
        (a.id, len(f"{plain(a.key, desk.glyphs)} {a.word}") + gap) for i in (None, desk.pane) for a in _told(desk, i)
    )
    return part_at(words, x - 1) if gap else ""


def _page_words(desk: Desk) -> list[tuple[str, str, str]]:
    """What the bottom line tells of while a page is read: the action, its key and what stands behind that."""
    told = {"back": " back  ", "up": " ", "down": " read on  ", "help": " help  ", "quit": " quit"}
    keys = {id_: plain(desk.key(id_).split()[0], desk.glyphs) for id_ in told}
    return [(id_, keys[id_], word) for id_, word in told.items()]


def _on_page(desk: Desk) -> Spans:
    spans: list[Span] = [(" ", "dim_")]
    for _, key, word in _page_words(desk):
        spans += [(key, "key_"), (word, "dim_")]
    return join(spans)


def _chooses(desk: Desk) -> bool:
    """Whether Enter takes one of several, rather than editing a value."""
    return (desk.planning and desk.pane == STEPS) or (desk.deciding and desk.pane == DAY)


def _typing(desk: Desk, entry: Entry) -> Spans:
    if entry.error and drawing.at_bottom(desk, entry, desk.widths[desk.pane]):
        return turn(((" ", "dim"), drawing.wrong(desk, entry)), "_")
    asked = entry.key != "" and guide.missing(desk) == entry.key
    then = ", next" if guide.goes_on(desk, entry) else ", plan" if asked else ""
    turns: Spans = (("↑↓" if desk.glyphs.name == "full" else "Up/Down", "key_"), (" turn  ", "dim_"))
    keys: Spans = (
        (f" {desk.glyphs.enter}", "key_"), (f" keep{then}  ", "dim_"),
        ("Esc", "key_"), (" leave as it was  ", "dim_"),
    )  # fmt: skip
    return (*keys, *(turns if entry.choices else ()), (plain(entry.units, desk.glyphs), "text_"))
