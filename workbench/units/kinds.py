"""The kinds of quantity and their units, with every spelling that a brewer may type.

Factors are exact by definition: inch 25.4 mm, foot 0.3048 m, pound 0.45359237 kg, ounce 1/16 of it (NIST Special
Publication 811, Appendix B); US liquid gallon 231 cubic inches and its parts (NIST Handbook 44, Appendix C).
"""

from __future__ import annotations

from workbench.units.unit import Kind, Plato, SpecificGravity, Unit

__all__ = [
    "BRIX",
    "CELLS",
    "DENSITY",
    "DURATION",
    "GRAVITY",
    "KINDS",
    "LENGTH",
    "MASS",
    "SMALL_LENGTH",
    "SMALL_VOLUME",
    "TEMPERATURE",
    "VOLUME",
    "Kind",
    "Unit",
]


def _words(text: str) -> tuple[str, ...]:
    """Spellings, written with commas between."""
    return tuple(text.split(", "))


_INCH_M = 0.0254
_FOOT_M = 0.3048
_POUND_G = 453.59237
_GALLON_L = 3.785411784  # 231 × 0.254³ dm³

VOLUME = Kind(
    "volume",
    "L",
    (
        Unit("L", 1.0, 0.0, _words("l, litre, liter, litres, liters, ltr")),
        Unit("mL", 1e-3, 0.0, _words("ml, millilitre, milliliter, millilitres, milliliters, cc, cm³")),
        Unit("hL", 100.0, 0.0, _words("hl, hectolitre, hectoliter, hectolitres, hectoliters")),
        Unit("gal", _GALLON_L, 0.0, _words("gal, gals, gallon, gallons, us gal, us gallon, us gallons")),
        Unit("qt", _GALLON_L / 4, 0.0, _words("qt, qts, quart, quarts, us qt, us quart, us quarts")),
        Unit("pt", _GALLON_L / 8, 0.0, _words("pt, pts, pint, pints, us pt, us pint, us pints")),
        Unit("cup", _GALLON_L / 16, 0.0, _words("cup, cups, us cup, us cups")),
        Unit(
            "fl oz",
            _GALLON_L / 128,
            0.0,
            _words("fl oz, floz, us fl oz, fl ounce, fl ounces, fluid oz, fluid ounce, fluid ounces, us fluid ounces"),
        ),
        Unit("tbsp", _GALLON_L / 256, 0.0, _words("tbsp, tbsps, tablespoon, tablespoons")),
        Unit("tsp", _GALLON_L / 768, 0.0, _words("tsp, tsps, teaspoon, teaspoons")),
    ),
    example="1.6 L",
    metric="L",
    us="gal",
)

SMALL_VOLUME = Kind(
    "small volume",
    "µL",
    (
        # "µ" is listed as what casefolding makes of it, the Greek letter.
        Unit("µL", 1.0, 0.0, _words("μl, ul, microlitre, microliter, microlitres, microliters, mm³")),
        Unit("mL", 1000.0, 0.0, _words("ml, millilitre, milliliter, millilitres, milliliters, cc, cm³")),
    ),
    example="0.1 µL",
    metric="µL",
    us="µL",
)

MASS = Kind(
    "mass",
    "g",
    (
        Unit("g", 1.0, 0.0, _words("g, gram, grams, gramme, grammes")),
        Unit("kg", 1000.0, 0.0, _words("kg, kgs, kilo, kilos, kilogram, kilograms, kilogramme, kilogrammes")),
        Unit("mg", 1e-3, 0.0, _words("mg, milligram, milligrams, milligramme, milligrammes")),
        Unit("oz", _POUND_G / 16, 0.0, _words("oz, ounce, ounces")),
        Unit("lb", _POUND_G, 0.0, _words("lb, lbs, pound, pounds")),
    ),
    example="150 g",
    metric="g",
    us="oz",
)

