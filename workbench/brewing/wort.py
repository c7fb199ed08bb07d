"""The target-gravity solver: a mass balance of powder, water, boil-off and top-up.

    extract = f · powder        w = extract / (powder + water + top_up - boiled)        wort = mass / ρ(w, 20 °C)

Water, top-up and boil-off are volumes of water at 20 °C; `w` is the mass fraction of extract (°P / 100);
f is the soluble extract per mass of powder (0.5 to 1). Exact conservation of mass; wort is taken as a sucrose solution.
"""

from __future__ import annotations

from typing import NamedTuple

from workbench.brewing import density
from workbench.brewing.roots import bisect
from workbench.errors import UnderdeterminedWort, WortImpossible

__all__ = ["Balance", "finished_mass_g", "hot_volume_l", "solve", "water_mass_g"]

G_PER_ML_WATER = density.RHO_WATER_20 / 1000.0


class Balance(NamedTuple):
    """One batch of wort, all terms known."""

    powder_g: float
    water_l: float
    gravity_w: float
    wort_l: float
    extract_g: float
    mass_g: float
    top_up_l: float
    boil_off_ml: float


def water_mass_g(volume_l: float) -> float:
    """Mass of water, g, of a volume at 20 °C."""
    return volume_l * 1000.0 * G_PER_ML_WATER


def finished_mass_g(wort_l: float, gravity_w: float) -> float:
    """Mass of wort, g, of a volume at 20 °C."""
    return wort_l * density.wort(gravity_w, 20.0)


def hot_volume_l(solids_and_water_g: float, extract_g: float) -> float:
    """Volume at 100 °C, L, of the wort as it comes to the boil: before boil-off and top-up."""
    return solids_and_water_g / density.wort(extract_g / solids_and_water_g, 100.0)


def solve(
    *,
    powder_g: float | None = None,
    water_l: float | None = None,
    gravity_w: float | None = None,
    wort_l: float | None = None,
    boil_off_ml: float = 0.0,
    top_up_l: float = 0.0,
    extract_fraction: float = 0.95,
) -> Balance:
    """The whole balance from any two of powder, water, gravity and finished wort.

    Raises UnderdeterminedWort unless exactly two are given, WortImpossible where no wort answers the request:
    gravity at or above the powder's own extract, more liquid boiled off or topped up than there is, and the like.
    """
    given = {"powder": powder_g, "water": water_l, "gravity": gravity_w, "wort": wort_l}
    known = frozenset(name for name, value in given.items() if value is not None)
    if len(known) != 2:
        have = " and ".join(sorted(known)) or "nothing"
        raise UnderdeterminedWort(
            f"the wort is settled by two of powder, water, gravity and volume, not by {len(known)} ({have}): give two"
        )
    f = extract_fraction
    added_g = water_mass_g(top_up_l) - water_mass_g(boil_off_ml / 1000.0)  # what top-up and boil-off do to the mass
    if gravity_w is not None:
        _check_gravity(gravity_w, f)
        mass_g = _mass_at_gravity(gravity_w, f, added_g, powder_g=powder_g, water_l=water_l, wort_l=wort_l)
    elif wort_l is not None:
        gravity_w = _gravity_of_volume(wort_l, f, added_g, powder_g=powder_g, water_l=water_l)
        mass_g = finished_mass_g(wort_l, gravity_w)
    else:
        assert powder_g is not None and water_l is not None  # noqa: S101, PT018 - the only pair left
        mass_g = powder_g + water_mass_g(water_l) + added_g
        gravity_w = _gravity_of_mass(powder_g, mass_g, f)
    extract_g = gravity_w * mass_g
    powder_g = extract_g / f if powder_g is None else powder_g
    if water_l is None:
        water_l = (mass_g - added_g - powder_g) / (1000.0 * G_PER_ML_WATER)
    if water_l < 0.0:
        raise WortImpossible(
            f"top-up, powder and boil-off leave {1000 * water_l:.0f} mL of water to begin with: "
            "use less top-up or make more wort"
        )
    boiled_g = mass_g - water_mass_g(top_up_l)  # what is left at the end of the boil
    if top_up_l and extract_g >= boiled_g * min(f, density.W_HIGH):
        raise WortImpossible(
            f"{max(0.0, boiled_g):.0f} g of wort are left at the end of the boil, too little for its extract: "
            "use less top-up or make more wort"
        )
    if wort_l is None:
        wort_l = mass_g / density.wort(gravity_w, 20.0)
    return Balance(powder_g, water_l, gravity_w, wort_l, extract_g, mass_g, top_up_l, boil_off_ml)


def _gravity_of_mass(powder_g: float, mass_g: float, f: float) -> float:
    if powder_g < 0.0 or mass_g <= 0.0 or f * powder_g / mass_g >= min(f, density.W_HIGH):
        raise WortImpossible(
            f"{powder_g:.0f} g of powder in {max(0.0, mass_g - powder_g):.0f} g of water is no wort: "
            "take more water or less powder"
        )
    return f * powder_g / mass_g


def _check_gravity(w: float, f: float) -> None:
    if w < 0.0:
        raise WortImpossible(f"{100 * w:.1f} °P is thinner than water: give a gravity above 1.000")
    if w >= min(f, density.W_HIGH):
        raise WortImpossible(
            f"a wort of {100 * w:.1f} °P cannot be made of powder with {100 * f:.0f} % extract: give a lower gravity"
        )


def _mass_at_gravity(
    w: float, f: float, added_g: float, *, powder_g: float | None, water_l: float | None, wort_l: float | None
) -> float:
    if wort_l is not None:
        return finished_mass_g(wort_l, w)
    if w == 0.0:
        raise WortImpossible("water alone has no gravity to solve for: give a gravity above 1.000")
    if powder_g is None:
        assert water_l is not None  # noqa: S101 - one of the three is given
        liquid_g = water_mass_g(water_l) + added_g
        if liquid_g <= 0.0:
            raise WortImpossible("all the water boils off: give more water or less boil-off")
        powder_g = liquid_g / (f / w - 1.0)
    return f * powder_g / w


def _gravity_of_volume(
    wort_l: float, f: float, added_g: float, *, powder_g: float | None, water_l: float | None
) -> float:
    top = min(f, density.W_HIGH)

    def surplus(w: float) -> float:
        mass_g = finished_mass_g(wort_l, w)
        if powder_g is not None:
            return w * mass_g - f * powder_g
        return mass_g * (1.0 - w / f) - (water_mass_g(water_l or 0.0) + added_g)

    try:
        return bisect(surplus, 0.0, top)
    except ValueError as error:
        given = f"{powder_g:.0f} g of powder" if powder_g is not None else f"{water_l:.2f} L of water"
        raise WortImpossible(
            f"{wort_l:.2f} L of wort cannot come of {given} with this boil-off and top-up: change one of them"
        ) from error
