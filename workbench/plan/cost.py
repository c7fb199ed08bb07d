"""What powder and packs cost, in the brewer's own money, what is left of the powder, and how much nutrient goes in."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.plan import supply, words
from workbench.plan.model import Figure, Reason, SuppliesPlan
from workbench.plan.sources import ASKED, MASS_BALANCE, STORAGE

if TYPE_CHECKING:
    from collections.abc import Sequence

    from workbench.plan.model import Need, Plan, StepPlan
    from workbench.session.model import Session

__all__ = ["cost", "powder_g", "supplies_plan"]

_NO_PRICE = Reason("needs a price: powder_price, pack_price in [supplies]", ASKED)


def powder_g(plan: Plan) -> float:
    """Of all feedings."""
    return _used_g(plan.steps)


def cost(plan: Plan) -> Figure:
    """Powder of all feedings and packs of all lots; None where no price is given for what is used."""
    packs = sum(lot.packs for lot in plan.session.yeast if lot.kind in ("pack", "dry"))
    return _cost(plan.session, powder_g(plan), packs)


def supplies_plan(session: Session, steps: Sequence[StepPlan], need: Need) -> SuppliesPlan:
    """Powder left after the batch, what the starter costs, and what as many packs would that need none."""
    used_g = _used_g(steps)
    return SuppliesPlan(
        left_g=_left(session, used_g),
        nutrient_g=_nutrient(session, steps),
        cost=_cost(session, used_g, 0),
        instead=_instead(session, need.cells_b.value),
    )


def _used_g(steps: Sequence[StepPlan]) -> float:
    return sum(step.powder_g.value or 0.0 for step in steps)


def _left(session: Session, used_g: float) -> Figure:
    there_g = session.supplies.powder_g
    if there_g is None:
        return Figure(None, "g", Reason("needs the powder on hand: powder in [supplies]", ASKED))
    says = f"{words.grams(there_g)} on hand - {words.grams(used_g)} for all feedings"
    return Figure(there_g - used_g, "g", Reason(says, MASS_BALANCE, "below 0: it does not reach"))


def _nutrient(session: Session, steps: Sequence[StepPlan]) -> Figure:
    """Nutrient for all feedings by its label's rate."""
    rate, wort_l = session.supplies.nutrient_g_per_l, sum(step.wort_l.value or 0.0 for step in steps)
    if rate is None:
        return Figure(None, "g", Reason("needs the label's rate: nutrient in [supplies], grams to the litre", ASKED))
    says = f"{rate:g} g/L by its label × {words.litres(wort_l)} of wort"
    return Figure(rate * wort_l, "g", Reason(says, ASKED, "as its maker says"))


def _cost(session: Session, used_g: float, packs: int) -> Figure:
    prices = session.supplies
    parts = [
        (used_g / 1000.0, "kg", prices.powder_price),
        (float(packs), "packs" if packs != 1 else "pack", prices.pack_price),
    ]
    priced = [(amount, unit, price) for amount, unit, price in parts if price is not None and (amount or unit == "kg")]
    if not priced:
        return Figure(None, "money", _NO_PRICE)
    says = " + ".join(f"{amount:.3g} {unit} × {price:g}" for amount, unit, price in priced)
    total = sum(amount * price for amount, _, price in priced)
    return Figure(total, "money", Reason(f"{says} = {total:.2f}", ASKED, "at these prices"))


def _instead(session: Session, need_b: float | None) -> Figure:
    """Packs like those on hand that would meet the need without a starter."""
    found = supply.packs_instead(session, need_b)
    if found is None:
        return Figure(None, "money", Reason("no number of packs like those on hand can be told", STORAGE))
    _, more = found
    price, what = session.supplies.pack_price, f"{more} {'packs' if more > 1 else 'pack'} more, no starter"
    if price is None:
        return Figure(None, "money", Reason(f"{what}; needs a price: pack_price in [supplies]", ASKED))
    return Figure(
        more * price,
        "money",
        Reason(f"{what}: {more} × {price:g} = {more * price:.2f}", STORAGE, "packs as old as those on hand"),
    )
