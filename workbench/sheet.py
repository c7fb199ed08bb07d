"""The plan as a page of paper: sections of rows, and the reasons at the end; `paper` sets it in type."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING, NamedTuple

from workbench.brewing import density
from workbench.plan import shares
from workbench.plan.afterwards import compared
from workbench.plan.cautions import told_once
from workbench.plan.chance import chance_text, in_words
from workbench.units.kinds import CELLS, DURATION, GRAVITY, MASS, SMALL_LENGTH, SMALL_VOLUME, TEMPERATURE, VOLUME
from workbench.units.plainly import harmless
from workbench.units.retold import retold
from workbench.units.show import show
from workbench.units.when import day, full, hours_between, local, moment, until, weekday

if TYPE_CHECKING:
    from datetime import datetime, tzinfo

    from workbench.plan.model import Chain, Figure, Moment, Plan, StepPlan, Warning
    from workbench.session.model import Lot
    from workbench.units.kinds import Kind
    from workbench.units.show import System

__all__ = ["Page", "Row", "Section", "page"]

_JAR = "vented, labelled with the day, in the fridge; never sealed while it works"
_SIGNS = {"note": "note:", "caution": "CAUTION:", "danger": "DANGER:"}


_MEASURES: dict[str, tuple[float, Kind, int | None]] = {
    "w": (1.0, GRAVITY, 4),
    "L": (1.0, VOLUME, None),
    "mL": (1e-3, VOLUME, None),
    "s": (1.0, DURATION, None),
    "B": (1.0, CELLS, None),
    "°C": (1.0, TEMPERATURE, None),
}


class Row(NamedTuple):
    """One line: what, how much, and a remark; `warnings` stand right under it."""

    label: str
    value: str
    remark: str = ""
    warnings: tuple[str, ...] = ()


class Section(NamedTuple):
    """A heading with its rows."""

    title: str
    rows: tuple[Row, ...]


class Page(NamedTuple):
    """The whole sheet."""

    title: str
    subtitles: tuple[str, ...]
    sections: tuple[Section, ...]
    reasons: tuple[str, ...] = ()
    mind: tuple[str, ...] = ()  # what may hurt, in the order of the tasks


class _Writer:
    """Builds the page of one plan: knows its units, its zone, and which warnings have found their row."""

    def __init__(self, plan: Plan, system: System, tz: tzinfo | None, *, comma: bool) -> None:
        self.plan, self.system, self.tz, self.comma = plan, system, tz, comma
        self.told: set[str] = set()

    def amount(self, value: float | None, kind: Kind, decimals: int | None = None) -> str:
        return str(show(value, kind, self.system, decimals=decimals, comma=self.comma))

    def cells(self, figure: Figure) -> str:
        text = self.amount(figure.value, CELLS)
        if figure.value is None or figure.low is None or figure.high is None:
            return text
        low, high = show(figure.low, CELLS, comma=self.comma), show(figure.high, CELLS, comma=self.comma)
        return f"{text} ({low.number}–{high.number})"

    def time(self, at: datetime | None) -> str:
        return "–" if at is None else moment(at, self.plan.now, self.tz)

    def measure(self, value: float | datetime | None, unit: str) -> str:
        """Something compared, in its unit."""
        if value is None or not isinstance(value, float):
            return self.time(value)
        if unit == "h":
            return self.number(f"{value:.1f} h")
        factor, kind, decimals = _MEASURES[unit]
        return self.amount(factor * value, kind, decimals)

    def date(self, at: datetime) -> str:
        """In full, as paper wants it: Fri 27 Nov 2026 17:00."""
        return full(at, self.tz)

    def bounds(self, task: Moment) -> str:
        """`Thu 23:10 to Fri 20:40`, or `done`; nothing where they do not differ by an hour."""
        if task.done:
            return "" if task.stamped is None else "skipped" if task.skipped else "done"
        early, late = task.earliest, task.latest
        if early is None or late is None or hours_between(early, late) < 1.0:
            return ""
        return f"{self.time(early)} to {self.time(late)}"

    def number(self, text: str) -> str:
        """A number of our own making, with the brewer's decimal mark."""
        return text.replace(".", ",") if self.comma else text

    def warned(self, *keys: str) -> tuple[str, ...]:
        """The warnings of some keys, each told once."""
        self.told.update(keys)
        return tuple(self._told(w) for key in keys for w in self.plan.warnings_at(key))

    def leftovers(self) -> tuple[str, ...]:
        return tuple(self._told(w) for w in self.plan.warnings if w.key not in self.told)

    def _told(self, warning: Warning) -> str:
        sign = "needed:" if warning.code.startswith("needs-") else _SIGNS[warning.level]
        return f"{sign} {retold(warning.text, self.system, comma=self.comma)}"


