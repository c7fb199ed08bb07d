"""What the brewer should know beside a figure: rules of the trade and of physics, each with its code.

Levels: `danger` can hurt someone or spoil the batch, `caution` wants a look, `note` is good to know. None of them stops
anything.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.brewing import density, growth, kinetics
from workbench.brewing.viability import CELLS_PER_GRAM_DRY, SPENT_BELOW
from workbench.plan import lots, settle, words
from workbench.plan.chance import chance_text
from workbench.plan.model import Level, Warning
from workbench.plan.readings import boil_over
from workbench.plan.remedy import dense_feeding_advice
from workbench.session.faults import named
from workbench.session.fields import FORMAT

if TYPE_CHECKING:
    from collections.abc import Iterator

    from workbench.brewing.starter import Fed
    from workbench.plan.culture import Course
    from workbench.plan.made import Made
    from workbench.plan.model import Chain, Final, Hand, LotPlan, Need, StepPlan
    from workbench.session.model import Lot, Session

__all__ = ["chain_warnings", "end_warnings", "lot_warnings", "missing", "step_warnings"]

USUAL_SG, ODD_SG = (1.030, 1.040), (1.020, 1.050)
STRONG_BEER_SG = 1.060
STRONG_RATE = {"ale": 1.0, "lager": 2.0}
MUCH_IN_BEER = 0.05
THIN_NOTE, THIN_CAUTION = 0.05, 0.02
MANY_GENERATIONS = 10  # at most so many: Brauwelt, Yeast management, 2002-06-15
MANY_CYCLES = 5  # recommended
# Slurry 10 to 14 days at most: a yeast producer's pages on storage; a jar of kept starter: common practice, no source.
USUAL_DAYS = {"slurry": 10, "kept": 30}


def missing(session: Session, on_hand: Hand) -> Iterator[Warning]:
    """What the plan still needs; first, whether this program knows all that the file may mean."""
    if session.format > FORMAT:
        text = f"format {named(session.format)}: this program reads format {FORMAT}, so figures may be wrong"
        yield Warning("newer-format", "caution", text, "format")
    if session.batch.pitch_at is None:
        goal = "fridge" if settle.is_shelf(session) else "beer"
        yield Warning("needs-pitch-time", "note", f"set the hour when the yeast goes into the {goal}", "batch.pitch_at")
    if settle.is_shelf(session):
        if session.keep is not None and session.keep.cells_b is None and session.keep.volume_l is None:
            yield Warning("needs-keep", "note", "set how many cells to keep", "keep.cells")
    else:
        beer = session.beer
        if beer is None or beer.volume_l is None:
            yield Warning("needs-beer", "note", "set the beer's volume", "beer.volume")
        if beer is None or beer.gravity_w is None:
            yield Warning("needs-beer", "note", "set the beer's gravity", "beer.gravity")
    yield from _missing_yeast(session, on_hand)


def _missing_yeast(session: Session, on_hand: Hand) -> Iterator[Warning]:
    unknown = [lots.stored(lot) is None for lot in session.yeast]
    if all(unknown):
        of_first = f"set what is missing of lot 1: {_lacking(session.yeast[0])}" if session.yeast else ""
        yield Warning("needs-yeast", "note", of_first or "add a lot of yeast whose day and cells are known", "yeast")
    else:
        for index in (index for index, is_unknown in enumerate(unknown) if is_unknown):
            text = f"left out: set {_lacking(session.yeast[index])}"
            yield Warning("lot-unknown", "caution", text, f"yeast.{index}")
    if on_hand.cells_b.value == 0.0:
        yield Warning("nothing-alive", "danger", "no yeast left alive: get fresh yeast", "yeast")


def _lacking(lot: Lot) -> str:
    """What a lot still needs, in words."""
    if lot.kind is None:
        return "its kind"
    counted = "the volume of its jar" if lot.squares else "its count"
    of_cells = {"dry": "its mass", "slurry": "its volume", "counted": counted}.get(lot.kind, "its cells")
    wanted = [("the day it was made", lot.made_on is None), (of_cells, lots.cells_when_made(lot) is None)]
    return " and ".join(text for text, missing in wanted if missing)


def lot_warnings(session: Session, course: Course, on_hand: Hand) -> Iterator[Warning]:
    """Lots that are spent, or not there yet, too often grown on, or long in store."""
    for index, (lot, plan) in enumerate(zip(session.yeast, on_hand.lots, strict=True)):
        yield from _worn(lot, plan, f"yeast.{index}")
        if course.at is None:
            continue
        viability = plan.viability.value
        if viability is not None and viability < SPENT_BELOW:
            text = f"{100 * viability:.1f} % alive after {plan.age_days.value or 0:.0f} days: counts as none"
            yield Warning("lot-spent", "caution", text, f"yeast.{index}")
        if 0.0 in (lot.cells_low_b, lot.cells_high_b):
            text = "a limit of 0 cells gives no range: the usual one is taken"
            yield Warning("no-range", "note", text, f"yeast.{index}.cells")
        made = lots.made_at(lot)
        if made is not None and course.at < made:
            text = f"made on {lot.made_on}, after it is to go in: start later or use other yeast"
            yield Warning("yeast-not-there-yet", "danger", text, f"yeast.{index}.made_on")


def _worn(lot: Lot, plan: LotPlan, key: str) -> Iterator[Warning]:
    """Yeast that has been grown on often, kept in a row often, or in store for longer than is usual."""
    if lot.generation >= MANY_GENERATIONS:
        text = f"generation {lot.generation}: {MANY_GENERATIONS} is the usual end, fresh yeast is due"
        yield Warning("many-generations", "note", text, f"{key}.generation")
    if lot.cycle >= MANY_CYCLES:
        text = f"kept {lot.cycle} times in a row: {MANY_CYCLES} is a fair end, fresh yeast is due"
        yield Warning("many-cycles", "note", text, f"{key}.cycle")
    days, usual = round(plan.age_days.value or 0.0), USUAL_DAYS.get(lot.kind or "")
    if usual is not None and days > usual:
        text = f"{days} d in store, over the usual {usual} d: fewer may live than is reckoned"
        yield Warning("kept-long", "note", text, f"{key}.made_on")


def step_warnings(
    session: Session, made: Made, plan: StepPlan, fed: Fed | None, end: tuple[Need, Final]
) -> Iterator[Warning]:
    """Everything about one feeding; `end` is what it leads to."""
    key = f"step.{plan.number - 1}"
    yield from _wort(session, made, key)
    yield from _flask(session, made, plan, key)
    yield from _yeast(session, plan, fed, end, key)


def _wort(session: Session, made: Made, key: str) -> Iterator[Warning]:
    if made.wort_l is None:
        yield Warning("needs-wort", "note", "set how much wort goes in", f"{key}.wort")
    if made.trouble:
        yield Warning("wort-impossible", "danger", made.trouble, f"{key}.wort")
    if made.wort_l is not None and made.gravity_w <= 0.0:
        yield Warning("reads-as-water", "caution", "by its reading this is water: nothing to grow on", f"{key}.gravity")
        return
    sg = density.sg(made.gravity_w)
    if not ODD_SG[0] <= sg <= ODD_SG[1]:
        yield Warning("wort-strength", "caution", _usual(sg, ODD_SG), f"{key}.gravity")
    elif not USUAL_SG[0] <= sg <= USUAL_SG[1]:
        yield Warning("wort-strength", "note", _usual(sg, USUAL_SG), f"{key}.gravity")
    beer_sg = density.sg(session.beer.gravity_w) if session.beer is not None and session.beer.gravity_w else None
    if beer_sg is not None and sg >= beer_sg:
        text = f"as strong as the beer ({beer_sg:.3f}): hard on the yeast, make it weaker"
        yield Warning("starter-near-beer", "caution", text, f"{key}.gravity")
    elif beer_sg is not None and sg > USUAL_SG[1] and sg > beer_sg - 0.010:
        text = f"within 10 points of the beer ({beer_sg:.3f})"
        yield Warning("starter-near-beer", "note", text, f"{key}.gravity")


def _usual(sg: float, band: tuple[float, float]) -> str:
    return f"{sg:.3f} lies outside the usual {band[0]:.3f}–{band[1]:.3f}"


def _flask(session: Session, made: Made, plan: StepPlan, key: str) -> Iterator[Warning]:
    flask_l, brim_l = plan.flask_l.value, settle.flask_shape(session).brim_l
    if flask_l is not None and flask_l > brim_l:
        text = f"{words.litres(flask_l)} do not go in: the brim is at {words.litres(brim_l)}"
        yield Warning("overflows", "danger", text, f"{key}.flask")
    elif plan.fill_fits is False and flask_l is not None:
        limit = words.litres(plan.fill_limit_l.value or 0.0)
        text = f"{words.litres(flask_l)} in the flask, over {limit}: foam may climb out"
        yield Warning("over-fill", "caution", text, f"{key}.flask")
    if plan.boil_fits is False and boil_over(session, plan.number) is None:
        hot, limit = words.litres(plan.hot_boil_l.value or 0.0), words.litres(plan.boil_limit_l.value or 0.0)
        text = f"{hot} at the boil, over {limit}: it may boil over and scald; use a pot, or boil less and top up"
        yield Warning("boil-over", "danger", text, f"{key}.hot_boil")
    if made.asked.boil_in == "flask" and plan.number > 1:
        yield _boil_in_flask(session, made, plan, f"{key}.boil_in")
    if plan.number == 1 and plan.decant and not made.asked.decant:
        yield Warning("decant-nothing", "note", "nothing to pour off yet: ignored", f"{key}.decant")


def _boil_in_flask(session: Session, made: Made, plan: StepPlan, key: str) -> Warning:
    """A later wort boiled in a flask: that must be free of yeast, which shares out to all of them."""
    count, flask_l = session.flask.flasks, plan.flask_l.value
    before_l = count * flask_l - (made.wort_l or 0.0) if flask_l is not None else 0.0
    if count > 1 and before_l <= (count - 1) * settle.fill_limit_l(session) + 1e-9:
        text = f"in a flask free of yeast: first bring what has grown together in the other{'s' if count > 2 else ''}"
        return Warning("boil-in-free-flask", "note", text, key)
    holds = "the flask holds" if count == 1 else f"all {count} flasks hold"
    return Warning("boil-on-yeast", "danger", f"{holds} yeast: boil this wort in a pot", key)


def _yeast(session: Session, plan: StepPlan, fed: Fed | None, end: tuple[Need, Final], key: str) -> Iterator[Warning]:
    if fed is None:
        return
    if fed.slow:
        degrees = plan.temperature_c.value or 0.0
        cold = kinetics.is_too_cold(degrees, settle.yeast_type(session))
        text = f"takes over two weeks at {degrees:g} °C, no hours can be told: set it nearer 20 °C, or start with more"
        yield Warning("too-cold" if cold else "too-warm", "caution", text, f"{key}.temperature")
    if 0.0 < fed.inoculum < THIN_NOTE:
        yield _thin(fed.inoculum, key)
    if fed.inoculum > growth.DENSE_R:
        need, final = end
        yield Warning("dense-start", "note", dense_feeding_advice(session, plan, final, need), f"{key}.cells")


def _thin(r: float, key: str) -> Warning:
    level: Level = "note" if r >= THIN_CAUTION else "caution"
    text = f"only {1000 * r:.2g} M cells per g of extract: long growth, other germs may win; start smaller"
    if r < growth.MIN_R:
        text += "; too thin to give a count"
    return Warning("thin-start", level, text, f"{key}.cells")


def end_warnings(session: Session, wanted: Need, final: Final) -> Iterator[Warning]:
    """Everything about the pitch."""
    need_b, pitched_b = wanted.cells_b.value, final.pitched_b.value
    if final.meets_need is False and need_b is not None and pitched_b is not None:
        short = need_b - pitched_b
        text = f"{words.cells(short)} ({100 * short / need_b:.0f} %) under the need"
        if settle.all_dry(session) and not session.step:
            text += f": {words.grams(short / CELLS_PER_GRAM_DRY.likely)} more dry yeast would meet it"
        yield Warning("short", "caution", text, "final.pitched")
    chance = final.chance.value
    if session.step and chance is not None and chance < session.batch.chance - 1e-9:
        text = f"{chance_text(chance)} where {session.batch.chance:g} was asked for"
        text += ", on the one feeding" if len(session.step) == 1 else ""
        yield Warning("chance-missed", "note", text, "final.chance")
    beer = session.beer
    if beer is not None and beer.gravity_w is not None and not settle.all_dry(session):
        strong = STRONG_RATE[beer.type]
        if density.sg(beer.gravity_w) >= STRONG_BEER_SG - 1e-9 and settle.pitch_rate(session) < strong:
            text = f"for beers of {STRONG_BEER_SG:.3f} and more {strong:.1f} is the usual rule"
            yield Warning("strong-beer", "note", text, "beer.pitch_rate")
    poured_l = final.poured_l.value
    if final.pitch == "whole" and beer is not None and beer.volume_l and poured_l is not None:
        yield from _dilutes(beer.volume_l, beer.gravity_w, poured_l, final)


def _dilutes(beer_l: float, beer_w: float | None, poured_l: float, final: Final) -> Iterator[Warning]:
    if poured_l <= MUCH_IN_BEER * beer_l:
        return
    text = f"whole, it adds {words.litres(poured_l)}"
    mixed_w = final.beer_gravity_w.value
    if beer_w is not None and mixed_w is not None:
        text += f" and takes the beer from {words.gravity(beer_w)} to {words.gravity(mixed_w)}"
    yield Warning("dilutes", "note", text, "final.beer_gravity")


def chain_warnings(session: Session, wanted: Need, chain: Chain | None) -> Iterator[Warning]:
    """That the batches to come run down, or fall short time after time, with the first that does."""
    first = next((batch for batch in chain.batches if batch.holds is False), None) if chain is not None else None
    if chain is None or first is None:
        return
    need_b, keep_b = wanted.cells_b.value, session.keep.cells_b if session.keep is not None else None
    kept_b, pitched_b = first.kept_b.value, first.pitched_b.value
    level = keep_b is not None and all((batch.kept_b.value or 0.0) >= 0.999 * keep_b for batch in chain.batches)
    if kept_b is None or pitched_b is None:
        text = f"only {words.cells(first.start_b.value or 0.0)} left at its start"
    elif not wanted.shelf and first.meets_need is False and need_b is not None:
        text = f"{words.cells(pitched_b)} pitched of {words.cells(need_b)}"
    else:
        text = f"{words.cells(kept_b)} kept of {words.cells(keep_b or 0.0)}"
    how = "falls short" if level else "runs down"
    yield Warning("runs-down", "note", f"{how}, batch +{first.number}: {text}", "keep")
