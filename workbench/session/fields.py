"""Every key of a session file, format 1: what it means, what it may hold, and where it goes in the model.

One table for the reader and for the editor at the keyboard; what is typical of each stands in `usual`.
"""

from __future__ import annotations

from workbench.brewing.density import extract_from_sg
from workbench.session import model
from workbench.session.field import Field, Table
from workbench.session.squares import Squares
from workbench.session.times import Awake, Day, Moment
from workbench.session.values import Flag, Number, Quantity, Range, Text, Whole, Words
from workbench.units.kinds import (
    BRIX,
    CELLS,
    DENSITY,
    DURATION,
    GRAVITY,
    LENGTH,
    MASS,
    SMALL_LENGTH,
    SMALL_VOLUME,
    TEMPERATURE,
    VOLUME,
)

__all__ = ["FORMAT", "READING_VALUES", "TABLES", "TABLE_ORDER", "field_of", "reading_field"]

FORMAT = 1

_ABOVE_0 = Range("above 0", above=True)
_FROM_0 = Range("0 or more")
_FROM_1 = Range("1 or more", low=1)
_SHARE = Range("0 to 1", high=1.0)
_SQUARE = Range("above 0, up to 10 µL", high=10.0, above=True)  # 1 µL is a large one
_RATE = Range("0.001 to 10", 0.001, 10.0)
_DEGREES = Range("-20 to 110 °C", low=-20.0, high=110.0)
_BEER = Range("0 to 35 °P", high=0.35)
_WORT = Range("above 0, up to 35 °P", high=0.35, above=True)
_READ = Range("0.990 to 1.160", low=extract_from_sg(0.990), high=extract_from_sg(1.160))
_BRIX = Range("-3 to 37 °Bx", low=-3.0, high=37.0)  # as far as the gravity of a reading goes


def _volume(example: str, allowed: Range = _ABOVE_0) -> Quantity:
    return Quantity(VOLUME, example, allowed)


def _millilitres(example: str) -> Quantity:
    return Quantity(VOLUME, example, _FROM_0, factor=1000.0)


def _duration(example: str, allowed: Range = _ABOVE_0) -> Quantity:
    return Quantity(DURATION, example, allowed)


def _degrees(example: str) -> Quantity:
    return Quantity(TEMPERATURE, example, _DEGREES)


def _cells(example: str) -> Quantity:
    return Quantity(CELLS, example, _FROM_0)


def _length(example: str) -> Quantity:
    return Quantity(SMALL_LENGTH, example, _ABOVE_0)


READING_VALUES: dict[str, Quantity] = {
    "gravity": Quantity(GRAVITY, "1.0335", _READ),
    "brix": Quantity(BRIX, "8.7 °Bx", _BRIX, bare=True),
    "temperature": _degrees("24 °C"),
    "volume": _volume("1.6 L"),
    "count": _cells("160 B"),
}
"""What the value of a reading may be, by its kind."""

_READING_MEANS = {
    "gravity": "gravity as it was read, not put right",
    "brix": "what the refractometer read, not put right",
    "temperature": "temperature as it was read",
    "volume": "volume as it was measured",
    "count": "live cells as they were counted, in all",
}
_MOTION = Words(("stirred", "swirled", "still"))
_BOIL_IN = Words(("flask", "pot"))

