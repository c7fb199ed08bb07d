"""The sources that reasons name: who, when, and whether it was read, recalled or chosen."""

from __future__ import annotations

from workbench.plan.model import Source

__all__ = [
    "ASKED",
    "BALLING",
    "BARANYI",
    "BUBNIK",
    "GARWOOD",
    "GEOMETRY",
    "GROWTH_STILL",
    "GROWTH_STIRRED",
    "GROWTH_SWIRLED",
    "HYDROMETER",
    "LATTICE",
    "MASS_BALANCE",
    "MEASURED",
    "PITCH_RATE",
    "PITCH_RATE_DRY",
    "RECKONED",
    "RECOMMENDED",
    "STORAGE",
    "STORAGE_COUNTED",
    "TRADE",
    "USUAL",
    "WILSON",
]

TRADE = Source("a rule of the trade", "common practice")
RECOMMENDED = Source("a choice of this program", "recommended")
ASKED = Source("as the session says", "typed")
USUAL = Source("left out: the usual value", "common practice")
RECKONED = Source("from the figures before it", "computed")
MEASURED = Source("as measured", "typed")
BUBNIK = Source("Bubnik, Kadlec, Urban, Bruhns, Sugar Technologists Manual, 1995, over Kell's water, 1975", "published")
MASS_BALANCE = Source("conservation of mass; density of sucrose solutions (Bubnik et al. 1995)", "published")
HYDROMETER = Source("Bubnik et al. 1995 for the wort, ISO 1768:1975 for the glass", "published")
BALLING = Source("Balling's balance as given by Nielsen et al. 2007; refraction of ethanol, CRC Handbook", "published")
PITCH_RATE = Source("S. Terrill, Aeration and Yeast Starters, 2010: 0.75 ale, 1.5 lager", "published")
PITCH_RATE_DRY = Source("dry yeast by the trade's dose", "common practice")
STORAGE = Source("loss after McCaig & Bendiak 1985; constants between brewery and home counts", "recommended")
STORAGE_COUNTED = Source(f"{STORAGE.cite}; limits of the count Garwood 1936, from memory", "recommended")
GARWOOD = Source("exact Poisson limits: F. Garwood, Biometrika, 1936", "memory")
WILSON = Source("limits of a share: E. B. Wilson, 1927", "memory")
GEOMETRY = Source("truncated cone and neck; typical flasks from secondary tables of ISO 1773 sizes", "computed")
GROWTH_STIRRED = Source("plateau of 1.4 B/g from memory of home trials (K. Troester, 2012-2013)", "recommended")
GROWTH_STILL = Source("White & Zainasheff 2010, table read in texts that quote it", "quoted")
GROWTH_SWIRLED = Source("between still and stirred; no published figures found", "recommended")
BARANYI = Source("curve Baranyi & Roberts 1994, temperatures Salvado et al. 2011; rates and lag chosen", "recommended")
LATTICE = Source("512 fixed draws of the four uncertain inputs", "computed")
