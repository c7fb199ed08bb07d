"""One feeding in pane 3: its two lines in the list, and everything about it beside its flask."""

from __future__ import annotations

from itertools import zip_longest
from typing import TYPE_CHECKING

from workbench.panes.figures import choice, figure, plato, shown, span, value
from workbench.panes.flask_picture import flask
from workbench.panes.rows import Row, Rows, mark_of
from workbench.panes.spans import width
from workbench.plan import settle
from workbench.units.kinds import VOLUME
from workbench.units.when import moment, period

if TYPE_CHECKING:
    from workbench.panes.rows import Scene
    from workbench.panes.spans import Span, Spans
    from workbench.plan.model import Level, StepPlan

__all__ = ["NARROW", "details", "summary", "with_picture"]

NARROW = 17  # cells for the flask and the litres beside it
_TO_BE_SEEN_TO: tuple[Level, ...] = ("danger", "caution")
_MOTIONS = ("stirred", "swirled", "still")


def summary(pane: Rows, step: StepPlan) -> None:
    """Its wort, gravity, powder and cells in one line; when, how long and how full the flask is in a second."""
    scene, index = pane.scene, step.number - 1
    key = f"step.{index}.wort"
    typed = scene.plan.session.is_given(key)
    wort = str(shown(step.wort_l.value, "L", scene))
    chosen = index == min(scene.step, len(scene.plan.steps) - 1)
    gravity, powder = shown(step.planned_w, "w", scene).number, shown(step.powder_g.value, "g", scene)
    cells_in, cells_out = (shown(f.value, "B", scene).number for f in (step.cells_in_b, step.cells_out_b))
    wort_cells, powder_cells, in_cells, out_cells = _columns(scene)
    spans: tuple[Span, ...] = (
        (f"{scene.glyphs.typed if typed else ' '} {wort:<{wort_cells}}", "typed" if typed else "text"),
        (f" {gravity:<5} {powder!s:>{powder_cells}} ", "text" if chosen else "dim"),
        (f"{cells_in:>{in_cells}} {scene.glyphs.arrow} {cells_out:>{out_cells}} B", "text" if chosen else "dim"),
    )
    row = Row(f"{step.number}", spans, id=key, key=key, value=wort if step.wort_l.value is not None else "")
    row = row._replace(figure=step.wort_l, table=("step", index), step=index, label_cells=2)
    pane.add(row, note=[span(step.cells_out_b, scene)], column=0)
    when, where = _when_and_where(scene, step)
    fits = 4 + width((*when, *where)) <= pane.cells
    pane.rows.append(Row(spans=(*when, *where) if fits else when, label_cells=3))
    if not fits:
        pane.below(where)


def _columns(scene: Scene) -> list[int]:
    """Cells of wort, powder, cells in and cells out, so that those of all feedings stand below each other."""
    told = [
        (
            str(shown(step.wort_l.value, "L", scene)),
            str(shown(step.powder_g.value, "g", scene)),
            *(shown(f.value, "B", scene).number for f in (step.cells_in_b, step.cells_out_b)),
        )
        for step in scene.plan.steps
    ]
    return [max(least, *map(len, column)) for least, column in zip((7, 5, 3, 1), zip(*told, strict=True), strict=True)]


def _when_and_where(scene: Scene, step: StepPlan) -> tuple[Spans, Spans]:
    """`decant Fri 17:00-Sat 15:00 22 h, ` and `1.60 L in`; too full is marked."""
    now, tz, dash = scene.plan.now, scene.tz, scene.glyphs.dash
    if step.start is not None and step.end is not None:
        when = period(step.start, step.end, now, tz, dash)
    else:
        when = dash.join(moment(at, now, tz) if at else "?" for at in (step.start, step.end))
    hours = "" if step.hours_planned is None else f" {shown(step.hours_planned, 'h', scene)}"
    poured = "decant " if step.decant and step.number > 1 else ""
    inside = shown(step.flask_l.value, "L", scene)
    mark, role = _worst(scene, f"step.{step.number - 1}.flask", f"step.{step.number - 1}.hot_boil")
    where: Spans = ((f"{inside} in", role), (f" {mark}" if mark else "", role))
    locked = ", locked" if scene.plan.session.step[step.number - 1].locked else ""
    return ((f"{poured}{when}{hours}, ", "dim"),), (*where, (locked, "dim"))


def _worst(scene: Scene, *keys: str) -> Span:
    """The sign of the worst warning beside these keys; no sign where nothing is to be seen to."""
    levels = {warning.level for key in keys for warning in scene.plan.warnings_at(key)}
    worst = next((level for level in _TO_BE_SEEN_TO if level in levels), None)
    return ("", "dim") if worst is None else mark_of(worst, scene.glyphs)


