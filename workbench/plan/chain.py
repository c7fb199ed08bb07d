"""The batches to come, each grown from what the one before kept: whether that holds level, and which feeding would.

Likely figures only. Every batch is taken to be as this one: the same beer, the same feedings, as much kept, and the
same days in the fridge before it.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from workbench.brewing import growth, spread, starter, viability
from workbench.brewing.roots import bisect
from workbench.brewing.wort import finished_mass_g
from workbench.plan import keep, settle, words
from workbench.plan.grown import HOLDS
from workbench.plan.model import Chain, Coming, Figure, Reason
from workbench.plan.sources import RECKONED

if TYPE_CHECKING:
    from collections.abc import Iterator

    from workbench.brewing.starter import Feeding
    from workbench.brewing.viability import Stock
    from workbench.plan.culture import Course
    from workbench.plan.made import Made
    from workbench.plan.model import Final, Need
    from workbench.session.model import Session

__all__ = ["Repeat", "chain", "follow", "level_l", "repeated"]

BATCHES = 4
_SMALLEST_L, _LARGEST_L = 20.0 / 2**14, 20.0
_STORED_AT_C = 4.0
_SAME = 1.0 - 1e-9  # so much of a figure is that figure


class Repeat(NamedTuple):
    """What every coming batch repeats. Cells in billions, volumes in litres, of all flasks together.

    What is kept is `keep_b`, else `keep_l` of the flask's content; `shelf`: all of it. `before_l` is the jar's liquid
    that is there when the wort goes on; `through` is the share of the cells that the decant before pitching leaves.
    """

    feedings: tuple[Feeding, ...]
    wort_w: float
    need_b: float | None
    keep_b: float | None
    keep_l: float
    content_l: float
    before_l: float
    days: float
    through: float
    shelf: bool

    def kept_b(self, out_b: float) -> float:
        """Cells kept of what has grown."""
        if self.shelf:
            return out_b * self.through
        return min(self.keep_b, out_b) if self.keep_b is not None else out_b * self.share(self.content_l)

    def share(self, content_l: float) -> float:
        """The share of the flask's content that is kept, where a volume is."""
        return min(1.0, self.keep_l / content_l) if content_l > 0.0 else 1.0

    def after(self, kept_b: float) -> Stock:
        """What is alive of the jar when the next batch begins."""
        stored = spread.Range(kept_b, kept_b, kept_b)
        lot = viability.Lot(stored, 1.0, viability.LOSS_PER_DAY["kept"], _STORED_AT_C)
        return viability.alive(lot, self.days)


def chain(session: Session, need: Need, final: Final, course: Course, worts: list[Made]) -> Chain | None:
    """The next four batches; None where nothing is kept or fed, or not known how much."""
    jar_b = keep.jar(session, final).cells_b.value
    if not jar_b or not worts or len(course.feedings) < len(worts):
        return None
    repeat = repeated(session, need, final, course, worts)
    batches = tuple(follow(repeat, jar_b))
    verdicts = {batch.holds for batch in batches}
    runs_down = True if False in verdicts else None if None in verdicts else False
    return Chain(batches, runs_down, *_level(repeat))


def repeated(session: Session, need: Need, final: Final, course: Course, worts: list[Made]) -> Repeat:
    """What the coming batches have in common; their first feeding goes onto a jar with its liquid."""
    asked = session.keep
    shelf = settle.is_shelf(session)
    poured = session.step[0].decant
    left_l = settle.left_after_decant_l(session)
    keep_l = asked.volume_l or 0.0 if asked is not None else 0.0
    before_l = min(keep_l, left_l) if poured else keep_l
    content_l = before_l
    for index, made in enumerate(worts):
        content_l = (min(content_l, left_l) if index and made.asked.decant else content_l) + (made.wort_l or 0.0)
    first, *later = (feeding._replace(cold_days=0.0) for feeding in course.feedings)  # that was this time
    return Repeat(
        feedings=(first._replace(decant=poured), *later),
        wort_w=session.wort.gravity_w,
        need_b=need.cells_b.value,
        keep_b=asked.cells_b if asked is not None and asked.volume_l is None else None,
        keep_l=keep_l,
        content_l=content_l,
        before_l=before_l,
        days=asked.every_s / 86400.0 if asked is not None else 0.0,
        through=growth.CELLS_LEFT_BY_DECANT if final.pitch == "decanted" else 1.0,
        shelf=shelf,
    )


def follow(repeat: Repeat, jar_b: float, count: int = BATCHES) -> Iterator[Coming]:
    """The coming batches, the first from a jar of `jar_b`; they end with one of which it cannot be told what grows."""
    for number in range(1, count + 1):
        stock = repeat.after(jar_b)
        fed = starter.feed_all(stock, repeat.feedings)
        out_b = fed[-1].out_b if len(fed) == len(repeat.feedings) else None
        aged = f"{words.cells(jar_b)} after {repeat.days:.3g} d at {_STORED_AT_C:g} °C: {words.cells(stock.live_b)}"
        if out_b is None:
            yield _untold(number, stock.live_b, aged)
            return
        jar_b = repeat.kept_b(out_b)
        yield _coming(repeat, number, (stock.live_b, out_b, jar_b), aged)


