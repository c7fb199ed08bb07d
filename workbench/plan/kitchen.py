"""What the planner has to work with, as numbers: portions of wort on a grid, limits, the lots at any lead, the aim."""

from __future__ import annotations

import math
from bisect import bisect_left
from typing import TYPE_CHECKING, NamedTuple

from workbench.brewing import growth, kinetics, starter, viability, wort
from workbench.brewing.spread import LIKELY
from workbench.errors import WortError
from workbench.plan import fixed, happened, lots, settle, supply
from workbench.plan.portion import Portion
from workbench.session.model import Step
from workbench.units.when import hours_between

if TYPE_CHECKING:
    from collections.abc import Sequence

    from workbench.brewing.viability import Stock
    from workbench.plan.settle import Asked
    from workbench.session.model import Session

__all__ = ["FITS_L", "MOST_RATIO", "MOST_STEPS", "Kitchen", "grid_step_l", "kitchen", "with_top_ups"]

MOST_STEPS = 4
MUCH_OF_BEER = 0.10  # a whole starter is to be no more of the beer, if it can be helped
TOP_UP_STEP_L = 0.05
FITS_L = 1e-9  # a volume at its limit fits
MOST_RATIO = 10.0  # a later feeding to the content before it
_GRIDS = ((1.0, 0.05), (2.0, 0.1), (4.0, 0.2))  # up to this fill limit of a flask, this step; then half litres
_MOST_POINTS = 120  # of the grid, for vats


class Kitchen(NamedTuple):
    """Volumes are totals over all flasks, at 20 °C."""

    chance: float  # with which the aim is to be met
    stored: tuple[tuple[viability.Lot, float], ...]  # each known lot, and its days in store at the reference hour
    likely: tuple[tuple[float, float, float, float], ...]  # of each: cells, share alive, loss a day, those days
    begun: bool  # the yeast is in; the reference hour is then that hour, else the pitching hour
    fill_l: float
    left_l: float  # after a decant
    liquid_l: float  # that kept lots bring along
    rest_h: float
    pitch_rests: int  # 1 where the finished starter is poured off
    need_b: float
    keep_b: float
    keep_l: float
    most_poured_l: float  # into the beer; infinite where it is poured off
    most_extract_g: float  # of the powder on hand
    most_hours: float  # from the first yeast in to pitching
    first: tuple[Portion, ...]  # for the first feeding, boiled as the kitchen boils
    later: tuple[Portion, ...]

    def stock(self, lead_h: float) -> Stock:
        """All known lots together, so many hours before the reference hour."""
        aged_days = lead_h / 24.0
        return viability.together(
            [
                viability.left(cells_b, share, loss, days - aged_days if days > aged_days else 0.0)
                for cells_b, share, loss, days in self.likely
            ]
        )

    def wanted_b(self, content_l: float) -> float:
        """Cells that the last feeding is to end with, if `content_l` then stands in the flasks."""
        through = growth.CELLS_LEFT_BY_DECANT if self.pitch_rests else 1.0
        if self.keep_l > 0.0:
            share = min(1.0, self.keep_l / content_l)
            return self.need_b / through / (1.0 - share) if share < 1.0 else math.inf
        return self.need_b / through + self.keep_b

    def poured_l(self, out_b: float, content_l: float) -> float:
        """What of the flasks' content is not held back."""
        if self.keep_l > 0.0:
            return content_l - min(self.keep_l, content_l)
        return content_l - (content_l * min(1.0, self.keep_b / out_b) if out_b > 0.0 else 0.0)

    def most_at_end_l(self, least: float = 1.0) -> float:
        """The most that is poured and kept at the end, with `least` of the aim, whatever the flasks hold."""
        if self.keep_l > 0.0:
            return self.most_poured_l + self.keep_l
        kept = self.keep_b / (least * self.wanted_b(self.fill_l)) if self.keep_b else 0.0
        return self.most_poured_l / (1.0 - kept) if kept < 1.0 else math.inf

    def content_l(self, before_l: float, wort_l: float, *, decant: bool) -> float:
        """What stands in the flasks after a feeding."""
        return (min(before_l, self.left_l) if decant else before_l) + wort_l

    def rests_h(self, pattern: Sequence[bool]) -> float:
        """Hours of cold rest up to pitching; `pattern` tells before which feedings spent wort is poured off."""
        return self.rest_h * (sum(pattern[1:]) + self.pitch_rests)


def grid_step_l(fill_limit_l: float) -> float:
    """The grid that volumes lie on, by the fill limit of one flask."""
    return next((step for most, step in _GRIDS if fill_limit_l <= most + FITS_L), 0.5)


def with_top_ups(session: Session, plain: Kitchen) -> Kitchen:
    """The same kitchen with what is too much for the boil boiled stronger and topped up; itself where nothing is."""
    first, later = _both_portions(session, topped=True)
    same = len(first) == len(plain.first) and len(later) == len(plain.later)
    return plain if same else plain._replace(first=first, later=later)


