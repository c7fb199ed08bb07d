"""Gas that working yeast gives off: why nothing with working yeast in it is ever sealed."""

from __future__ import annotations

__all__ = ["FERMENTED", "co2_l"]

CO2_PER_EXTRACT = 0.9565 / 2.0665  # g/g fermented: Balling, as given by Nielsen et al. 2007
FERMENTED = 0.62  # of the extract, in truth; three quarters by the hydrometer (recommended)
L_PER_G = 24.055 / 44.0095  # at 20 °C and 1 atm, an ideal gas


def co2_l(extract_g: float) -> float:
    """Litres of carbon dioxide, at 20 °C and 1 atm, from so many grams of extract."""
    return extract_g * FERMENTED * CO2_PER_EXTRACT * L_PER_G
