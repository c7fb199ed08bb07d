"""The end of it: what is kept back, what goes into the beer, how sure that is, what it does to the beer's gravity."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.brewing import density, growth, spread, wort
from workbench.brewing.viability import left_after_cold
from workbench.plan import keep, settle, words
from workbench.plan.made import kept_content
from workbench.plan.model import Figure, Final, Reason
from workbench.plan.sources import ASKED, LATTICE, MASS_BALANCE, RECOMMENDED

if TYPE_CHECKING:
    from workbench.brewing.spread import Deviates
    from workbench.plan.culture import Course, Outcomes
    from workbench.plan.made import Content
    from workbench.plan.model import Hand, Need
    from workbench.session.model import Session

__all__ = ["final"]

_UNTOLD = Reason("the cells at the end cannot be told", ASKED)


def final(
    session: Session, wanted: Need, on_hand: Hand, course: Course, drawn: Outcomes, contents: list[Content | None]
) -> Final:
    """Kept, pitched, chance and the beer's gravity; every figure None where the course stops short."""
    content = contents[-1] if contents else kept_content(session)
    out_b, column = _outcome(session, on_hand, course, drawn)
    pitch = settle.pitch(session)
    in_flask = bool(session.step) or (content is not None and content.volume_l > 0.0)  # else lots go in as they are
    through_decant = growth.CELLS_LEFT_BY_DECANT if pitch == "decanted" and in_flask else 1.0
    kept_b = None if out_b is None else keep.kept_b(session, out_b, content)
    share = keep.kept_share(session, out_b, content)

    def poured_b(cells_b: float, z: Deviates = spread.LIKELY) -> float:
        taken_b = 0.0 if wanted.shelf else keep.kept_b(session, cells_b, content) or 0.0
        return (cells_b - taken_b) * through_decant * left_after_cold(course.cold_days, z)

    known = out_b is not None and kept_b is not None
    pitched_b = poured_b(out_b) if out_b is not None and known else None
    pitched_draws = [poured_b(cells_b, z) for cells_b, z in zip(column, spread.draws(), strict=False)] if known else []
    poured_l = content.volume_l * (1.0 - share) if content is not None and share is not None and in_flask else None
    need_b = wanted.cells_b.value
    out = _estimate(out_b, column, "all lots together" if not session.step else "all that the last feeding grew")
    return Final(
        cells_b=out,
        kept_b=keep.kept(session, out, kept_b, content),
        kept_l=keep.kept_l(content, share),
        pitched_b=_estimate(pitched_b, pitched_draws, _pitched_says(out_b, pitched_b, through_decant, course)),
        meets_need=None if pitched_b is None or need_b is None else pitched_b >= need_b,
        chance=_chance(pitched_draws, need_b),
        beer_gravity_w=_beer_gravity(session, content, share, in_flask=in_flask),
        poured_l=Figure(poured_l, "L", Reason("what stands in the flask, less what is kept", MASS_BALANCE)),
        pitch=pitch,
    )


def _outcome(session: Session, on_hand: Hand, course: Course, drawn: Outcomes) -> tuple[float | None, list[float]]:
    """Cells at the end, likely and in every draw: after the last feeding, or on hand where there is none."""
    steps = len(session.step)
    if not steps:
        return on_hand.cells_b.value, drawn.hand_b
    done = course.fed[-1] if len(course.fed) == steps else None
    return done.out_b if done is not None else None, drawn.out_b[-1] if len(drawn.out_b) == steps else []


def _estimate(value_b: float | None, column: list[float], says: str) -> Figure:
    if value_b is None:
        return Figure(None, "B", _UNTOLD)
    low, high = spread.bounds(column, value_b) if column else (None, None)
    return Figure(value_b, "B", Reason(says, LATTICE, unsure="cells at the start and growth, mostly"), low, high)


def _pitched_says(out_b: float | None, pitched_b: float | None, through: float, course: Course) -> str:
    if out_b is None or pitched_b is None:
        return ""
    cold_days = course.cold_days
    left = left_after_cold(cold_days)
    taken_b = out_b - pitched_b / through / left
    kept = f" - {words.cells(taken_b)} kept" if taken_b > 1e-9 else ""
    poured = f" × {through:g} (decant)" if through < 1.0 else ""
    cold = f" × {left:.3f} ({cold_days:.1f} days in the cold beyond the rest)" if cold_days > 0.0 else ""
    return f"{words.cells(out_b)}{kept}{poured}{cold} = {words.cells(pitched_b)}"


def _chance(pitched: list[float], need_b: float | None) -> Figure:
    if not pitched or need_b is None:
        return Figure(None, "1", Reason("needs the cells and the need", LATTICE))
    met = sum(b >= need_b for b in pitched)
    says = f"{met} of {len(pitched)} draws pitch at least {words.cells(need_b)}"
    return Figure(met / len(pitched), "1", Reason(says, LATTICE, unsure="within 0.03 of endless draws"))


def _beer_gravity(session: Session, poured: Content | None, kept_share: float | None, *, in_flask: bool) -> Figure:
    """Original gravity of the beer with the starter in it."""
    beer = session.beer
    if beer is None or beer.gravity_w is None:
        return Figure(None, "w", Reason("needs the beer's gravity", ASKED))
    if not in_flask or settle.pitch(session) == "decanted":
        return Figure(beer.gravity_w, "w", Reason("nothing but yeast goes in", RECOMMENDED))
    if poured is None or kept_share is None or beer.volume_l is None:
        return Figure(None, "w", Reason("needs the volumes of beer and starter", MASS_BALANCE))
    return _mixed(beer.volume_l, beer.gravity_w, poured, 1.0 - kept_share)


def _mixed(volume_l: float, beer_w: float, content: Content, share: float) -> Figure:
    mass_g = wort.finished_mass_g(volume_l, beer_w)
    w = (beer_w * mass_g + share * content.extract_g) / (mass_g + share * content.mass_g)
    says = (
        f"{words.litres(volume_l)} at {density.sg(beer_w):.4f} and {words.litres(share * content.volume_l)} of starter"
        f" at {density.sg(content.original_w or 0.0):.4f} → {density.sg(w):.4f}"
    )
    return Figure(w, "w", Reason(says, MASS_BALANCE, "original extract, by mass"))
