"""What powder and packs cost, in the brewer's own money."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.plan.model import Figure, Reason
from workbench.plan.sources import ASKED

if TYPE_CHECKING:
    from workbench.plan.model import Plan

__all__ = ["cost", "powder_g"]


def powder_g(plan: Plan) -> float:
    """Of all feedings."""
    return sum(step.powder_g.value or 0.0 for step in plan.steps)


def cost(plan: Plan) -> Figure:
    """Powder of all feedings and packs of all lots; None where no price is given for what is used."""
    prices = plan.session.supplies
    packs = sum(lot.packs for lot in plan.session.yeast if lot.kind in ("pack", "dry"))
    parts = [
        (powder_g(plan) / 1000.0, "kg", prices.powder_price),
        (float(packs), "packs" if packs != 1 else "pack", prices.pack_price),
    ]
    priced = [(amount, unit, price) for amount, unit, price in parts if price is not None]
    if not priced:
        return Figure(None, "money", Reason("needs a price: powder_price, pack_price in [supplies]", ASKED))
    says = " + ".join(f"{amount:.3g} {unit} × {price:g}" for amount, unit, price in priced)
    total = sum(amount * price for amount, _, price in priced)
    return Figure(total, "money", Reason(f"{says} = {total:.2f}", ASKED))
