"""Hydrometer and refractometer readings put right."""

from __future__ import annotations

from workbench.brewing import density

__all__ = [
    "BRIX_PER_PLATO",
    "HYDROMETER_SAMPLE_C",
    "REFRACTOMETER_SAMPLE_C",
    "alcohol_by_weight",
    "hydrometer_extract",
    "refractometer_extract",
    "refractometer_real_extract",
]

GLASS_EXPANSION_PER_K = 25e-6  # cubic, ISO 1768:1975 clause 3
HYDROMETER_SAMPLE_C = (0.0, 60.0)
REFRACTOMETER_SAMPLE_C = (10.0, 30.0)
BRIX_PER_PLATO = 1.04  # common practice, no source: set it per instrument
BRIX_PER_ALCOHOL = 0.415  # °Bx per % w/w of ethanol, from the CRC table of refractive indices (0.41 to 0.42 below 5 %)


def hydrometer_extract(reading_sg: float, sample_c: float, reference_c: float = 20.0) -> float:
    """Extract fraction w of a sample at `sample_c` °C in which a hydrometer made for `reference_c` shows `reading_sg`.

    R·ρ_water(t_ref)·(1 - γ(t - t_ref)) = ρ(w, t), solved for w. Valid for samples of 0 to 60 °C without alcohol or CO2;
    a sample outside raises ValueError.
    """
    low, high = HYDROMETER_SAMPLE_C
    if not low <= sample_c <= high:
        raise ValueError(f"a hydrometer sample at {sample_c:.0f} °C cannot be corrected: let it come to 0 to 60 °C")
    rho = reading_sg * density.water(reference_c) * (1.0 - GLASS_EXPANSION_PER_K * (sample_c - reference_c))
    return density.solve_extract(rho, sample_c)


def refractometer_extract(brix: float, factor: float = BRIX_PER_PLATO) -> float:
    """Extract fraction of unfermented wort from a temperature-compensated reading in °Bx."""
    return brix / factor / 100.0


def alcohol_by_weight(original_w: float, real_w: float) -> float:
    """Alcohol, mass fraction, by Balling's balance (Nielsen et al. 2007): (OE - RE) / (2.0665 - 0.010665 OE), in °P."""
    return (original_w - real_w) / (2.0665 - 1.0665 * original_w)


def refractometer_real_extract(brix: float, original_w: float, factor: float = BRIX_PER_PLATO) -> float:
    """Real extract fraction of fermenting wort: solves Brix/factor = RE + 0.415·A(OE, RE) for RE (linear in RE)."""
    share = BRIX_PER_ALCOHOL / (2.0665 - 1.0665 * original_w)
    return (brix / factor / 100.0 - share * original_w) / (1.0 - share)