def page(plan: Plan, system: System = "metric", tz: tzinfo | None = None, *, comma: bool = False) -> Page:
    """The sheet of one plan; times in `tz`, by default this machine's zone."""
    writer = _Writer(plan, system, tz, comma=comma)
    sections = [
        _yeast(writer),
        _flask(writer),
        *(_feeding(writer, step) for step in plan.steps),
        _end(writer),
        _kept(writer),
        _times(writer),
        _afterwards(writer),
        _notes(writer),
    ]
    if plan.readings:
        sections.insert(-5, _readings(writer))
    rest = writer.leftovers()
    if rest:
        sections.insert(0, Section("To know", tuple(Row(text, "") for text in rest)))
    pitch_at = plan.session.batch.pitch_at
    when = "no hour set" if pitch_at is None else f"{writer.date(pitch_at)} ({until(pitch_at, plan.now)})"
    goal = "into the fridge" if plan.need.shelf else "yeast into the beer"
    title = harmless(plan.session.batch.name) or "a batch without a name"
    note = harmless(plan.session.batch.note)
    proposed = ("feedings as the planner proposes them: the file has none",) if plan.planned_by == "planner" else ()
    subtitles = (f"{goal}: {when}", *proposed, f"as of {writer.date(plan.now)}", *((note,) if note else ()))
    return Page(title, subtitles, tuple(s for s in sections if s.rows), _reasons(plan), told_once(plan.moments))


def _yeast(writer: _Writer) -> Section:
    plan, rows = writer.plan, []
    beer = plan.session.beer
    if beer is not None:
        plato = "" if plan.need.plato.value is None else writer.number(f" ({plan.need.plato.value:.1f} °P)")
        gravity = f"{writer.amount(beer.gravity_w, GRAVITY)}{plato}, {beer.type}"
        rows.append(
            Row("beer", writer.amount(beer.volume_l, VOLUME), gravity, writer.warned("beer.volume", "beer.gravity"))
        )
    rate = "" if plan.need.rate.value is None else writer.number(f"{plan.need.rate.value:g} million per mL and °P")
    rows.append(Row("need", writer.amount(plan.need.cells_b.value, CELLS), rate, writer.warned("beer.pitch_rate")))
    for index, (lot, lot_plan) in enumerate(zip(plan.session.yeast, plan.hand.lots, strict=True)):
        key = f"yeast.{index}"
        names = ("made_on", "squares", "stained", "cells", "viability", "generation", "cycle")
        keys = (key, *(f"{key}.{name}" for name in names))
        rows.append(
            Row(
                _lot_name(lot),
                writer.cells(lot_plan.cells_b),
                _lot_remark(writer, lot, lot_plan.viability),
                writer.warned(*keys),
            )
        )
    at = "" if plan.hand.at is None else f"alive {writer.time(plan.hand.at)}"
    rows.append(Row("on hand", writer.cells(plan.hand.cells_b), at, writer.warned("yeast")))
    rows.append(Row("starter", _verdict(plan), ""))
    return Section("Yeast", tuple(rows))


def _lot_name(lot: Lot) -> str:
    kind = lot.kind or "lot"
    return f"{kind} ×{lot.packs}" if lot.kind in ("pack", "dry") else kind


def _lot_remark(writer: _Writer, lot: Lot, viability: Figure) -> str:
    made = "" if lot.made_on is None else f"of {day(lot.made_on)} {lot.made_on.year}"
    if viability.value is not None:
        made += f", {100 * viability.value:.0f} % alive, kept at {writer.amount(lot.stored_at_c, TEMPERATURE)}"
    return made + (_raw_count(writer, lot) if lot.kind == "counted" and lot.squares else "")


def _raw_count(writer: _Writer, lot: Lot) -> str:
    """What was seen under the microscope."""
    square = writer.amount(lot.square_ul, SMALL_VOLUME)
    diluted = "" if lot.dilution == 1.0 else f", diluted {writer.number(f'{lot.dilution:g}')} times"
    stained = "" if lot.stained is None else f", {lot.stained} of them stained"
    return f"; {sum(lot.squares)} cells in {len(lot.squares)} squares of {square}{diluted}{stained}"


def _verdict(plan: Plan) -> str:
    if plan.starter_needed is None:
        return "cannot be told yet"
    return "wanted" if plan.starter_needed else "not needed"


def _flask(writer: _Writer) -> Section:
    """What glass the plan is for."""
    flask = writer.plan.session.flask
    if not writer.plan.steps:
        return Section("Flask", ())
    several = f"{flask.flasks} of them, feedings shared" if flask.flasks > 1 else "one"
    return Section("Flask", (Row("size", writer.amount(flask.size_l, VOLUME), several),))