_BATCH = Table(
    "batch",
    model.Batch,
    (
        Field("name", "name", Text("Alder Lane Amber"), "what this batch is called"),
        Field("pitch_at", "pitch_at", Moment("2026-11-28T15:00:00+01:00"), "when the yeast goes into the beer"),
        Field("pitch", "pitch", Words(("whole", "decanted")), "whole starter, or spent wort poured off first"),
        Field(
            "chance",
            "chance",
            Number("0.5", Range("0.5 to 0.95", 0.5, 0.95), share=True),
            "how likely the need is to be met; 0.5 for even odds",
        ),
        Field("note", "note", Text("repeat of last spring"), "anything worth keeping"),
        Field("starter", "starter", Flag(), "false: no feedings are proposed, the yeast goes in as it is"),
    ),
)
_BEER_TABLE = Table(
    "beer",
    model.Beer,
    (
        Field("volume", "volume_l", _volume("23 L"), "beer in the fermenter"),
        Field("gravity", "gravity_w", Quantity(GRAVITY, "1.056", _BEER), "original gravity"),
        Field("type", "type", Words(("ale", "lager")), "sets the usual rate and growth temperatures"),
        Field(
            "pitch_rate",
            "pitch_rate",
            Number("0.75", Range("0.05 to 10", 0.05, 10.0)),
            "million live cells to pitch per mL and °P",
        ),
        Field("temperature", "temperature_c", _degrees("18 °C"), "of the beer when the yeast goes in"),
    ),
)
_YEAST = Table(
    "yeast",
    model.Lot,
    (
        Field("kind", "kind", Words(("pack", "dry", "slurry", "kept", "counted")), "what the yeast comes in"),
        Field("made_on", "made_on", Day("2026-10-19"), "packed, harvested, kept or counted on"),
        Field("count", "packs", Whole("1", _FROM_1), "how many packs or sachets"),
        Field(
            "cells",
            "cells_b",
            _cells("100 B"),
            "pack: in each, when new (label); kept, counted: in all",
        ),
        Field("cells_low", "cells_low_b", _cells("70 B"), "the fewest it may be"),
        Field("cells_high", "cells_high_b", _cells("140 B"), "the most it may be"),
        Field("mass", "mass_g", Quantity(MASS, "11.5 g", _ABOVE_0), "dry yeast in each sachet"),
        Field(
            "volume",
            "volume_l",
            _volume("150 mL"),
            "slurry; kept: the liquid it stands in; counted: the jar sampled",
        ),
        Field(
            "density",
            "density_b_per_ml",
            Quantity(DENSITY, "1.2 B/mL", _ABOVE_0),
            "cells in the slurry",
        ),
        Field(
            "viability",
            "viability",
            Number("0.92", _SHARE, share=True),
            "live share of its cells, measured on that day",
        ),
        Field("stored_at", "stored_at_c", _degrees("4 °C"), "how cold it was kept"),
        Field("from", "from_file", Text("alder-lane-amber.toml"), "file of the batch it was kept from"),
        Field("generation", "generation", Whole("1", _FROM_0), "times this yeast was grown on; 10 is the usual limit"),
        Field("cycle", "cycle", Whole("1", _FROM_0), "times a starter was kept of it in a row; 5 is a fair limit"),
        Field("squares", "squares", Squares("42 38 51 47 40"), "cells in each square, dead and alive"),
        Field(
            "square",
            "square_ul",
            Quantity(SMALL_VOLUME, "0.1 µL", _SQUARE),
            "volume over one square: 0.004 µL (0.2 mm), 0.1 µL (1 mm)",
        ),
        Field("dilution", "dilution", Number("10", _FROM_1), "times the sample was diluted: 1 mL made up to 10 is 10"),
        Field("stained", "stained", Whole("12", _FROM_0), "dead cells, stained, among all that were found"),
    ),
    array=True,
)
_FLASK = Table(
    "flask",
    model.Flask,
    (
        Field("size", "size_l", _volume("3 L"), "what the flask is sold as"),
        Field("fill_limit", "fill_limit_l", _volume("2.7 L"), "most that may stand in the flask while growing"),
        Field("boil_limit", "boil_limit_l", _volume("2.1 L"), "most that may stand in the flask while boiling"),
        Field("glass", "glass_g", Quantity(MASS, "0.7 kg", _ABOVE_0), "the flask, empty"),
        Field("count", "flasks", Whole("1", _FROM_1), "how many equal flasks share each step"),
        Field("base", "base_mm", _length("166 mm"), "diameter of the base, outside"),
        Field("height", "height_mm", _length("305 mm"), "height to the rim"),
        Field("neck", "neck_mm", _length("52 mm"), "diameter of the neck, outside"),
        Field("wall", "wall_mm", _length("2.5 mm"), "thickness of the glass"),
        Field("brim", "brim_l", _volume("3.3 L"), "what it holds when full to the rim"),
    ),
)
_BOILING = (
    Field("boil_time", "boil_time_s", _duration("10 min"), "how long the wort boils"),
    Field("boil_off", "boil_off_ml", _millilitres("80 mL"), "water lost in that time in the flask"),
)
_WORT_TABLE = Table(
    "wort",
    model.WortHabits,
    (
        Field(
            "gravity",
            "gravity_w",
            Quantity(GRAVITY, "1.034", _WORT),
            "gravity of a feeding's wort that says nothing else",
        ),
        Field(
            "extract_fraction",
            "extract_fraction",
            Number("0.95", Range("0.5 to 1", 0.5, 1.0), share=True),
            "soluble extract per mass of powder",
        ),
        *_BOILING,
        Field("boil_off_pot", "boil_off_pot_ml", _millilitres("200 mL"), "water lost in that time in a pot"),
        Field("boil_in", "boil_in", _BOIL_IN, "where the wort boils, in the flask or in a pot"),
        Field("motion", "motion", _MOTION, "on a stir plate, swirled by hand now and then, or still"),
        Field("temperature", "temperature_c", _degrees("21 °C"), "how warm it grows"),
        Field("rest", "rest_s", _duration("24 h", _FROM_0), "cold rest before pouring off"),
        Field(
            "left_after_decant",
            "left_after_decant_l",
            _volume("150 mL", _FROM_0),
            "what stays with the yeast when it is poured off",
        ),
    ),
)
_FOAM = Table(
    "foam",
    model.Foam,
    (
        Field(
            "drops_per_gallon",
            "drops_per_gallon",
            Number("2", _FROM_0),
            "drops of foam control per US gallon; 0 for none",
        ),
        Field(
            "active",
            "active",
            Number("0.10", _SHARE, share=True),
            "silicone share of the emulsion",
        ),
        Field(
            "drop", "drop_mg", Quantity(MASS, "50 mg", _ABOVE_0, factor=1000.0), "what one drop of foam control weighs"
        ),
        Field("drops", "drops", Whole("2", _FROM_0), "drops for each boil, instead of the rule"),
    ),
)
_BATH = Table(
    "bath",
    model.Bath,
    (
        Field(
            "water",
            "water_l",
            _volume("4 L", _FROM_0),
            "plain water in the bath before the ice goes in",
        ),
        Field("temperature", "temperature_c", _degrees("15 °C"), "of the water in the bath, as it comes from the tap"),
        Field("rate", "rate_per_min", Number("0.09", _RATE), "how fast this flask cools in it, per minute"),
        Field("rate_error", "rate_error_per_min", Number("0.01", _RATE), "standard error of that rate"),
    ),
)
_ALTITUDE = Range("-500 to 9000 m", -500.0, 9000.0)
_PLACE = Table(
    "place",
    model.Place,
    (
        Field(
            "altitude",
            "altitude_m",
            Quantity(LENGTH, "300 m", _ALTITUDE),
            "height above the sea: sets the boiling point",
        ),
    ),
)
_DAY = Table(
    "day",
    model.Day,
    (
        Field("prepare", "prepare_s", _duration("75 min"), "from weighing to yeast in"),
        Field("awake", "awake", Awake(), "from when to when you are up"),
        Field(
            "hours",
            "hours_s",
            _duration("40 h"),
            "the most there is from the first yeast in to pitching",
        ),
    ),
)
_SUPPLIES = Table(
    "supplies",
    model.Supplies,
    (
        Field("powder", "powder_g", Quantity(MASS, "500 g", _FROM_0), "malt extract powder on hand"),
        Field("powder_price", "powder_price", Number("12", _FROM_0), "price of a kilogram of powder, in your money"),
        Field("pack_price", "pack_price", Number("9", _FROM_0), "price of a pack of yeast, in your money"),
        Field("nutrient", "nutrient_g_per_l", Number("0.1", _FROM_0), "grams of nutrient to a litre, by its label"),
    ),
)
_STEP = Table(
    "step",
    model.Step,
    (
        Field("wort", "wort_l", _volume("1.6 L"), "finished wort of this feeding"),
        Field("gravity", "gravity_w", Quantity(GRAVITY, "1.034", _WORT), "gravity of the wort of this feeding"),
        Field(
            "top_up",
            "top_up_l",
            _volume("0.5 L", _FROM_0),
            "boiled, cooled water after a strong boil, part of the wort",
        ),
        Field("decant", "decant", Flag(), "whether the spent wort is poured off first"),
        Field("hours", "hours_s", _duration("24 h"), "how long it grows"),
        Field("temperature", "temperature_c", _degrees("21 °C"), "how warm it grows"),
        Field("motion", "motion", _MOTION, "on a stir plate, swirled by hand now and then, or still"),
        *_BOILING,
        Field("boil_in", "boil_in", _BOIL_IN, "where this wort boils, in the flask or in a pot"),
        Field("locked", "locked", Flag(), "stands when the planner fills in the other feedings"),
    ),
    array=True,
)
_KEEP = Table(
    "keep",
    model.Keep,
    (
        Field("cells", "cells_b", _cells("60 B"), "cells held back for another batch"),
        Field("volume", "volume_l", _volume("0.5 L", _FROM_0), "or the volume held back, stirred up"),
        Field("every", "every_s", _duration("28 d"), "in the fridge from batch to batch"),
    ),
)
_STAMP = Moment("2026-11-27T15:40:12Z", past=True)
_MARK = Field("mark", "mark", Text("3f2a9c1b 12345.6"), "the clock that nobody sets, beside that stamp")
_READING = Table(
    "reading",
    model.Reading,
    (
        Field("at", "at", _STAMP, "when it was read"),
        Field("step", "step", Whole("1", _FROM_1), "of which step"),
        Field("kind", "kind", Words(tuple(READING_VALUES)), "what was measured"),
        Field(
            "value",
            "value",
            READING_VALUES["gravity"],
            "as read, not put right",
        ),
        Field("temperature", "temperature_c", _degrees("24 °C"), "temperature of the sample"),
        Field("discarded", "discarded_ml", _millilitres("100 mL"), "sample not put back"),
        _MARK,
    ),
    array=True,
)
_EVENT = Table(
    "event",
    model.Event,
    (
        Field("at", "at", _STAMP, "when it happened"),
        Field("step", "step", Whole("1", _FROM_0), "in which step; 0 for none"),
        Field("what", "what", Text("boil-on"), "what happened"),
        Field("task", "task", Text("chill"), "which task it was"),
        _MARK,
        Field(
            "temperature",
            "temperature_c",
            _degrees("2 °C"),
            "of the bath as the wort went in; ice water is at 0 to 4 °C",
        ),
        Field("volume", "volume_l", _volume("100 mL"), "wort that boiled over or was spilt"),
        Field("length", "length_s", _duration("12 min"), "how long the boil is to last"),
        Field("text", "text", Text("a little sulphur, else clean"), "a note of what was seen"),
    ),
    array=True,
)

TABLES: dict[str, Table] = {
    table.name: table
    for table in (
        *(_BATCH, _BEER_TABLE, _YEAST, _FLASK, _WORT_TABLE, _FOAM, _BATH, _PLACE, _DAY),
        *(_SUPPLIES, _STEP, _KEEP, _READING, _EVENT),
    )
}
"""Every table of the format, in the order in which a new file has them."""

TABLE_ORDER = tuple(TABLES)


def field_of(key: str, kind: str | None = None) -> Field:
    """The field of a dotted key, "beer.volume" or "step.0.wort"; KeyError for a key that the format has not.

    The value of a reading depends on what was measured: `kind`, gravity where that is not known.
    """
    name, _, rest = key.partition(".")
    field = TABLES[name].field(rest.rpartition(".")[2])
    if field is None:
        raise KeyError(key)
    return reading_field(field, kind) if key.startswith("reading.") else field


def reading_field(field: Field, kind: object) -> Field:
    """The field as it is in a reading of this kind: its value then is held to what that kind may be."""
    if field.key != "value" or kind not in READING_VALUES:
        return field
    return field._replace(value=READING_VALUES[str(kind)], means=_READING_MEANS[str(kind)])
