"""The Plan: everything that is shown, each figure with its range, its reason and its warnings.

Panes, sheet and JSON read this and compute nothing. Base units are in the names, as in `session.model`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal, NamedTuple, TypeAlias

if TYPE_CHECKING:
    from datetime import datetime

    from workbench.brewing.flask import Measures, Shape
    from workbench.plan.clock import ClockPlan
    from workbench.session.model import BoilIn, LotKind, Motion, Pitch, Session

__all__ = [
    "BathPlan",
    "Caution",
    "Chain",
    "Coming",
    "CountPlan",
    "Figure",
    "Final",
    "Fix",
    "FixPlan",
    "FoamPlan",
    "Hand",
    "Level",
    "LotPlan",
    "Moment",
    "Need",
    "Plan",
    "ReadingPlan",
    "Reason",
    "Shares",
    "Source",
    "StepPlan",
    "SuppliesPlan",
    "Warning",
]

Level = Literal["note", "caution", "danger"]
Shares: TypeAlias = tuple[tuple[str, float], ...]  # an uncertain input and its part of a spread, 0 to 1


class Source(NamedTuple):
    """Where a formula or a constant comes from.

    `status`: "published" (read in the text named), "quoted" (read in another that repeats it), "computed", "memory"
    (recalled, not verified), "common practice" (no source), "recommended" (a modelling choice of this program),
    "typed" (the brewer's own) or "missing" (it has yet to be typed).
    """

    cite: str
    status: str


class Reason(NamedTuple):
    """Why a figure is what it is: the formula with the numbers in it, where that holds, and what is unsure in it.

    `valid` is left empty only where there is no number to hold.
    """

    says: str
    source: Source
    valid: str = ""
    unsure: str = ""


class Figure(NamedTuple):
    """A number worked out. `unit` is its base unit ("L", "g", "B", "w", "°C", "s", "h", "mL", "1", …).

    `value` is None where it cannot be said; `low` and `high` bound the plausible range of an estimate, `shares` tells
    which inputs that comes from, the largest first. A unit of "" stands for what is no number, such as an hour of day.
    """

    value: float | None
    unit: str
    why: Reason
    low: float | None = None
    high: float | None = None
    shares: Shares = ()


class Warning(NamedTuple):  # noqa: A001 - the contract's word for it
    """Something to know, beside the figure it concerns: `key` is that figure's dotted key, "step.0.wort"."""

    code: str
    level: Level
    text: str
    key: str


class Caution(NamedTuple):
    """Something that can hurt, and how not to be hurt: a sentence or two, and whose word it is."""

    code: str
    says: str
    source: Source


class Need(NamedTuple):
    """Viable cells wanted. For a build for the shelf: what is to be kept."""

    cells_b: Figure
    plato: Figure
    rate: Figure
    shelf: bool


class CountPlan(NamedTuple):
    """What a raw count under the microscope comes to on the day of the count, dead and live cells together."""

    found: int
    density: Figure  # in the jar, B/mL
    cells_b: Figure  # in all of the jar
    viability: Figure  # by the stain


class LotPlan(NamedTuple):
    """One lot at the hour it goes into the first step, or into the beer."""

    kind: LotKind | None
    cells_b: Figure
    viability: Figure
    age_days: Figure
    viability_made: float
    raw_count: CountPlan | None  # of a counted lot, where its squares are given


class Hand(NamedTuple):
    """All lots together at that hour (`at`)."""

    cells_b: Figure
    lots: tuple[LotPlan, ...]
    at: datetime | None


class ReadingPlan(NamedTuple):
    """One hydrometer or refractometer reading, put right. `place` counts the session's readings from 0."""

    place: int
    step: int
    read_text: str
    true_w: Figure
    off_points: float | None  # gravity points over the planned wort of its feeding
    scale_c: float = 20.0  # for which a hydrometer's scale is made


class Fix(NamedTuple):
    """One way to bring a wort to the gravity planned: "powder" (g), "water" (mL) or a longer "boil" (s).

    `wort_l`: what there is of it then; `fits` the flask, None where that is not known.
    """

    what: str
    amount: Figure
    wort_l: float
    fits: bool | None


class FixPlan(NamedTuple):
    """What can be done about the gravity read at `place`; `harmless`: leaving it does no harm."""

    step: int
    place: int
    volume_l: Figure
    target_w: float
    fixes: tuple[Fix, ...]
    harmless: bool


class BathPlan(NamedTuple):
    """One flask from the boil to the temperature it grows at. `lifts_mm` None beside a `fill_mm`: it never floats.

    `after_tap_kg`: ice where tap water has first cooled it; `fill_mm`: how deep the bath may be, from its `low` on.
    """

    boil_c: Figure
    heat_kj: Figure
    ice_kg: Figure
    after_tap_kg: Figure
    float_mm: Figure
    fill_mm: Figure
    lifts_mm: float | None = None  # floats so deep with this boiled wort alone, as it cools: what `fill_mm` goes by


class SuppliesPlan(NamedTuple):
    """Powder left after this batch, nutrient for it, what its starter costs, and what packs would instead."""

    left_g: Figure
    nutrient_g: Figure
    cost: Figure
    instead: Figure


class FoamPlan(NamedTuple):
    """Foam at one boil: drops, silicone in the flask after it, and how far the next 100 mL of foam climb.

    `straight_mm` is how far in a straight pot on the same base; `climb_mm` None beside it: over the rim.
    """

    drops: Figure
    silicone_mg_per_l: Figure
    climb_mm: Figure
    straight_mm: Figure


class StepPlan(NamedTuple):
    """One feeding. Volumes per flask are of one of `count` equal flasks; wort, cells, powder, water are totals."""

    number: int
    wort_l: Figure
    gravity_w: Figure  # what it is, measured where it was measured
    planned_w: float
    powder_g: Figure
    powder_g_per_l: Figure
    water_l: Figure
    top_up_l: Figure
    boil_off_ml: Figure
    boil_time_s: Figure
    extract_g: Figure
    decant: bool
    motion: Motion
    temperature_c: Figure
    boil_in: BoilIn
    flask_l: Figure
    fill_fraction: float | None
    fill_limit_l: Figure
    headroom_ml: Figure
    rise_factor: Figure
    level_mm: Figure
    fill_fits: bool | None
    hot_boil_l: Figure
    boiling_l: Figure  # in one vessel: a flask, or the pot that takes it all
    boil_limit_l: Figure
    boil_fits: bool | None
    cells_in_b: Figure
    cells_out_b: Figure
    growth: float | None  # full out / in
    hours: Figure
    hours_range: tuple[float, float] | None
    hours_planned: float | None
    start: datetime | None
    end: datetime | None
    foam: FoamPlan
    bath: BathPlan


class Final(NamedTuple):
    """What goes into the beer (or into the fridge), and what is kept back."""

    cells_b: Figure
    kept_b: Figure
    kept_l: Figure  # what it stands in
    pitched_b: Figure
    meets_need: bool | None
    chance: Figure
    beer_gravity_w: Figure
    poured_l: Figure
    silicone_mg_per_l: Figure
    pitch: Pitch


class Coming(NamedTuple):
    """One batch to come, grown from what the one before kept: `number` 1 is the next.

    `holds`: neither kept nor pitched falls below what it was to be. None where that, or the need, is not known.
    """

    number: int
    start_b: Figure
    grown_b: Figure
    kept_b: Figure
    pitched_b: Figure
    meets_need: bool | None
    holds: bool | None


class Chain(NamedTuple):
    """The batches to come, and the one feeding a batch, in extract and in wort of `[wort]`, that holds them level."""

    batches: tuple[Coming, ...]
    runs_down: bool | None
    level_g: Figure
    level_l: Figure


class Moment(NamedTuple):
    """Something to do at an hour: `what` is a plain phrase, `step` counts from 1, 0 for none.

    Before `earliest` it would wait for nothing, after `latest` even quick growth is not done; `why` has no value, only
    the reason. `key` is where the warnings about it are. `done`: it is `stamped`, left out on purpose (`skipped`), or
    was before something that is done.
    """

    at: datetime
    what: str
    step: int
    key: str
    earliest: datetime | None
    latest: datetime | None
    why: Figure
    done: bool = False
    cautions: tuple[Caution, ...] = ()
    name: str = ""  # of the task among those of its step: "boil"
    figures: tuple[tuple[str, Figure], ...] = ()  # what is needed for it
    asks: str = ""  # what is to be entered with it: "gravity", the temperature of the "bath"
    stamped: datetime | None = None
    skipped: bool = False


class Plan(NamedTuple):
    """The whole plan of one session at one `now`."""

    session: Session
    now: datetime
    need: Need
    hand: Hand
    starter_needed: bool | None
    starter: Figure  # what lives at pitching if nothing is grown, and what follows from that
    planned_by: Literal["brewer", "planner", "none"]
    steps: tuple[StepPlan, ...]
    final: Final
    chain: Chain | None  # None where nothing is kept, or not known how much
    readings: tuple[ReadingPlan, ...]
    fixes: tuple[FixPlan, ...]
    supplies: SuppliesPlan
    moments: tuple[Moment, ...]
    fill_limit_l: Figure  # of one flask
    boil_limit_l: Figure
    flask: Shape
    measures: Measures  # of it, outside; own ones first
    warnings: tuple[Warning, ...]
    clock: ClockPlan | None  # None where there is no feeding
    next: Moment | None  # the task to be done next

    @property
    def wants_more_yeast(self) -> bool:
        """Whether no starter helps and the yeast falls short: dry yeast, or what is lost as it goes in."""
        return self.starter_needed is False and self.final.meets_need is False

    def warnings_at(self, key: str) -> tuple[Warning, ...]:
        """The warnings that concern one key."""
        return tuple(w for w in self.warnings if w.key == key)
