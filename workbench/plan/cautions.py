"""The usual cautions, each at the task it belongs to and only where it applies; worst harm first.

They defer to local codes, the makers' instructions and licensed practice.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.brewing import carbonation
from workbench.plan import settle
from workbench.plan.model import Caution
from workbench.plan.sources import (
    BALLING_GAS,
    BOTULISM,
    CARBON_MONOXIDE,
    GLASS_CARE,
    SCALDS,
    SILICONE,
    SOFT_GLASS,
    TRADE,
)

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from workbench.plan.model import Moment, StepPlan
    from workbench.session.model import Session

__all__ = ["beside", "cautions", "told_once"]

_SCALDS = Caution(
    "scald", "Hot wort scalds in seconds: at 60 °C in 5 or 6, at 65 °C in 2. Keep children and pets away.", SCALDS
)
_BURN = Caution(
    "burn", "A burn goes under cool running water at once, for long; never ice. Then a doctor, if in doubt.", TRADE
)
_TIRED = Caution("tired", "Do not boil when tired: it wants eyes on it from the start to the last foam.", TRADE)
_GAS = Caution(
    "gas", "No gas burner in a closed room or garage: carbon monoxide has no smell. Have an alarm.", CARBON_MONOXIDE
)
_FLAME_OUT = Caution(
    "flame-out",
    "A boil-over puts the flame out while gas flows on: shut the valve, air the room, then light it.",
    TRADE,
)
_ALCOHOL = Caution("alcohol", "Sanitiser with alcohol stays away from the burner until it has dried off.", TRADE)
_BARE_FLAME = Caution(
    "bare-flame",
    "Glass on a bare flame or coil only if its maker allows it; else a plate larger than its base.",
    GLASS_CARE,
)
_COLD_IN = Caution("cold-in", "Powder, drops and stir bar go in cold: dropped into hot wort they make it erupt.", TRADE)
_LABEL = Caution(
    "label", "Antifoam as its label says, no more than is needed: food law and its maker come first.", SILICONE
)
_FOIL = Caution("foil", "Loose foil over the mouth; never a solid stopper at the boil or while it cools.", TRADE)
_SHOCK = Caution(
    "shock",
    "Only sound borosilicate glass, rested first, goes from heat to ice; never thick, scratched or soda-lime glass.",
    SOFT_GLASS,
)
_POUR = Caution(
    "pour", "Cool it in the pot: boiling wort cracks a cold flask, and yeast dies in wort too hot for a hand.", TRADE
)
_SHARDS = Caution(
    "shards", "If glass breaks in the ice bath, empty it without reaching in: shards cannot be seen.", TRADE
)
_LIFT = Caution("lift", "Lift a full flask with a dry hand under its base, never by the neck alone.", TRADE)
_MAINS = Caution(
    "mains", "Dry hands at the mains and the stir plate, and a loop in the cable so that drips fall off.", TRADE
)
_JAR = Caution(
    "jar", "Kept jars are vented, labelled with the day, and cold; never sealed while the yeast works.", TRADE
)
_CANNING = Caution(
    "canning",
    "Wort, above pH 4.6, sealed in a jar is a botulism hazard but for tested pressure canning: make it fresh.",
    BOTULISM,
)
_GOVERNS = Caution("governs", "Where these differ from the makers or local codes, or a professional, those win.", TRADE)


def beside(moments: Sequence[Moment], session: Session, steps: Sequence[StepPlan]) -> tuple[Moment, ...]:
    """The tasks, each with its cautions."""
    grams = [0.0, *(step.extract_g.value or 0.0 for step in steps)]
    return tuple(
        moment._replace(cautions=cautions(session, moment.name, max(0, moment.step - 1), grams[moment.step]))
        for moment in moments
    )


def told_once(moments: Iterable[Moment]) -> tuple[str, ...]:
    """The cautions of some tasks, each told once; that others govern comes last."""
    told = {caution.code: caution.says for task in moments for caution in task.cautions}
    last = told.pop(_GOVERNS.code, None)
    return (*told.values(), *([] if last is None else [last]))


def cautions(session: Session, task: str, index: int, extract_g: float) -> tuple[Caution, ...]:
    """What to take care of at a task of feeding `index` (from 0), of which `extract_g` of extract ferments."""
    found = tuple(_AT[task](session, index, extract_g)) if task in _AT else ()
    return (*found, _GOVERNS) if found else ()


def _clean(_session: Session, _index: int, _extract_g: float) -> Iterator[Caution]:
    yield _ALCOHOL


def _dissolve(session: Session, _index: int, _extract_g: float) -> Iterator[Caution]:
    yield _COLD_IN
    if settle.foam_control(session):
        yield _LABEL


def _boil(session: Session, index: int, _extract_g: float) -> Iterator[Caution]:
    yield from (_SCALDS, _BURN, _GAS, _FLAME_OUT)
    if _in_flask(session, index):
        yield from (_BARE_FLAME, _FOIL)
    yield from (_ALCOHOL, _TIRED)


def _off(session: Session, index: int, _extract_g: float) -> Iterator[Caution]:
    yield from (_SCALDS, _BURN)
    if _in_flask(session, index):
        yield from (_FOIL, _LIFT)


def _cool(session: Session, index: int, _extract_g: float) -> Iterator[Caution]:
    if _in_flask(session, index):
        yield from (_SHOCK, _SHARDS, _FOIL, _LIFT)
    else:
        yield from (_POUR, _SCALDS)


def _pitch(session: Session, index: int, extract_g: float) -> Iterator[Caution]:
    if settle.is_shelf(session):
        yield from _keep(session, index, extract_g)


def _start(_session: Session, _index: int, extract_g: float) -> Iterator[Caution]:
    if extract_g > 0.0:
        litres = carbonation.co2_l(extract_g)
        says = f"Never seal working yeast: it gives off some {litres:.0f} L of gas here. Loose foil or a vented cover."
        yield Caution("sealed", says, BALLING_GAS)


def _move(session: Session, index: int, _extract_g: float) -> Iterator[Caution]:
    yield _LIFT
    if settle.asked(session, index).motion == "stirred":
        yield _MAINS


def _keep(_session: Session, _index: int, _extract_g: float) -> Iterator[Caution]:
    yield from (_JAR, _CANNING)


def _in_flask(session: Session, index: int) -> bool:
    return settle.asked(session, index).boil_in == "flask"


_AT = {
    "clean": _clean,
    "weigh": _dissolve,
    "dissolve": _dissolve,
    "boil": _boil,
    "off": _off,
    "cool": _cool,
    "start": _start,
    "move": _move,
    "chill": _start,
    "keep": _keep,
    "pitch": _pitch,
}
"""By the name of a task: what may hurt there."""