TEMPERATURE = Kind(
    "temperature",
    "°C",
    (
        Unit("°C", 1.0, 0.0, _words("°c, c, deg c, degc, degree c, degrees c, celsius, degrees celsius, °celsius")),
        Unit(
            "°F",
            5 / 9,
            -160 / 9,
            _words("°f, f, deg f, degf, degree f, degrees f, fahrenheit, degrees fahrenheit, °fahrenheit"),
        ),
    ),
    example="21 °C",
    metric="°C",
    us="°F",
)

DURATION = Kind(
    "duration",
    "s",
    (
        Unit("s", 1.0, 0.0, _words("s, sec, secs, second, seconds")),
        Unit("min", 60.0, 0.0, _words("min, mins, m, minute, minutes")),
        Unit("h", 3600.0, 0.0, _words("h, hr, hrs, hour, hours")),
        Unit("d", 86400.0, 0.0, _words("d, day, days")),
    ),
    example="90 min",
    metric="min",
    us="min",
)

CELLS = Kind(
    "cell count",
    "B",
    (
        Unit("B", 1.0, 0.0, _words("b, bn, billion, billions, b cells, bn cells, billion cells")),
        Unit("M", 1e-3, 0.0, _words("m, mn, million, millions, m cells, mn cells, million cells")),
    ),
    example="100 B",
    metric="B",
    us="B",
)

DENSITY = Kind(
    "cell density",
    "B/mL",
    (
        Unit(
            "B/mL",
            1.0,
            0.0,
            _words(
                "b/ml, b per ml, bn/ml, billion/ml, billion per ml, b cells/ml, billion cells/ml, billion cells per ml"
            ),
        ),
        Unit(
            "M/mL",
            1e-3,
            0.0,
            _words(
                "m/ml, m per ml, mn/ml, million/ml, million per ml, m cells/ml, million cells/ml, million cells per ml"
            ),
        ),
    ),
    example="1.2 B/mL",
    metric="B/mL",
    us="B/mL",
)

_METRE = _words("m, metre, meter, metres, meters")
_CENTIMETRE = _words("cm, centimetre, centimeter, centimetres, centimeters")
_MILLIMETRE = _words("mm, millimetre, millimeter, millimetres, millimeters")
_INCH = _words("in, inch, inches")

LENGTH = Kind(
    "length",
    "m",
    (
        Unit("m", 1.0, 0.0, _METRE),
        Unit("cm", 1e-2, 0.0, _CENTIMETRE),
        Unit("mm", 1e-3, 0.0, _MILLIMETRE),
        Unit("ft", _FOOT_M, 0.0, _words("ft, foot, feet")),
        Unit("in", _INCH_M, 0.0, _INCH),
    ),
    example="300 m",
    metric="m",
    us="ft",
)

SMALL_LENGTH = Kind(
    "short length",
    "mm",
    (
        Unit("mm", 1.0, 0.0, _MILLIMETRE),
        Unit("cm", 10.0, 0.0, _CENTIMETRE),
        Unit("m", 1000.0, 0.0, _METRE),
        Unit("in", 1000 * _INCH_M, 0.0, _INCH),
    ),
    example="166 mm",
    metric="mm",
    us="in",
)

BRIX = Kind(
    "Brix reading",
    "°Bx",
    (Unit("°Bx", 1.0, 0.0, _words("°bx, bx, brix, °brix, deg bx, deg brix, degrees brix")),),
    example="12.1 °Bx",
    metric="°Bx",
    us="°Bx",
)

GRAVITY = Kind(
    "gravity",
    "w",
    (
        # A factor that is no number: whoever reckons with it instead of `to_base` sees it at once.
        SpecificGravity("SG", float("nan"), 0.0, _words("sg, specific gravity")),
        Plato("°P", 0.01, 0.0, _words("°p, p, plato, °plato, deg p, degrees p, deg plato, degrees plato")),
    ),
    example="1.034",
    metric="SG",
    us="SG",
)

KINDS = (VOLUME, SMALL_VOLUME, MASS, TEMPERATURE, DURATION, CELLS, DENSITY, LENGTH, SMALL_LENGTH, BRIX, GRAVITY)
