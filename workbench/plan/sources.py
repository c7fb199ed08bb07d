"""The sources that reasons name: who, when, and whether it was read, recalled or chosen."""

from __future__ import annotations

from workbench.plan.model import Source

__all__ = [
    "ARCHIMEDES",
    "ASKED",
    "ATTENUATION",
    "BALLING",
    "BALLING_GAS",
    "BARANYI",
    "BOILING",
    "BOTULISM",
    "BUBNIK",
    "CALORIMETRY",
    "CARBON_MONOXIDE",
    "DROPS",
    "EXTRACT",
    "GARWOOD",
    "GEOMETRY",
    "GLASS_CARE",
    "GROWTH_STILL",
    "GROWTH_STIRRED",
    "GROWTH_SWIRLED",
    "HYDROMETER",
    "LATTICE",
    "MASS_BALANCE",
    "MEASURED",
    "MISSING",
    "NEWTON",
    "PITCH_RATE",
    "PITCH_RATE_DRY",
    "PLANNED",
    "RECKONED",
    "RECOMMENDED",
    "SCALDS",
    "SILICONE",
    "SLURRY",
    "SOFT_GLASS",
    "STORAGE",
    "STORAGE_COUNTED",
    "TRADE",
    "USUAL",
    "WILSON",
    "WORT_STRENGTH",
]

TRADE = Source("a rule of the trade", "common practice")
RECOMMENDED = Source("no source found", "recommended")
ASKED = Source("the session file", "typed")
MISSING = Source("it has no default", "missing")
USUAL = Source("the usual value", "common practice")
PLANNED = Source("the fewest feedings, then the least hours and extract, that meet the need", "recommended")
RECKONED = Source("from the figures before it", "computed")
MEASURED = Source("your own measurement", "typed")
BUBNIK = Source("Bubnik, Kadlec, Urban, Bruhns, Sugar Technologists Manual, 1995, over Kell's water, 1975", "published")
MASS_BALANCE = Source("conservation of mass; density of sucrose solutions (Bubnik et al. 1995)", "published")
HYDROMETER = Source("Bubnik et al. 1995 for the wort, ISO 1768:1975 for the glass", "published")
BALLING = Source(
    "Balling's balance as given by Nielsen et al. 2007; refraction of ethanol, CRC Handbook 2021", "published"
)
PITCH_RATE = Source("S. Terrill, Aeration and Yeast Starters, 2010: 0.75 ale, 1.5 lager", "published")
PITCH_RATE_DRY = Source("dry yeast by the trade's dose: 0.4 ale, 0.8 lager", "common practice")
WORT_STRENGTH = Source("White & Zainasheff 2010: SG 1.030 to 1.040, read in texts that quote it", "quoted")
EXTRACT = Source("from 3 to 5 % of moisture in dry malt extract", "computed")
DROPS = Source("two drops a US gallon, as sold; the label comes first", "common practice")
SILICONE = Source("21 CFR 173.340, 10 ppm in food; E 900 in Regulation (EC) 1333/2008, 10 mg/L", "published")
ARCHIMEDES = Source("Archimedes' principle; measures outside, bath of 999.84 kg/m³", "computed")
BOILING = Source("IAPWS-IF97 (1997) at the pressure of the standard atmosphere, ISO 2533 (1975)", "memory")
CALORIMETRY = Source("heat balance; specific heat of sugar solutions by Bubnik et al. 1995", "published")
SCALDS = Source("Moritz & Henriques 1947 and US CPSC document 5098, read in texts that quote them", "quoted")
CARBON_MONOXIDE = Source("CDC, carbon monoxide; US CPSC, release 99-051, 1999", "published")
GLASS_CARE = Source("glassware makers' care pages; DURAN glassware properties, DWK Life Sciences, 2020", "published")
SOFT_GLASS = Source("ratings of a glassware maker (2007, revised 2016)", "published")
BOTULISM = Source("D. W. Hirsch, UConn Extension, Home Canning, Food Safety, and Botulism, 2015", "published")
NEWTON = Source("Newton's law of cooling, fitted by weighted least squares", "computed")
ATTENUATION = Source("Cutaia, Reid & Speers 2009 for the extract; 62 % fermented at the end (recommended)", "published")
BALLING_GAS = Source("Balling's balance as given by Nielsen et al. 2007; 62 % fermented (recommended)", "published")
SLURRY = Source("a yeast producer's figure for 40 to 60 % of solids, read in a text that quotes it", "quoted")
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
