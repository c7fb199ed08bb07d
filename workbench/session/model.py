"""What a session file says, typed and in base units, with the format's defaults filled in.

Base units are in the names: `_l` litres at 20 °C, `_g` grams, `_mg`, `_c` °C, `_s` seconds, `_b` billions of cells,
`_m`, `_mm`. A gravity is held as `_w`, the mass fraction of extract (°P / 100). `None` means left out where the default
depends on something else; `derive` settles those. `Session.given` tells which keys stand in the file.
"""

from __future__ import annotations

from datetime import date, datetime, time
from typing import Literal, NamedTuple

__all__ = [
    "Batch",
    "Bath",
    "Beer",
    "BeerType",
    "BoilIn",
    "Day",
    "Event",
    "Flask",
    "Foam",
    "Keep",
    "Lot",
    "LotKind",
    "Motion",
    "Pitch",
    "Place",
    "Reading",
    "ReadingKind",
    "Session",
    "Step",
    "Supplies",
    "WortHabits",
]

Pitch = Literal["whole", "decanted"]
BeerType = Literal["ale", "lager"]
LotKind = Literal["pack", "dry", "slurry", "kept", "counted"]
Motion = Literal["stirred", "swirled", "still"]
BoilIn = Literal["flask", "pot"]
ReadingKind = Literal["gravity", "brix", "temperature", "volume", "count"]


class Batch(NamedTuple):
    """`[batch]`: one beer, or one build for the shelf."""

    name: str = ""
    pitch_at: datetime | None = None
    pitch: Pitch | None = None
    chance: float = 0.5
    note: str = ""
    starter: bool = True  # False: nothing is proposed, the yeast goes in as it is


class Beer(NamedTuple):
    """`[beer]`: what the yeast is for."""

    volume_l: float | None = None
    gravity_w: float | None = None
    type: BeerType = "ale"
    pitch_rate: float | None = None  # million viable cells per mL and °P
    temperature_c: float | None = None  # when the yeast goes in


class Lot(NamedTuple):
    """One `[[yeast]]`: yeast on hand."""

    kind: LotKind | None = None
    made_on: date | None = None
    packs: int = 1  # or sachets
    cells_b: float | None = None  # pack: in each, when new; kept, counted: in all
    cells_low_b: float | None = None
    cells_high_b: float | None = None
    mass_g: float | None = None  # dry: of each
    volume_l: float | None = None  # slurry; kept: the liquid it stands in; counted: the jar that was sampled
    density_b_per_ml: float = 1.2
    viability: float | None = None
    stored_at_c: float = 4.0
    from_file: str = ""
    generation: int = 0
    cycle: int = 0
    squares: tuple[int, ...] = ()  # counted: cells found in each square, dead and alive
    square_ul: float = 0.1  # volume over one square
    dilution: float = 1.0  # times the sample was diluted
    stained: int | None = None  # dead ones among all that were found


class Flask(NamedTuple):
    """`[flask]`: the glass; volumes, glass and limits are of one of `flasks` equal ones."""

    size_l: float = 3.0
    fill_limit_l: float | None = None
    boil_limit_l: float | None = None
    glass_g: float | None = None
    flasks: int = 1  # equal ones that share each feeding
    base_mm: float | None = None
    height_mm: float | None = None
    neck_mm: float | None = None
    wall_mm: float | None = None
    brim_l: float | None = None


class WortHabits(NamedTuple):
    """`[wort]`: how wort is made here."""

    gravity_w: float = 0.0  # the format's default, SG 1.034, is filled in by the reader
    extract_fraction: float = 0.95
    boil_time_s: float = 600.0
    boil_off_ml: float = 80.0
    boil_off_pot_ml: float = 200.0
    boil_in: BoilIn = "flask"
    motion: Motion = "stirred"
    temperature_c: float = 21.0
    rest_s: float | None = None
    left_after_decant_l: float | None = None


class Foam(NamedTuple):
    """`[foam]`: foam control, a silicone emulsion by the drop."""

    drops_per_gallon: float = 2.0
    active: float = 0.10
    drop_mg: float = 50.0
    drops: int | None = None


class Bath(NamedTuple):
    """`[bath]`: plain water in the ice bath before the ice goes in, and how fast this flask was found to cool in it."""

    water_l: float = 0.0
    temperature_c: float = 15.0
    rate_per_min: float | None = None  # Newton's k
    rate_error_per_min: float | None = None


class Place(NamedTuple):
    """`[place]`."""

    altitude_m: float = 0.0


class Day(NamedTuple):
    """`[day]`: how long preparing takes and when the brewer is awake."""

    prepare_s: float = 4500.0
    awake: tuple[time, time] = (time(7, 0), time(22, 30))
    hours_s: float | None = None  # the most from the first yeast in to pitching that the planner may take


class Supplies(NamedTuple):
    """`[supplies]`: powder on hand and what things cost; prices are in the brewer's own money."""

    powder_g: float | None = None
    powder_price: float | None = None  # of a kilogram
    pack_price: float | None = None
    nutrient_g_per_l: float | None = None


class Step(NamedTuple):
    """One `[[step]]`: a feeding of fresh wort. `None`: as `[wort]` says."""

    wort_l: float | None = None
    gravity_w: float | None = None
    top_up_l: float = 0.0
    decant: bool = False
    hours_s: float | None = None
    temperature_c: float | None = None
    motion: Motion | None = None
    boil_time_s: float | None = None
    boil_off_ml: float | None = None
    boil_in: BoilIn | None = None
    locked: bool = False  # stands when the planner fills in the others


class Keep(NamedTuple):
    """`[keep]`: part of the finished starter held back, as cells or as a volume, and how long until it is used."""

    cells_b: float | None = None
    volume_l: float | None = None
    every_s: float = 28 * 86400.0


class Reading(NamedTuple):
    """One `[[reading]]`: what was measured. `value` is in the base unit of its kind (w, °Bx, °C, L, B).

    `mark` holds the other clock of the stamp, as `units.mark` writes it.
    """

    at: datetime | None = None
    step: int = 1
    kind: ReadingKind | None = None
    value: float | None = None
    temperature_c: float | None = None
    discarded_ml: float = 0.0
    mark: str = ""


class Event(NamedTuple):
    """One `[[event]]`: what happened, and what was entered with it."""

    at: datetime | None = None
    step: int = 1
    what: str = ""
    task: str = ""
    mark: str = ""
    temperature_c: float | None = None  # cool-on: of the bath
    volume_l: float | None = None  # lost: so much wort
    length_s: float | None = None  # boil-length: it is to last so long
    text: str = ""  # note


class Session(NamedTuple):
    """The whole file. `beer` is None where the table is absent: a build for the shelf, if `keep` is there."""

    batch: Batch = Batch()
    beer: Beer | None = None
    yeast: tuple[Lot, ...] = ()
    flask: Flask = Flask()
    wort: WortHabits = WortHabits()
    foam: Foam = Foam()
    bath: Bath = Bath()
    place: Place = Place()
    day: Day = Day()
    supplies: Supplies = Supplies()
    step: tuple[Step, ...] = ()
    keep: Keep | None = None
    reading: tuple[Reading, ...] = ()
    event: tuple[Event, ...] = ()
    given: frozenset[str] = frozenset()  # dotted keys that stand in the file: "beer.volume", "step.0.wort"
    format: int = 1  # that the file says; a newer one is shown only

    def is_given(self, key: str) -> bool:
        """Whether the brewer wrote this key, e.g. `"step.0.gravity"`."""
        return key in self.given