def _feeding(writer: _Writer, step: StepPlan) -> Section:
    key, amount = f"step.{step.number - 1}", writer.amount
    plato = writer.number(f"{100 * (step.gravity_w.value or 0):.1f} °P")
    gravity = f"{amount(step.gravity_w.value, GRAVITY)} ({plato})"
    boiled = (
        f"{amount(_litres(step.boil_off_ml.value), VOLUME)} boiled off in {amount(step.boil_time_s.value, DURATION)}"
    )
    rows = [
        Row("wort", amount(step.wort_l.value, VOLUME), f"at {gravity}", writer.warned(f"{key}.wort", f"{key}.gravity")),
        Row("powder", amount(step.powder_g.value, MASS), "into cold water"),
        Row("water", amount(step.water_l.value, VOLUME), boiled),
    ]
    if step.foam.drops.value:
        rows.append(Row("drops", f"{step.foam.drops.value:.0f}", "of foam control, in cold"))
    if step.top_up_l.value:
        rows.append(Row("top up", amount(step.top_up_l.value, VOLUME), "boiled, cooled water"))
    limit = (
        f"of at most {amount(step.boil_limit_l.value, VOLUME)} in the flask" if step.boil_in == "flask" else "in a pot"
    )
    foaming = writer.warned(f"{key}.hot_boil", f"{key}.boil_in", f"{key}.foam")
    rows.append(Row("boiling", amount(step.boiling_l.value, VOLUME), limit, foaming))
    rows += _cooling(writer, step)
    full = f"of at most {amount(step.fill_limit_l.value, VOLUME)}" + (
        ", each" if writer.plan.session.flask.flasks > 1 else ""
    )
    rows.append(
        Row("in the flask", amount(step.flask_l.value, VOLUME), full, writer.warned(f"{key}.flask", f"{key}.decant"))
    )
    how = f"{step.motion}, {amount(step.temperature_c.value, TEMPERATURE)}"
    rows.append(Row("hours", writer.number(_hours(step)), how, writer.warned(f"{key}.temperature", f"{key}.hours")))
    rows.append(Row("from", writer.time(step.start), f"to {writer.time(step.end)}"))
    grown = f"from {amount(step.cells_in_b.value, CELLS)}"
    rows.append(Row("cells", writer.cells(step.cells_out_b), grown, writer.warned(f"{key}.cells")))
    poured = ", poured off first" if step.decant else ""
    return Section(f"Feeding {step.number}{poured}", tuple(rows))


def _cooling(writer: _Writer, step: StepPlan) -> list[Row]:
    """Ice for one flask, and how deep its bath may be."""
    bath, amount = step.bath, writer.amount
    if not bath.heat_kj.value or bath.ice_kg.value is None or bath.after_tap_kg.value is None:
        return []
    ice, after = (amount(1000.0 * kg, MASS) for kg in (bath.ice_kg.value, bath.after_tap_kg.value))
    rows = [Row("ice", ice, f"or {after} after tap water, to {amount(step.temperature_c.value, TEMPERATURE)}")]
    if bath.fill_mm.value is not None:
        lifted = bath.lifts_mm
        floats = "it never floats" if lifted is None else f"it floats at {amount(lifted, SMALL_LENGTH)}"
        rows.append(Row("bath", f"to {amount(bath.fill_mm.value, SMALL_LENGTH)}", f"over the table; {floats}"))
    return rows


def _litres(value_ml: float | None) -> float | None:
    return None if value_ml is None else value_ml / 1000.0


def _hours(step: StepPlan) -> str:
    planned = "–" if step.hours_planned is None else f"{round(step.hours_planned, 1):g} h"
    if step.hours_range is None:
        return planned
    return f"{planned} ({step.hours_range[0]:.0f}–{step.hours_range[1]:.0f})"


def _end(writer: _Writer) -> Section:
    final, rows = writer.plan.final, []
    how = {"whole": "whole", "decanted": "after pouring off"}[final.pitch] if writer.plan.steps else "as it is"
    rows.append(Row("pitched", writer.cells(final.pitched_b), how, writer.warned("final.pitched")))
    if final.chance.value is not None:
        need_b, pitched_b = writer.plan.need.cells_b.value, final.pitched_b.value
        of_need = pitched_b / need_b if need_b and pitched_b is not None else 1.0
        words = in_words(final.chance.value, of_need)
        rows.append(Row("chance", writer.number(chance_text(final.chance.value)), words))
    if final.beer_gravity_w.value is not None and final.pitch == "whole" and final.poured_l.value:
        sg = writer.number(f"{density.sg(final.beer_gravity_w.value):.4f}")
        rows.append(Row("beer", sg, "with the starter in it", writer.warned("final.beer_gravity")))
    return Section("Pitch", tuple(rows))


