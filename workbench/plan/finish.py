"""The end of it: what is kept back, what goes into the beer, how sure that is, what it does to the beer's gravity."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from workbench.brewing import density, growth, spread, wort
from workbench.brewing.viability import left_after_cold
from workbench.plan import keep, settle, words
from workbench.plan.chance import in_words
from workbench.plan.foaming import beer_silicone
from workbench.plan.grown import HOLDS
from workbench.plan.made import kept_content
from workbench.plan.model import Figure, Final, Reason
from workbench.plan.shares import ENDS, estimate, shares
from workbench.plan.sources import LATTICE, MASS_BALANCE, MISSING, RECOMMENDED

if TYPE_CHECKING:
    from collections.abc import Callable

    from workbench.brewing.spread import Deviates
    from workbench.plan.culture import Course, Outcomes
    from workbench.plan.made import Content
    from workbench.plan.model import Hand, Need
    from workbench.session.model import Session

__all__ = ["final"]

_UNTOLD = Reason("the cells at the end cannot be told", MISSING)


class _Cells(NamedTuple):
    """Cells as they likely are, in every draw, and at the ends of each input; None and empty where not known."""

    likely_b: float | None
    drawn_b: list[float]
    ends_b: list[float]

    def after(self, loss: Callable[[float, Deviates], float]) -> _Cells:
        """What `loss` leaves of them, each at its deviates."""
        likely_b = None if self.likely_b is None else loss(self.likely_b, spread.LIKELY)
        drawn_b = [loss(b, z) for b, z in zip(self.drawn_b, spread.draws(), strict=False)]
        return _Cells(likely_b, drawn_b, [loss(b, z) for b, z in zip(self.ends_b, ENDS, strict=False)])


def final(
    session: Session, wanted: Need, on_hand: Hand, course: Course, drawn: Outcomes, contents: list[Content | None]
) -> Final:
    """Kept, pitched, chance and the beer's gravity; every figure None where the course stops short."""
    content = contents[-1] if contents else kept_content(session)
    out = _outcome(session, on_hand, course, drawn)
    pitch = settle.pitch(session)
    in_flask = bool(session.step) or (content is not None and content.volume_l > 0.0)  # else lots go in as they are
    through_decant = growth.CELLS_LEFT_BY_DECANT if pitch == "decanted" and in_flask else 1.0
    kept_b = None if out.likely_b is None else keep.kept_b(session, out.likely_b, content)
    share = keep.kept_share(session, out.likely_b, content)

    def poured_b(cells_b: float, z: Deviates) -> float:
        taken_b = 0.0 if wanted.shelf else keep.kept_b(session, cells_b, content) or 0.0
        return (cells_b - taken_b) * through_decant * left_after_cold(course.cold_days, z)

    pitched = out.after(poured_b) if kept_b is not None else _Cells(None, [], [])
    need_b = wanted.cells_b.value
    cells = _estimate(out, _grown_says(session, out))
    says = _pitched_says(out, pitched, through_decant, wanted, course)
    poured = _poured(content if in_flask else None, share)
    return Final(
        cells_b=cells,
        kept_b=keep.kept(session, cells, kept_b, content),
        kept_l=keep.kept_l(content, share),
        pitched_b=_estimate(pitched, says, _odds(pitched, wanted)),
        meets_need=None if pitched.likely_b is None or need_b is None else pitched.likely_b >= need_b,
        chance=_chance(pitched, wanted),
        beer_gravity_w=_beer_gravity(session, content, share, in_flask=in_flask),
        poured_l=poured,
        silicone_mg_per_l=beer_silicone(session, content, poured, decanted=pitch == "decanted"),
        pitch=pitch,
    )


def _outcome(session: Session, on_hand: Hand, course: Course, drawn: Outcomes) -> _Cells:
    """Cells at the end: after the last feeding, or on hand where there is none."""
    steps = len(session.step)
    if not steps:
        return _Cells(on_hand.cells_b.value, drawn.hand_b, drawn.swung.hand_b)
    out_b = course.fed[-1].out_b if len(course.fed) == steps else None
    drawn_b, ends_b = (cells.out_b[-1] if len(cells.out_b) == steps else [] for cells in (drawn, drawn.swung))
    return _Cells(out_b, drawn_b, ends_b)


def _estimate(cells: _Cells, says: str, unsure: str = "") -> Figure:
    if cells.likely_b is None:
        return Figure(None, "B", _UNTOLD)
    return estimate(cells.likely_b, "B", Reason(says, LATTICE, HOLDS, unsure), cells.drawn_b, cells.ends_b)


def _grown_says(session: Session, out: _Cells) -> str:
    where = f"after feeding {len(session.step)}" if session.step else "in all lots together"
    return f"{words.cells(out.likely_b or 0.0)} {where}"


