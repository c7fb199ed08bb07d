"""Powder, water and extract of one feeding as figures, each with its balance written out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.brewing import density
from workbench.plan import words
from workbench.plan.model import Figure, Reason
from workbench.plan.sources import MASS_BALANCE

if TYPE_CHECKING:
    from workbench.plan.made import Made
    from workbench.session.model import Session

__all__ = ["dose", "extract", "powder", "water"]


def _untold(made: Made) -> Reason:
    return Reason(made.trouble or "needs the wort's volume", MASS_BALANCE)


def powder(session: Session, made: Made) -> Figure:
    """Grams of powder to weigh."""
    asked, f = made.asked, session.wort.extract_fraction
    if made.powder_g is None or asked.wort_l is None:
        return Figure(None, "g", _untold(made))
    rho, w = density.wort(asked.gravity_w, 20.0), asked.gravity_w
    says = f"{words.litres(asked.wort_l)} × {rho:.1f} g/L × {w:.4f} / {f:g} = {made.powder_g:.1f} g"
    return Figure(
        made.powder_g, "g", Reason(says, MASS_BALANCE, "0 to 35 °P", "the powder's extract: 0.93 to 0.97 is usual")
    )


def dose(made: Made) -> Figure:
    """Grams of powder to the litre of finished wort."""
    wort_l = made.asked.wort_l
    if made.powder_g is None or not wort_l:
        return Figure(None, "g", _untold(made))
    says = f"{made.powder_g:.1f} g / {words.litres(wort_l)} = {made.powder_g / wort_l:.1f} g/L"
    return Figure(made.powder_g / wort_l, "g", Reason(says, MASS_BALANCE, "0 to 35 °P"))


def water(made: Made) -> Figure:
    """Litres of water to begin with."""
    asked = made.asked
    if made.water_l is None or made.powder_g is None or asked.wort_l is None:
        return Figure(None, "L", _untold(made))
    mass_g = asked.wort_l * density.wort(asked.gravity_w, 20.0)
    says = (
        f"{mass_g:.0f} g of wort - {made.powder_g:.0f} g powder + {asked.boil_off_ml:.0f} mL boiled off"
        f" - {1000 * asked.top_up_l:.0f} mL top-up = {words.litres(made.water_l)}"
    )
    return Figure(made.water_l, "L", Reason(says, MASS_BALANCE, "volumes at 20 °C", "the boil-off of this stove"))


def extract(made: Made) -> Figure:
    """Grams of extract that the yeast gets."""
    if made.extract_g is None or made.mass_g is None:
        return Figure(None, "g", _untold(made))
    says = f"{made.gravity_w:.4f} × {made.mass_g:.0f} g = {made.extract_g:.1f} g"
    return Figure(made.extract_g, "g", Reason(says, MASS_BALANCE, "0 to 35 °P"))
