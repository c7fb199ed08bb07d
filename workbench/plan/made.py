"""The wort of each feeding, and what then stands in the flask: numbers only; `stepplan` turns them into figures."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from workbench.brewing import density, foam, wort
from workbench.errors import WortError
from workbench.plan import settle
from workbench.plan.boiled import really_boiled
from workbench.plan.readings import Measured, measured

if TYPE_CHECKING:
    from workbench.plan.boiled import Boiled
    from workbench.plan.habits import Habits
    from workbench.plan.settle import Asked
    from workbench.session.model import Session

__all__ = ["Content", "Made", "fill", "make", "poured_off"]


class Made(NamedTuple):
    """One feeding's wort: the recipe as planned; gravity, extract, mass and volume as measured where they were."""

    asked: Asked
    gravity_w: float
    wort_l: float | None
    extract_g: float | None
    mass_g: float | None
    powder_g: float | None
    water_l: float | None
    hot_l: float | None
    trouble: str = ""  # why no wort answers the request
    was_measured: bool = False
    boiled: Boiled | None = None  # where the boil is over, or wort was lost
    left: float = 1.0  # the share that samples not put back have left


class Content(NamedTuple):
    """All flasks together: volume, and the running sums of original extract, mass and silicone."""

    volume_l: float
    extract_g: float
    mass_g: float
    silicone_mg: float = 0.0

    @property
    def original_w(self) -> float | None:
        """Mass-weighted original extract fraction."""
        return self.extract_g / self.mass_g if self.mass_g > 0.0 else None

    def share(self, volume_l: float) -> float:
        """The share of it that so many litres are, all of it at most."""
        return min(1.0, volume_l / self.volume_l) if self.volume_l > 0.0 else 0.0


def make(session: Session, index: int, habits: Habits) -> Made:
    """The wort of feeding `index`, from the session's recipe and whatever was measured of it."""
    asked = settle.asked(session, index)
    if asked.wort_l is None:
        return Made(asked, asked.gravity_w, None, None, None, None, None, None)
    powder_g = water_l = hot_l = boiled = None
    trouble = ""
    try:
        balance = wort.solve(
            gravity_w=asked.gravity_w,
            wort_l=asked.wort_l,
            boil_off_ml=asked.boil_off_ml,
            top_up_l=asked.top_up_l,
            extract_fraction=session.wort.extract_fraction,
        )
        powder_g, water_l = balance.powder_g, balance.water_l
        hot_l = wort.hot_volume_l(powder_g + wort.water_mass_g(water_l), balance.extract_g)
        boiled = really_boiled(session, asked, powder_g, water_l)
    except WortError as error:
        trouble = str(error)
    found = measured(session, asked.number, habits)
    gravity_w, wort_l, mass_g, left = _as_it_is(asked, found, boiled)
    was_measured = found.gravity_w is not None or left < 1.0
    extract_g = gravity_w * mass_g
    return Made(
        *(asked, gravity_w, wort_l, extract_g, mass_g, powder_g, water_l, hot_l, trouble, was_measured, boiled, left)
    )


def _as_it_is(asked: Asked, found: Measured, boiled: Boiled | None) -> tuple[float, float, float, float]:
    """Gravity, volume and mass that the yeast really meets, less the samples not put back; the share they have left.

    Without a measured gravity the recipe stands, with the minutes really boiled; with one but no measured volume the
    planned mass does.
    """
    w, volume_l = asked.gravity_w, asked.wort_l or 0.0
    mass_g = wort.finished_mass_g(volume_l, w)
    if boiled is not None and boiled.lost_g:  # that is gone, whatever is read of the rest
        mass_g = max(0.0, mass_g - boiled.lost_g)
    if found.gravity_w is None and boiled is not None:
        w, mass_g = boiled.gravity_w, boiled.mass_g
        volume_l = mass_g / density.wort(w, 20.0)
    if found.gravity_w is not None:
        w = found.gravity_w
        if found.volume_l is not None:
            mass_g = wort.finished_mass_g(found.volume_l, w)
        volume_l = mass_g / density.wort(w, 20.0)
    left = 1.0
    if found.discarded_ml > 0.0 and volume_l > 0.0:
        left = max(0.0, 1.0 - found.discarded_ml / 1000.0 / volume_l)
    return w, volume_l * left, mass_g * left, left


def kept_content(session: Session) -> Content:
    """What kept lots bring along: spent wort, its original extract reckoned at the gravity of `[wort]`."""
    volume_l = settle.kept_liquid_l(session)
    mass_g = wort.finished_mass_g(volume_l, session.wort.gravity_w)
    return Content(volume_l, session.wort.gravity_w * mass_g, mass_g)


def poured_off(content: Content, left_l: float) -> Content:
    """What a decant leaves."""
    if content.volume_l <= left_l:
        return content
    share = left_l / content.volume_l
    return Content(left_l, content.extract_g * share, content.mass_g * share, content.silicone_mg * share)


def fill(session: Session, worts: list[Made]) -> list[Content | None]:
    """What stands in the flasks after each feeding; None from the first feeding without a volume on."""
    content = kept_content(session)
    left_l = settle.left_after_decant_l(session)
    after: list[Content | None] = []
    for made in worts:
        if made.wort_l is None or made.extract_g is None or made.mass_g is None:
            break
        if made.asked.decant:
            content = poured_off(content, left_l)
        drops = settle.drops(session, made.asked.wort_l or 0.0)
        content = Content(
            content.volume_l + made.wort_l,
            content.extract_g + made.extract_g,
            content.mass_g + made.mass_g,
            content.silicone_mg + made.left * foam.silicone_mg(drops, session.foam.drop_mg, session.foam.active),
        )
        after.append(content)
    return after + [None] * (len(worts) - len(after))
