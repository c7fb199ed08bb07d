"""Gravity, wort, powder, water: the two typed last stand, the other two follow."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from workbench.errors import EditRefused, QuantityError, WortError
from workbench.plan.solver import solve_feeding
from workbench.session.edits import SetValue, Several
from workbench.units.kinds import GRAVITY, MASS, VOLUME
from workbench.units.number import quote
from workbench.units.parse import parse, parse_typed_gravity
from workbench.units.show import write

if TYPE_CHECKING:
    from workbench.plan.solver import Term
    from workbench.screens.desk import Desk
    from workbench.session.edits import Edit
    from workbench.units.kinds import Kind

__all__ = ["MEANS", "is_solved", "note_typed", "partner", "solved"]

MEANS = {
    "powder": "powder to weigh, or 100 g/L; the term typed before it stands, the others follow",
    "water": "water to begin with; the term typed before it stands, the others follow",
}
_PER_LITRE = re.compile(r"\s*(.*\S)\s*/\s*(?:l|litre|liter)\s*", re.IGNORECASE)
_KINDS: dict[Term, tuple[Kind, str]] = {"powder": (MASS, "g"), "water": (VOLUME, "L"), "wort": (VOLUME, "L")}
_FROM_THE_FILE: tuple[Term, Term] = ("wort", "gravity")  # what stands before anything was typed here


def note_typed(desk: Desk, index: int, term: Term) -> None:
    """Remember that `term` of feeding `index` was typed last."""
    desk.typed_terms[index] = (partner(desk, index, term), term)


def partner(desk: Desk, index: int, term: Term) -> Term:
    """The term that stands beside `term`: of the others the one typed last."""
    earlier, last = desk.typed_terms.get(index, _FROM_THE_FILE)
    return earlier if last == term else last


def is_solved(desk: Desk, index: int, term: Term) -> bool:
    """Whether typing `term` is a case for the solver; gravity and wort together the file keeps as they are typed."""
    return {term, partner(desk, index, term)} != {"gravity", "wort"}


def solved(desk: Desk, index: int, term: Term, text: str, unit: str) -> Edit:
    """The edit that gives feeding `index` the typed term; a number alone is in `unit`.

    Raises QuantityError, or EditRefused where no wort does.
    """
    stands = partner(desk, index, term)
    kind, usual = _KINDS.get(term, (GRAVITY, "SG"))
    dose = _PER_LITRE.fullmatch(text) if term == "powder" else None
    if dose is not None:  # of as much wort as there is
        stands = "wort"
        value = parse(dose[1], MASS, bare="g") * _now(desk, index, stands)
    else:
        value = parse_typed_gravity(text) if kind is GRAVITY else parse(text, kind, bare=unit or usual)
    if value <= 0.0:  # told of what was typed, not of the wort that would come of it
        least = "1.000" if kind is GRAVITY else "0"
        raise QuantityError(f"{quote(text)} is out of range", f"write more than {least}")
    try:
        balance = solve_feeding(desk.plan.session, index, {term: value, stands: _now(desk, index, stands)})
    except WortError as error:
        raise EditRefused(str(error)) from None
    return Several(
        (
            SetValue(f"step.{index}.gravity", f"{_sg(balance.gravity_w):.5f}"),
            SetValue(f"step.{index}.wort", write(round(balance.wort_l, 4), VOLUME)),
        )
    )


def _now(desk: Desk, index: int, term: Term) -> float:
    """What the plan has for a term."""
    step = desk.plan.steps[index]
    figure = {"powder": step.powder_g, "water": step.water_l, "wort": step.wort_l}.get(term)
    value = step.planned_w if figure is None else figure.value
    if value is None:
        raise EditRefused(f"the {term} is not known yet: type that first")
    return value


def _sg(w: float) -> float:
    return float(write(w, GRAVITY))