def _pitched_says(out: _Cells, pitched: _Cells, through: float, wanted: Need, course: Course) -> str:
    """What goes off on the way, and how much of the need is left."""
    out_b, pitched_b = out.likely_b or 0.0, pitched.likely_b or 0.0
    cold_days = course.cold_days
    left = left_after_cold(cold_days)
    says, kept_b = words.cells(out_b), out_b - pitched_b / through / left
    if kept_b > 1e-9:
        says += f" - {words.cells(kept_b)} kept"
        says = f"({says})" if through * left < 1.0 else says
    says += f" × {through:g} (decant)" if through < 1.0 else ""
    says += f" × {left:.3f} ({cold_days:.1f} days in the cold beyond the rest)" if cold_days > 0.0 else ""
    says += f" = {words.cells(pitched_b)}" if pitched_b != out_b else ""
    return says + _of_need(pitched_b, wanted)


def _of_need(pitched_b: float, wanted: Need) -> str:
    need_b = wanted.cells_b.value
    return f", {100 * pitched_b / need_b:.0f} % of the {words.cells(need_b)} needed" if need_b else ""


def _met(pitched: _Cells, wanted: Need) -> int:
    """The draws that meet the need."""
    return sum(b >= (wanted.cells_b.value or 0.0) for b in pitched.drawn_b)


def _odds(pitched: _Cells, wanted: Need) -> str:
    """The chance in words; nothing where it is not known."""
    need_b = wanted.cells_b.value
    if not pitched.drawn_b or pitched.likely_b is None or need_b is None:
        return ""
    of_need = pitched.likely_b / need_b if need_b else 1.0
    goal = "all that is to be kept" if wanted.shelf else "the full rate"
    return in_words(_met(pitched, wanted) / len(pitched.drawn_b), of_need, goal)


def _chance(pitched: _Cells, wanted: Need) -> Figure:
    odds = _odds(pitched, wanted)
    if not odds or pitched.likely_b is None:
        return Figure(None, "1", Reason("needs the cells and the need", MISSING))
    met, draws = _met(pitched, wanted), len(pitched.drawn_b)
    likely = words.cells(pitched.likely_b) + _of_need(pitched.likely_b, wanted)
    says = f"{met} of {draws} draws meet the need; the likely pitch is {likely}: {odds}"
    why = Reason(says, LATTICE, "as far as the ranges of the inputs hold", "within 0.03 of endless draws")
    return Figure(met / draws, "1", why, shares=shares(pitched.ends_b))


def _poured(content: Content | None, kept_share: float | None) -> Figure:
    """What of the flask's content goes into the beer."""
    if content is None or kept_share is None:
        return Figure(None, "L", Reason("needs the wort's volume and what is kept", MISSING))
    poured_l = content.volume_l * (1.0 - kept_share)
    kept = f" - {words.litres(content.volume_l * kept_share)} kept" if kept_share else ""
    says = f"{words.litres(content.volume_l)} in the flask{kept} = {words.litres(poured_l)}"
    return Figure(poured_l, "L", Reason(says, MASS_BALANCE, "at 20 °C"))


def _beer_gravity(session: Session, poured: Content | None, kept_share: float | None, *, in_flask: bool) -> Figure:
    """Original gravity of the beer with the starter in it."""
    beer = session.beer
    if beer is None or beer.gravity_w is None:
        return Figure(None, "w", Reason("needs the beer's gravity", MISSING))
    if not in_flask or settle.pitch(session) == "decanted":
        says = f"nothing but yeast goes in: {words.gravity(beer.gravity_w)} as it was"
        return Figure(beer.gravity_w, "w", Reason(says, RECOMMENDED, "0 to 35 °P"))
    if poured is None or kept_share is None or beer.volume_l is None:
        return Figure(None, "w", Reason("needs the volumes of beer and starter", MASS_BALANCE))
    return _mixed(beer.volume_l, beer.gravity_w, poured, 1.0 - kept_share)


def _mixed(volume_l: float, beer_w: float, content: Content, share: float) -> Figure:
    mass_g, added_g = wort.finished_mass_g(volume_l, beer_w), share * content.mass_g
    w = (beer_w * mass_g + share * content.extract_g) / (mass_g + added_g)
    starter_w = content.original_w or 0.0
    says = (
        f"({mass_g:.0f} g × {100 * beer_w:.2f} °P + {added_g:.0f} g of starter × {100 * starter_w:.2f} °P) / "
        f"{mass_g + added_g:.0f} g = {100 * w:.2f} °P: {density.sg(beer_w):.4f} becomes {density.sg(w):.4f}"
    )
    return Figure(w, "w", Reason(says, MASS_BALANCE, "original extract, by mass", "the beer's volume"))