def details(pane: Rows, step: StepPlan) -> None:
    """Everything about the feeding considered that its own lines do not say."""
    scene, index = pane.scene, step.number - 1
    key = f"step.{index}"
    gravity = value("gravity", f"{key}.gravity", step.planned_w, "w", scene, step.gravity_w)
    pane.add(gravity, note=[(plato(step.planned_w, scene), "dim")])
    if step.top_up_l.value:
        top_up = value("top up", f"{key}.top_up", step.top_up_l.value, "L", scene, step.top_up_l)
        pane.add(top_up, note=[("boiled water", "dim")])
    how = "yes" if step.decant else "no"
    pane.add(choice("pour off", f"{key}.decant", how, ("no", "yes"), scene))
    pane.add(choice("motion", f"{key}.motion", step.motion, _MOTIONS, scene))
    pane.add(value("grows at", f"{key}.temperature", step.temperature_c.value, "°C", scene, step.temperature_c))
    hours = value("hours", f"{key}.hours", step.hours_planned, "h", scene, step.hours)
    pane.add(hours, note=[_likely_hours(scene, step)], keys=(f"{key}.start",))
    pane.add(
        figure("in flask", step.flask_l, scene, id=f"{key}.flask"),
        note=_fill(scene, step),
        keys=(f"{key}.flask", "flask.fill_limit"),
    )
    if step.boil_fits is False:  # where it fits the Wort pane has it
        boiling = figure("boiling", step.hot_boil_l, scene, id=f"{key}.hot_boil")
        pane.add(boiling, keys=(f"{key}.hot_boil", f"{key}.boil_in"))
    _glass(pane, step)
    out = figure("grown", step.cells_out_b, scene, id=f"{key}.out")
    pane.add(out, keys=(f"{key}.cells", key))


def _glass(pane: Rows, step: StepPlan) -> None:
    """The flask and the room in it; the cold rest, where something is poured off."""
    scene, session = pane.scene, pane.scene.plan.session
    count = f"{scene.glyphs.times} {session.flask.flasks}" if session.flask.flasks > 1 else ""
    glass = value("flask", "flask.size", session.flask.size_l, "L", scene, step.headroom_ml)
    pane.add(glass, note=[(count, "dim")])
    if step.decant or scene.plan.final.pitch == "decanted":
        pane.add(value("rest", "wort.rest", 3600.0 * settle.rest_h(session), "s", scene), note=[("cold", "dim")])
        left_l = settle.left_after_decant_l(session) / session.flask.flasks
        pane.add(value("leaves", "wort.left_after_decant", left_l, "L", scene), note=[("decanted", "dim")])


def _likely_hours(scene: Scene, step: StepPlan) -> Span:
    """How long it may really take, where the brewer has not set the hours."""
    if scene.plan.session.is_given(f"step.{step.number - 1}.hours") or not step.hours_range:
        return "", "dim"
    low, high = step.hours_range
    return f"({low:.0f}{scene.glyphs.dash}{high:.0f})", "dim"


def _fill(scene: Scene, step: StepPlan) -> list[Span]:
    limit = str(shown(step.fill_limit_l.value, "L", scene))
    return [] if step.fill_fits is False else [(f"of {limit}", "dim")]  # else the warning says so


def with_picture(rows: list[Row], scene: Scene, step: StepPlan, cells: int) -> list[Row]:
    """The flask to the left of the rows: levels of the feedings that stand in it, its limits, the room for foam."""
    high = max(10, min(len(rows), 14))
    levels = _levels(scene, step)
    level_l, limit_l = step.flask_l.value, step.fill_limit_l.value
    litres = {name: held for name, held in levels.items() if held is not None}
    if "room" in litres and level_l is not None and limit_l is not None:
        litres["room"] = limit_l - level_l
    labels = {name: _label(scene, held, _WORDS.get(name, ""), brief=cells <= NARROW) for name, held in litres.items()}
    drawn = flask(scene.plan.flask, levels, labels, high, cells, scene.glyphs, label=cells - NARROW + 6)
    empty = ((" " * cells, "glass"),)
    pairs = zip_longest(rows, drawn)
    return [(row or Row())._replace(picture=picture or empty) for row, picture in pairs]


_WORDS = {"limit": "fill", "boil": "boil", "room": "foam"}


def _label(scene: Scene, litres: float, word: str, *, brief: bool) -> str:
    """What stands beside the flask: how much, and of what is no level what it is; where it is `brief` that alone."""
    return word if word and brief else f"{_beside(scene, litres)} {word}".rstrip()


def _beside(scene: Scene, litres: float) -> str:
    """Litres, or quarts, as they stand beside the flask: all in one unit, though none is written."""
    held = f"{VOLUME.unit('L' if scene.system == 'metric' else 'qt').from_base(litres):.2f}"
    return held.replace(".", ",") if scene.comma else held


def _levels(scene: Scene, step: StepPlan) -> dict[str, float | None]:
    """What stands how high in the flask: this feeding, those before it that it went on top of, and the limits."""
    level_l, limit_l = step.flask_l.value, step.fill_limit_l.value
    levels = {"limit": limit_l, "level": level_l}
    if step.boil_in == "flask":
        levels["boil"] = step.boil_limit_l.value
    on_top = step
    while on_top.number > 1 and not on_top.decant:
        on_top = scene.plan.steps[on_top.number - 2]
        levels[f"below{on_top.number}"] = on_top.flask_l.value
    if level_l is not None and limit_l is not None and limit_l > level_l:
        levels["room"] = 0.5 * (level_l + limit_l)
    return levels
