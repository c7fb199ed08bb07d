"""The line above the keys: what the row under the cursor means, and what is usual there."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from workbench.panes.glyphs import plain
from workbench.panes.spans import fit
from workbench.session.fields import field_of
from workbench.session.usual import source, usual
from workbench.units.retold import retold

if TYPE_CHECKING:
    from workbench.panes.rows import Row, Scene
    from workbench.panes.spans import Spans
    from workbench.screens.desk import Desk, Entry
    from workbench.screens.finder import Choice

__all__ = ["FIGURES", "hint", "meaning", "usual_of", "usual_source"]

_HOURED = "{done}: done now; {edit} types when it was done; {skip} leaves it out, {why} says why then"
FIGURES = {
    "need": "live cells that this beer wants: volume × °P × pitch rate",
    "hand": "live cells in all lots together, at the hour they go in",
    "starter": "whether feedings must grow what the yeast on hand falls short of",
    "yeast": "what yeast there is: packs, sachets, slurry, a jar kept or counted",
    "yeast.live": "live cells of this lot at the hour it goes in",
    "step.powder": "dry malt extract to weigh; usually about 100 g for 1 L",
    "step.water": "water to begin with: what boils off is in it",
    "step.hot": "hot wort in the vessel as the boil begins, beside what may boil in it",
    "step.hot_boil": "hot wort in the flask as the boil begins, beside what may boil in it",
    "step.boil_time": "how long the wort is to boil: {longer} and {shorter} change it by a minute; usually 10–15 min",
    "step.true": "gravity of this wort as it was measured, put right",
    "step.flask": "what stands in each flask while it grows",
    "step.out": "live cells once this feeding has grown",
    "reading.true": "the gravity that the reading means at 20 °C",
    "final.pitched": "live cells that go into the beer",
    "final.chance": "how likely the need is met, by all that is uncertain",
    "final.beer_gravity": "original gravity of the beer with this starter in it",
    "final.silicone": "what foam control leaves in the beer; at most 10 mg/L",
    "chain": "live cells of the jar as that batch takes it, and what comes of them",
    "chain.level": "powder in each batch's one feeding that keeps the jar level",
    "dose.powder": "dry malt extract to weigh; usually about 100 g for 1 L",
    "dose.water": "water to begin with: what boils off is in it",
    "dose.extract": "what the powder brings into the wort",
    "dose.foam": "how far foam may climb in the flask at the boil",
    "fix.powder": "powder into cooled wort (hot, it erupts), boiled up again; then {measure} reads it",
    "fix.water": "boiled, cooled water that thins it to its gravity; then {measure} reads it anew",
    "fix.boil": "minutes more at the boil that raise the wort to its gravity",
    "fix.volume": "how much wort there is now, as far as is known",
    "bath.boil": "where this wort boils, by height and gravity",
    "bath.heat": "heat to take out of one flask",
    "bath.ice": "ice that takes out all of it",
    "bath.tap": "ice that takes out the rest, once tap water has done its part",
    "bath.fill": "how deep the bath may be before the flask floats",
    "supplies.left": "powder left once all feedings are weighed",
    "supplies.cost": "what the powder of all feedings costs",
    "supplies.instead": "what packs enough to need no starter would cost",
    "clock.rate": "how fast the wort nears its bath, by your readings; usually 0.05–0.2 /min",
    "clock.opens": "from when it is near enough for the yeast",
    "clock.eta": "when it has come down to the temperature it grows at",
    "clock.grown": "how far it has grown by now, by the model",
    "clock.test": "how far it has grown by this reading",
    "boil-went-on": "{edit}: the boil went on all the time",
    "boil-off-at": "{edit}: type when the heat went off",
    "boil-unsure": "{edit}: go on as it is, and measure gravity and volume later",
    "moment": "a task of the day: {done} does it, {skip} leaves it out, {why} says why then",
    "moment.start": _HOURED,
    "moment.chill": _HOURED,
    "moment.pitch": _HOURED,
    "way": "a way to meet the need: {edit} takes it, {undo} takes it back",
}
"""What each figure that is worked out means; by the id of its row without numbers. Keys stand by their action."""

_OF_LOTS = {
    ("volume", "slurry"): "slurry on hand, as it stands settled",
    ("volume", "kept"): "the liquid that the kept yeast stands in",
    ("volume", "counted"): "what is in the jar that was sampled",
    ("cells", "pack"): "cells in each pack when new, by its label",
    ("cells", "kept"): "cells in all, on the day it was kept",
    ("cells", "counted"): "cells in all, on the day they were counted",
}
_NUMBER = re.compile(r"\.\d+")


def hint(desk: Desk, cells: int) -> Spans:
    """What the row under the cursor means, or what is being typed; nothing where there is no row."""
    row, scene = desk.row(), desk.scene
    if desk.finder is not None:
        return fit(_of_choice(desk.finder.chosen), cells, desk.glyphs.cut)
    if desk.page is not None or (row is None and desk.entry is None):
        return ()
    said = _typed(desk.entry, row, scene) if desk.entry is not None else "" if row is None else meaning(row, scene)
    asked = desk.entry is not None and desk.entry.ask is not None
    told = "" if asked or row is None else usual_of(row, scene)
    word = "" if row is not None and row.choices else "usually "
    text = f"{said}; {word}{told}" if told else said
    if len(text) >= cells and row is not None and row.choices:
        text = f"{said}; {scene.key('turn')} turns it"
    return fit(((f" {plain(text, desk.glyphs)}", "dim"),), cells, desk.glyphs.cut)


def _of_choice(chosen: Choice | None) -> Spans:
    """Under which name the keys of what the list's cursor is on are set."""
    return () if chosen is None else ((f" in the settings: {chosen.action}", "dim"),)


def _typed(entry: Entry, row: Row | None, scene: Scene) -> str:
    """What the line that is open wants: what it says itself, but of a lot by its kind."""
    by_the_batch = entry.key.startswith("yeast.") or entry.key == "batch.pitch_at"
    return meaning(row, scene) if row is not None and by_the_batch else entry.means


def meaning(row: Row, scene: Scene) -> str:
    """What a row means, in a line, of a lot by its kind; "" where that is not known."""
    if row.key == "batch.pitch_at" and scene.plan.need.shelf:
        return "when it goes into the fridge"
    if row.key:
        kind = _kind(row, scene)
        return _OF_LOTS.get((row.key.rpartition(".")[2], kind or "")) or field_of(row.key, kind).means
    name = _NUMBER.sub("", row.id)
    says = FIGURES.get(name) or FIGURES.get(name.partition(".")[0], "")
    return retold(says.format(**scene.keys) if "{" in says else says, scene.system, comma=scene.comma)


def usual_of(row: Row, scene: Scene) -> str:
    """What is usual there, in the units shown; the words it may be; "" where nothing is."""
    if row.choices:
        return f"{', '.join(row.choices[:-1])} or {row.choices[-1]}: {scene.key('turn')} turns it"
    return "" if not row.key else usual(row.key, scene.system, _kind(row, scene), comma=scene.comma)


def usual_source(row: Row, scene: Scene) -> str:
    """Whose word it is that this is usual."""
    return source(row.key, _kind(row, scene)) if row.key else ""


def _kind(row: Row, scene: Scene) -> str | None:
    """What was measured, where the row is of a reading, or what a lot is."""
    table, _, rest = row.key.partition(".")
    session, index = scene.plan.session, rest.partition(".")[0]
    if table == "reading":
        return session.reading[int(index)].kind
    return session.yeast[int(index)].kind if table == "yeast" else None