def _untold(number: int, start_b: float, aged: str) -> Coming:
    """A batch of which it cannot be told what grows: so few cells are left that the chain ends here."""
    why = Reason(f"{aged}, too few to tell what grows", RECKONED, HOLDS)
    unknown = Figure(None, "B", why)
    return Coming(number, Figure(start_b, "B", why), unknown, unknown, unknown, meets_need=None, holds=False)


def _coming(repeat: Repeat, number: int, cells: tuple[float, float, float], aged: str) -> Coming:
    start_b, out_b, kept_b = cells
    pitched_b = 0.0 if repeat.shelf else (out_b - kept_b) * repeat.through
    says = f"{aged}; fed as now {words.cells(out_b)}; {words.cells(kept_b)} kept, {words.cells(pitched_b)} pitched"
    why = Reason(says, RECKONED, HOLDS, "growth, and the loss in the fridge: likely figures only")
    start, grown, kept, pitched = (Figure(value_b, "B", why) for value_b in (start_b, out_b, kept_b, pitched_b))
    delivered_b = kept_b if repeat.shelf else pitched_b
    meets = None if repeat.need_b is None else delivered_b >= repeat.need_b * _SAME
    keeps = repeat.shelf or repeat.keep_b is None or kept_b >= repeat.keep_b * _SAME
    return Coming(number, start, grown, kept, pitched, meets_need=meets, holds=meets if keeps else False)


def _level(repeat: Repeat) -> tuple[Figure, Figure]:
    """The feeding that holds the chain level, in grams of extract and in litres of wort."""
    wort_l = level_l(repeat)
    if wort_l is None:
        why = Reason(_why_none(repeat), RECKONED)
        return Figure(None, "g", why), Figure(None, "L", why)
    keep_b, out_b = _wanted(repeat, wort_l)
    grams = _extract_g(repeat, wort_l)
    says = (
        f"one feeding of {words.grams(grams)}, {words.litres(wort_l)} of wort at {words.gravity(repeat.wort_w)},"
        f" grows {words.cells(repeat.after(keep_b).live_b)} to {words.cells(out_b)}, of which {words.cells(keep_b)} are"
        f" kept and again {words.cells(repeat.after(keep_b).live_b)} after {repeat.days:.3g} d"
    )
    why = Reason(says, RECKONED, HOLDS, "growth, and the loss in the fridge: likely figures only")
    return Figure(grams, "g", why), Figure(wort_l, "L", why)


def level_l(repeat: Repeat) -> float | None:
    """Litres of `[wort]`'s wort, in one feeding a batch, that meet need and keep time after time; the fewest that do.

    None where no feeding up to 20 L does.
    """
    if repeat.need_b is None:
        return None
    wort_l = _SMALLEST_L
    while _surplus_b(repeat, wort_l) < 0.0:
        wort_l *= 2.0
        if wort_l > _LARGEST_L:
            return None
    if wort_l == _SMALLEST_L:
        return wort_l
    return bisect(lambda litres: _surplus_b(repeat, litres), 0.5 * wort_l, wort_l)


def _surplus_b(repeat: Repeat, wort_l: float) -> float:
    """Cells grown over those wanted, from a jar that keeps just what is wanted."""
    keep_b, out_b = _wanted(repeat, wort_l)
    stock = repeat.after(keep_b) if math.isfinite(keep_b) else None
    one = repeat.feedings[-1]._replace(
        extract_g=_extract_g(repeat, wort_l), decant=repeat.feedings[0].decant, hours=None
    )
    grown_b = starter.feed_all(stock, (one,))[0].out_b if stock is not None else None
    return -math.inf if grown_b is None else grown_b - out_b


def _wanted(repeat: Repeat, wort_l: float) -> tuple[float, float]:
    """Cells to keep and cells to grow where need and keep are just met, time after time."""
    need_b = (repeat.need_b or 0.0) / repeat.through
    if repeat.shelf:
        return need_b * repeat.through, need_b
    if repeat.keep_b is not None:
        return repeat.keep_b, repeat.keep_b + need_b
    share = repeat.share(repeat.before_l + wort_l)
    out_b = need_b / (1.0 - share) if share < 1.0 else math.inf
    return share * out_b, out_b


def _extract_g(repeat: Repeat, wort_l: float) -> float:
    return repeat.wort_w * finished_mass_g(wort_l, repeat.wort_w)


def _why_none(repeat: Repeat) -> str:
    """What forbids a level chain."""
    if repeat.need_b is None:
        return "the need is not known, so no feeding can be told that would hold it"
    keep_b, _ = _wanted(repeat, _LARGEST_L)
    start_b = repeat.after(keep_b).live_b if math.isfinite(keep_b) else 0.0
    if repeat.feedings[-1].rate <= 0.0:
        return "at this temperature nothing grows"
    if start_b <= 0.0:
        return f"after {repeat.days:.3g} d nothing that was kept is alive: use it sooner"
    return f"no single feeding up to {_LARGEST_L:.0f} L grows enough from {words.cells(start_b)}: keep more"