def kitchen(session: Session) -> Kitchen | None:
    """The kitchen of a session, wort boiled as it is; None where lots, need or hour are not known."""
    need_b = supply.need(session).cells_b.value
    first_in = happened.begun(session, 1)
    reference = first_in or session.batch.pitch_at
    known = [(lot, stored) for lot in session.yeast if (stored := lots.stored(lot)) is not None]
    if reference is None or need_b is None or not known:
        return None
    flask, keep = session.flask, session.keep
    first, later = _both_portions(session, topped=False)
    beer_l = session.beer.volume_l if session.beer is not None else None
    decanted = settle.pitch(session) == "decanted"
    supplies, hours_s = session.supplies, session.day.hours_s
    most_h = math.inf if hours_s is None else hours_s / 3600.0
    pitch_at = session.batch.pitch_at
    if first_in is not None and pitch_at is not None:
        most_h = min(most_h, hours_between(first_in, pitch_at) - fixed.idle_h(session))
    aged = tuple((stored, lots.days_in_store(lot, reference)) for lot, stored in known)
    return Kitchen(
        chance=session.batch.chance,
        stored=aged,
        likely=tuple((*viability.drawn(lot, LIKELY), days) for lot, days in aged),
        begun=first_in is not None,
        fill_l=flask.flasks * settle.fill_limit_l(session),
        left_l=settle.left_after_decant_l(session),
        liquid_l=settle.kept_liquid_l(session),
        rest_h=settle.rest_h(session),
        pitch_rests=int(decanted),
        need_b=need_b,
        keep_b=supply.keep_cells_b(session),
        keep_l=(keep.volume_l or 0.0) if keep is not None and not settle.is_shelf(session) else 0.0,
        most_poured_l=MUCH_OF_BEER * beer_l if beer_l is not None and not decanted else math.inf,
        most_extract_g=math.inf if supplies.powder_g is None else supplies.powder_g * session.wort.extract_fraction,
        most_hours=most_h,
        first=first,
        later=later,
    )


def _both_portions(session: Session, *, topped: bool) -> tuple[tuple[Portion, ...], tuple[Portion, ...]]:
    """For the first feeding and for any later one."""
    both = session._replace(step=(Step(), Step()))
    first, later = (_portions(both, settle.asked(both, index), topped=topped) for index in (0, 1))
    return first, later


def _portions(session: Session, asked: Asked, *, topped: bool) -> tuple[Portion, ...]:
    """Every volume of the grid that can be boiled, smallest first."""
    step_l, flasks = grid_step_l(settle.fill_limit_l(session)), session.flask.flasks
    most_l = flasks * settle.fill_limit_l(session)
    count = int(most_l / step_l + FITS_L)
    limit_l = flasks * settle.boil_limit_l(session) if asked.boil_in == "flask" else math.inf
    rate = kinetics.rate_per_h(asked.temperature_c, settle.yeast_type(session))
    g_per_l = wort.finished_mass_g(1.0, asked.gravity_w) * asked.gravity_w
    found: list[Portion] = []
    for n in range(1, count + 1, max(1, -(-count // _MOST_POINTS))):
        litres = round(n * step_l, 6)
        top_up_l = _top_up_l(asked, litres, limit_l, session.wort.extract_fraction, topped=topped)
        if top_up_l is not None:
            feeding = starter.Feeding(g_per_l * litres, decant=False, motion=asked.motion, rate=rate)
            found.append(Portion(litres, top_up_l, feeding))
        elif found:
            break  # more wort boils over all the more
    return tuple(found)


def _top_up_l(asked: Asked, litres: float, limit_l: float, f: float, *, topped: bool) -> float | None:
    """The least top-up that makes so much wort fit the boil; None where none does."""

    def over_l(top_up_l: float) -> float:
        balance = wort.solve(
            gravity_w=asked.gravity_w,
            wort_l=litres,
            boil_off_ml=asked.boil_off_ml,
            top_up_l=top_up_l,
            extract_fraction=f,
        )
        hot_g = balance.powder_g + wort.water_mass_g(balance.water_l)
        return wort.hot_volume_l(hot_g, balance.extract_g) - limit_l

    try:
        if over_l(0.0) <= FITS_L:
            return 0.0
        if not topped or limit_l == math.inf:
            return None
        # in a quarter of what is finished no wort of the usual strength is left to boil
        steps = range(1, int(0.75 * litres / TOP_UP_STEP_L) + 1)
        found = bisect_left(steps, 0.0, key=lambda n: -over_l(n * TOP_UP_STEP_L) + FITS_L)
        return round(steps[found] * TOP_UP_STEP_L, 6) if found < len(steps) else None
    except WortError:
        return None
