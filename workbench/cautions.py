"""The usual cautions, in plain words. They defer to local codes, the makers' instructions and licensed practice."""

from __future__ import annotations

__all__ = ["CAUTIONS", "JAR"]

CAUTIONS = (
    "Boiling wort scalds in seconds and foams without warning: stay with it from the start, and keep children away.",
    "Stir bar, powder and drops go in cold: hot wort erupts. Loose foil; never a solid stopper, hot or fermenting.",
    "Only sound borosilicate glass goes from heat to cold, rested first, and on a flame only if its maker allows it.",
    "Lift a full flask with a dry hand under it, never by the neck alone. Wet hands keep off mains and stir plate.",
    "Gas burners make carbon monoxide: follow the maker and local codes, never in a closed room or garage.",
    "Working yeast is never sealed in. Jarred wort without pressure canning is a botulism hazard: make it fresh.",
    "Antifoam as its label says, no more. Where these differ from the maker, local codes or a professional, they win.",
)

JAR = "vented, labelled with the day, in the fridge; never sealed while it works"
"""For a jar of kept yeast, beside its figures."""