def _kept(writer: _Writer) -> Section:
    """What is kept for another batch, and what comes of it batch after batch."""
    plan, amount = writer.plan, writer.amount
    final, keep, rows = plan.final, plan.session.keep, list[Row]()
    if keep is None or not final.kept_b.value:
        return Section("Kept", ())
    if not plan.need.shelf:
        rows.append(Row("kept back", writer.cells(final.kept_b), f"in {amount(final.kept_l.value, VOLUME)}"))
    rows.append(Row("the jar", "", _JAR))
    if plan.chain is not None:
        rows += _coming(writer, plan.chain)
    return Section(f"Kept, for a batch every {amount(keep.every_s, DURATION)}", tuple(rows))


def _coming(writer: _Writer, chain: Chain) -> list[Row]:
    """A row for each batch to come, and what would hold them level."""
    amount, shelf, rows = writer.amount, writer.plan.need.shelf, list[Row]()
    for batch in chain.batches:
        start, grown, kept, pitched = (amount(f.value, CELLS) for f in batch[1:5])
        verdict = {True: "holds", False: "falls short", None: "the need is not known"}[batch.holds]
        says = f"from {start}, grown to {grown}" + ("" if shelf else f", {kept} kept") + f": {verdict}"
        rows.append(Row(f"batch +{batch.number}", kept if shelf else pitched, says))
    level, litres = chain.level_g, chain.level_l
    holds = f"{amount(litres.value, VOLUME)} of wort in one feeding a batch hold it level"
    says = level.why.says if level.value is None else holds
    rows.append(Row("level at", amount(level.value, MASS), says, writer.warned("keep")))
    return rows


def _times(writer: _Writer) -> Section:
    """The tasks by day, each with how early and how late it may be where growth decides that."""
    rows: list[Row] = []
    in_order = sorted(writer.plan.moments, key=lambda task: task.at)
    for on, tasks in groupby(in_order, key=lambda task: local(task.at, writer.tz).date()):
        rows.append(Row(f"{weekday(on)} {day(on)} {on.year}", ""))
        rows += [
            Row(f"{local(task.at, writer.tz):%H:%M}", task.what, writer.bounds(task), writer.warned(task.key))
            for task in tasks
        ]
    missing = writer.warned("batch.pitch_at") if not rows else ()
    if missing:
        rows.append(Row("pitch", "–", "", missing))
    title = "Times, with the earliest and the latest" if any(row.remark for row in rows) else "Times"
    return Section(title, tuple(rows))


def _afterwards(writer: _Writer) -> Section:
    """Planned against actual."""
    rows = []
    for it in compared(writer.plan):
        planned, actual = (writer.measure(value, it.unit) for value in (it.planned, it.actual))
        of = f"feeding {it.step} " if it.step else ""
        rows.append(Row(f"{of}{it.what}", actual, f"planned {planned}" if it.planned is not None else ""))
    return Section("Planned and actual", tuple(rows))


def _notes(writer: _Writer) -> Section:
    """What was noted on the day."""
    events = [e for e in writer.plan.session.event if e.what == "note" and e.at is not None and e.text]
    return Section("Notes", tuple(Row(writer.time(e.at), harmless(e.text)) for e in events))


def _readings(writer: _Writer) -> Section:
    rows = []
    for reading in writer.plan.readings:
        true = writer.amount(reading.true_w.value, GRAVITY, 4)
        key = f"reading.{reading.place}.value"
        given = writer.plan.session.reading[reading.place]
        at = "" if given.temperature_c is None else f" at {writer.amount(given.temperature_c, TEMPERATURE)}"
        read = f"read {writer.number(reading.read_text)}{at}"
        rows.append(Row(f"feeding {reading.step}", true, read, writer.warned(key)))
    return Section("Measured", tuple(rows))


def _reasons(plan: Plan) -> tuple[str, ...]:
    figures: list[tuple[str, Figure]] = [("need", plan.need.cells_b)]
    figures += [(f"{lot.kind or 'lot'} alive", lot.cells_b) for lot in plan.hand.lots]
    for step in plan.steps:
        name = f"feeding {step.number}"
        figures += [
            (f"{name} powder", step.powder_g),
            (f"{name} water", step.water_l),
            (f"{name} hours", step.hours),
            (f"{name} cells", step.cells_out_b),
        ]
    figures += [("pitched", plan.final.pitched_b), ("chance", plan.final.chance)]
    figures += [] if plan.need.shelf else [("beer", plan.final.beer_gravity_w)]
    return tuple(_reason(name, figure, with_spread=name == "pitched") for name, figure in figures if figure.why.says)


def _reason(name: str, figure: Figure, *, with_spread: bool) -> str:
    """How one figure follows; `with_spread` adds the inputs that its range mostly comes from."""
    why = figure.why
    spread = f"; the range comes {shares.in_words(figure.shares)}" if with_spread and figure.shares else ""
    return f"{name}: {harmless(why.says)}{spread} [{why.source.cite}; {why.source.status}]"
